"""A try at a sequence counts once the next check has passed: what one check says may have been misheard."""

from __future__ import annotations

import pytest

from coach.belief.slips.hindsight import Hindsight
from coach.cube import parse
from coach.dialogue.attempts import Attempts, Try
from coach.learning.learned import Learned

TURNS, OTHERS = parse("R U R' U'"), parse("F U F'")


def attempts() -> Attempts:
    return Attempts(Learned("method", fades=True))


def tried(attempts: Attempts, case: str = "one", slip: bool = False, run: int = 1) -> Try:
    """A try in run number `run` that has ended, in which a slip was found or not."""
    attempts.now = now = Try("step", case, TURNS if case == "one" else OTHERS, 1, run=run)
    if slip:
        assert not [*attempts.slipped(run, 1, earlier=False, sure=True)]
    assert not [*attempts.ended(now, clear=not slip)]
    return now


def test_a_failure_counts_once_the_next_check_has_passed() -> None:
    some = attempts()
    tried(some, slip=True)
    assert some.open and not some.learned.exercises
    tried(some, "two", run=2)
    assert [each.result for each in some.confirmed(but_now=True)] == ["failed"]
    assert [each.item.case for each in some.learned.exercises] == ["one"]


def test_a_failure_counts_for_nothing_if_the_next_check_finds_something_wrong_before() -> None:
    some = attempts()
    tried(some, slip=True)
    tried(some, "two", run=2)
    found = [*some.slipped(1, 2, earlier=True, sure=True), *some.confirmed()]
    assert [(each.case, each.result) for each in found] == [("one", "unclear"), ("two", "unclear")]


def test_a_failure_still_counts_after_a_slip_of_the_present_run() -> None:
    some = attempts()
    tried(some, slip=True)
    tried(some, "two", slip=True, run=2)
    assert [(each.case, each.result) for each in some.confirmed(but_now=True)] == [("one", "failed")]
    assert [(each.case, each.result) for each in some.confirmed()] == [("two", "failed")]


def test_a_success_found_to_be_none_waits_for_another_check() -> None:
    some = attempts()
    tried(some)
    assert not [*some.slipped(1, 2, earlier=True, sure=True)]
    assert [each.result for each in some.confirmed()] == ["failed"]
    tried(some)
    assert not [*some.slipped(1, 2, earlier=True, sure=False)]
    assert [each.result for each in some.confirmed()] == ["unclear"], "unless what was said since tells"


@pytest.mark.parametrize("run, at", [(1, 0), (2, len(TURNS))], ids=["long before", "after the run before"])
def test_what_was_done_after_a_slip_counts_for_nothing(run: int, at: int) -> None:
    some = attempts()
    tried(some, run=2)
    tried(some, "two", run=3)
    assert not [*some.slipped(run, at, earlier=True, sure=True)]
    found = {each.case: each.result for each in some.confirmed()}
    assert found == {"one": "unclear" if run == 1 else "unaided", "two": "unclear"}


@pytest.mark.parametrize(("chance", "result"), [(0.0, "unaided"), (0.5, "unclear"), (0.99, "failed")])
@pytest.mark.parametrize("help", (1, 3))
def test_a_check_after_a_slip_tells_by_all_that_was_said_how_a_try_in_doubt_ended(
    help: int, chance: float, result: str
) -> None:
    some = attempts()
    tried(some).help = help
    tried(some, "two", run=2).help = help
    assert not [*some.slipped(1, 2, earlier=True, sure=False)]
    some.rethink = lambda: Hindsight({1: chance}, 1, 2, {1: chance})
    after = "unaided" if help > 2 or not chance else "unclear"
    assert [each.result for each in some.confirmed()] == [result, after]


def test_what_two_slips_found_one_after_the_other_leave_in_doubt_counts_for_nothing() -> None:
    some = attempts()
    tried(some)
    assert not [*some.explained()]
    assert not [*some.slipped(1, 2, earlier=True, sure=False)]
    assert [each.result for each in some.explained()] == ["unclear"]


