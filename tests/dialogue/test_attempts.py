"""A try at a sequence counts once the next check has passed: what one check says may have been misheard."""

from __future__ import annotations

from coach.cube import parse
from coach.dialogue.attempts import Attempts, Try
from coach.learning.learned import Learned

TURNS, OTHERS = parse("R U R' U'"), parse("F U F'")


def attempts() -> Attempts:
    return Attempts(Learned("method", fades=True))


def tried(attempts: Attempts, case: str = "one", slip: bool = False) -> Try:
    """A try that has ended, in which a slip was found or not."""
    attempts.now = now = Try("step", case, TURNS if case == "one" else OTHERS, 1)
    if slip:
        assert not [*attempts.slipped(now.turns, 1, earlier=False)]
    assert not [*attempts.ended(now, clear=not slip)]
    return now


def test_a_failure_counts_once_the_next_check_has_passed() -> None:
    some = attempts()
    tried(some, slip=True)
    assert some.open and not some.learned.exercises
    tried(some, "two")
    assert [each.result for each in some.confirmed(but_now=True)] == ["failed"]
    assert [each.item.case for each in some.learned.exercises] == ["one"]


def test_a_failure_counts_for_nothing_if_the_next_check_finds_something_wrong_before() -> None:
    some = attempts()
    tried(some, slip=True)
    tried(some, "two")
    assert [each.result for each in some.slipped(TURNS, 2, earlier=True)] == ["unclear"]
    assert [each.result for each in some.confirmed()] == ["unaided"]


def test_a_failure_still_counts_after_a_slip_of_the_present_run() -> None:
    some = attempts()
    tried(some, slip=True)
    tried(some, "two", slip=True)
    assert [(each.case, each.result) for each in some.confirmed(but_now=True)] == [("one", "failed")]
    assert [(each.case, each.result) for each in some.confirmed()] == [("two", "failed")]


def test_a_success_found_to_be_none_waits_for_another_check() -> None:
    some = attempts()
    tried(some)
    assert not [*some.slipped(TURNS, 2, earlier=True)]
    assert [each.result for each in some.confirmed()] == ["failed"]
    tried(some)
    assert [each.result for each in some.slipped(TURNS, 2, earlier=True, sure=False)] == ["unclear"]


def test_who_leaves_before_the_next_check_has_succeeded_but_not_failed() -> None:
    some = attempts()
    tried(some)
    tried(some, "two", slip=True)
    assert [each.result for each in some.left()] == ["unaided", "unclear"]
    assert not some.open


def test_what_is_hoped_for_has_the_failure_already() -> None:
    some = attempts()
    tried(some, slip=True)
    assert [each.result for each in some.hoped.exercises] == ["failed"]
