"""The level of help fades with success and comes back with failure, one level at a time."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from hypothesis import given

from coach.learning.exercise import Exercise, Result
from coach.learning.levels import after, level, levels
from tests.learning.made import exercises, tried


def at_its_level(results: Sequence[Result]) -> list[int]:
    """The levels that a learner goes through who always gets the help that is due."""
    seen = [4]
    for result in results:
        seen.append(after(seen[-1], tried(0, seen[-1], result)))
    return seen


def test_whoever_manages_every_time_gets_less_and_less_help() -> None:
    assert at_its_level(["unaided"] * 6) == [4, 3, 2, 1, 0, 0, 0]


def test_failure_brings_one_level_back_and_never_more_than_all() -> None:
    assert at_its_level(["unaided", "unaided", "failed", "failed", "failed"]) == [4, 3, 2, 3, 4, 4]


def test_who_asks_for_help_or_is_not_understood_stays_where_they_are() -> None:
    assert at_its_level(["unaided", "helped", "unclear", "unaided"]) == [4, 3, 3, 3, 2]


def test_a_success_with_more_help_than_the_level_shows_nothing() -> None:
    assert after(1, tried(0, help=4)) == 1


def test_who_tried_with_less_help_than_the_level_loses_nothing_and_gains_one() -> None:
    assert after(3, tried(0, help=0, result="failed")) == 3
    assert after(3, tried(0, help=0)) == 2


@given(exercises())
def test_levels_are_from_4_to_0_and_change_by_one(done: Sequence[Exercise]) -> None:
    seen = list(levels(done))
    assert seen[0] == 4
    assert set(seen) <= set(range(5))
    assert all(abs(later - earlier) <= 1 for earlier, later in pairwise(seen))


@given(exercises())
def test_what_was_unclear_might_as_well_not_have_been(done: Sequence[Exercise]) -> None:
    assert level(done) == level([each for each in done if each.result != "unclear"])
