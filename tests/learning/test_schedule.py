"""When items are to be reviewed, and when they are known."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NoReturn

import fsrs.card
import fsrs.scheduler
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.learning.exercise import Exercise, Item, Result, by_item
from coach.learning.schedule import LONGEST, LONGEST_UNTIL_KNOWN, Fsrs, due, known, next_day, reviews
from tests.learning.made import DAY, LINE, SAY_LINE, exercises, later, tried

ANY = 36500
"""Days: the longest interval of fsrs itself."""
ALONE = [tried(0), tried(3), tried(7)]


def planned(done: Sequence[Exercise], schedule: Fsrs | None = None) -> int:
    """So many days after DAY is the next review."""
    review = (schedule or Fsrs()).review(done, DAY)
    assert review
    return (review.day - DAY).days


def test_intervals_are_those_that_fsrs_publishes() -> None:
    """tests/test_basic.py, test_review_card, in the source distribution of fsrs 6.3.2 on PyPI: good six times, again
    twice, good five times give the intervals below, in days. Its noughts are steps within the day, of which there are
    none here: what they lead to is done on the same day."""
    published = [0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21]
    results: list[Result] = ["unaided"] * 6 + ["failed"] * 2 + ["unaided"] * 5
    done: list[Exercise] = []
    day = 0
    for result, interval in zip(results, published, strict=True):
        done.append(tried(day, 1, result))
        if interval:
            assert planned(done, Fsrs(ANY, ANY)) == day + interval
        day += interval


def test_hours_make_no_difference_and_the_next_morning_is_another_day() -> None:
    evening, morning = tried(0, hour=23), tried(1, hour=1)
    assert planned([evening, morning]) == planned([tried(0, hour=1), tried(1, hour=23)])
    assert planned([evening, morning], Fsrs(ANY, ANY)) > planned([evening, tried(0, hour=1)], Fsrs(ANY, ANY)) + 1


def test_neither_clock_nor_chance_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> NoReturn:
        raise AssertionError("it must not be asked")

    class NoClock(datetime):
        now = refuse  # type: ignore[assignment]

    for module in (fsrs.card, fsrs.scheduler):
        monkeypatch.setattr(module, "datetime", NoClock)
    monkeypatch.setattr(fsrs.scheduler, "random", refuse)
    monkeypatch.setattr("time.sleep", refuse)
    assert planned(ALONE) > 7


def test_known_is_alone_on_three_days_over_a_week() -> None:
    assert known(ALONE)
    assert known([tried(0, help=0), tried(1, result="failed"), tried(3), tried(7, help=0)])
    assert not known([tried(0), tried(3), tried(6)]), "six days are no week"
    assert not known([tried(0), tried(0), tried(7)]), "two days"
    assert not known([tried(0), tried(3), tried(7, help=2)]), "told the first turn"
    assert not known([tried(0), tried(3), tried(7, result="helped")]), "helped"


def test_until_an_item_is_known_it_comes_every_few_days_and_is_known_after_a_week() -> None:
    done = [tried(0)]
    while not known(done):
        day = planned(done)
        assert day - (done[-1].day - DAY).days <= LONGEST_UNTIL_KNOWN
        done.append(tried(day))
    assert len(done) == 4
    assert planned(done) == (done[-1].day - DAY).days + LONGEST


@given(exercises())
def test_the_next_review_is_after_the_last_try_and_within_the_limits(done: Sequence[Exercise]) -> None:
    clear = [each for each in done if each.result != "unclear"]
    review = Fsrs().review(done, later(1000))
    assert (review is None) == (not clear)
    if review:
        gap = (review.day - clear[-1].day).days
        assert 1 <= gap <= (LONGEST if known(done) else LONGEST_UNTIL_KNOWN)
        assert 0 < review.recall <= 1
        assert review == Fsrs().review(clear, later(1000)), "what was unclear tells nothing"


@given(exercises(), st.integers(0, 20), st.integers(0, 1))
def test_failure_never_puts_a_review_off_longer_than_success(
    done: Sequence[Exercise], gap: int, help: int
) -> None:
    day = (done[-1].day - DAY).days + gap if done else gap
    failed, helped, alone = (tried(day, help, result) for result in ("failed", "helped", "unaided"))
    assert planned([*done, failed]) <= planned([*done, helped]) <= planned([*done, alone])


@given(st.lists(exercises(least=1), min_size=1, max_size=5), st.integers(0, 500))
def test_due_is_what_has_come_up_the_likeliest_to_be_forgotten_first(
    several: Sequence[Sequence[Exercise]], day: int
) -> None:
    history = {Item("top-cross", str(n), "do", "any"): done for n, done in enumerate(several)}
    plan = reviews(history, later(day), Fsrs())
    found = due(plan, later(day))
    assert set(found) == {item for item, review in plan.items() if review.day <= later(day)}
    recalls = [plan[item].recall for item in found]
    assert recalls == sorted(recalls)
    first = next_day(plan, later(day))
    assert (first == later(day)) == bool(found)
    assert set(found) <= set(due(reviews(history, later(day + 1), Fsrs()), later(day + 1))), "it stays due"


def test_saying_is_not_doing() -> None:
    history = by_item([*ALONE, tried(0, item=SAY_LINE), tried(1, 3, "unclear", SAY_LINE)])
    plan = reviews(history, later(8), Fsrs())
    assert due(plan, later(8)) == (SAY_LINE,)
    assert known(history[LINE])
    assert not known(history[SAY_LINE])


def test_nothing_is_due_where_nothing_was_practised() -> None:
    assert next_day(reviews({}, DAY, Fsrs()), DAY) is None
    assert due(reviews({}, DAY, Fsrs()), DAY + timedelta(days=9)) == ()