def test_a_success_waits_while_a_slip_in_it_may_have_gone_unseen() -> None:
    some = attempts()
    tried(some)
    tried(some, "two", run=2)
    assert not [*some.confirmed(but_now=True, doubts={1: 0.1, 2: 0.0})]
    assert [each.case for each in some.confirmed(but_now=True, doubts={1: 0.001})] == ["one"]


def test_a_success_with_help_waits_for_the_next_check_too() -> None:
    some = attempts()
    some.now = now = Try("step", "one", TURNS, 1, helped=True)
    assert not [*some.ended(now)] and some.open
    assert [each.result for each in some.confirmed()] == ["helped"]


def test_who_leaves_before_the_next_check_has_succeeded_but_not_failed() -> None:
    some = attempts()
    tried(some)
    tried(some, "two", slip=True, run=2)
    assert [each.result for each in some.left()] == ["unaided", "unclear"]
    assert not some.open


def test_what_is_hoped_for_has_the_failure_already() -> None:
    some = attempts()
    tried(some, slip=True)
    assert [each.result for each in some.hoped.exercises] == ["failed"]


def read_after(some: Attempts, wrong: dict[int, float]) -> list[str]:
    return [each.result for each in some.looked_back(Hindsight(wrong, 1, 3, wrong))]


def test_a_cube_that_is_as_it_should_be_confirms_all_that_waits() -> None:
    some = attempts()
    tried(some)
    tried(some, "two", slip=True, run=2)
    assert read_after(some, {}) == ["unaided", "failed"]


def test_a_cube_that_shows_which_run_went_wrong_confirms_those_before_and_none_after() -> None:
    some = attempts()
    for run in (1, 2, 3):
        tried(some, run=run)
    assert read_after(some, {2: 0.99}) == ["unaided", "failed", "unclear"]


def test_a_run_that_may_or_may_not_have_gone_wrong_counts_for_nothing() -> None:
    some = attempts()
    tried(some)
    assert read_after(some, {1: 0.5}) == ["unclear"]


@pytest.mark.parametrize(("whole", "wrong", "result"), [(True, 0.0, "unaided"), (True, 1.0, "failed"),
                                                        (False, 0.0, "unclear"), (False, 1.0, "failed")])  # fmt: skip
def test_a_try_in_which_the_cube_had_to_be_read_waits_for_what_it_tells(whole: bool, wrong: float, result: str) -> None:
    some = attempts()
    assert not [*some.broken_off(Try("step", "one", TURNS, 1, run=1), whole)]
    assert read_after(some, {1: wrong}) == [result]


def test_who_leaves_instead_of_reading_the_cube_has_not_succeeded() -> None:
    some = attempts()
    assert not [*some.broken_off(Try("step", "one", TURNS, 1, run=1), whole=True)]
    assert [each.result for each in some.left()] == ["unclear"]


def test_a_cube_that_nothing_explains_tells_nothing() -> None:
    some = attempts()
    tried(some)
    assert [each.result for each in some.looked_back(None)] == ["unclear"]


def test_a_turn_of_the_top_besides_may_be_no_failure() -> None:
    some = attempts()
    tried(some)
    assert [each.result for each in some.looked_back(Hindsight({1: 1.0}, 1, 3))] == ["unclear"]


@pytest.mark.parametrize(("chance", "found"), [(0.0, ["unaided"]), (0.5, []), (0.99, ["failed"])])
def test_a_try_in_doubt_ends_at_its_own_check_if_all_that_was_said_decides(chance: float, found: list[str]) -> None:
    some = attempts()
    some.rethink = lambda: Hindsight({1: chance}, 1, 1, {1: chance})
    some.now = now = Try("step", "one", TURNS, 1, run=1)
    assert not [*some.slipped(1, 2, earlier=False, sure=False)]
    assert [each.result for each in some.ended(now)] == found
    assert some.open == (not found)
