"""The level of help fades with success and comes back with failure, one level at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from hypothesis import given

from coach.learning.exercise import Exercise, Item, Result
from coach.learning.levels import after, level, level_of, levels
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


SEQUENCES = {("top-cross", "line"): "short", ("top-cross", "dot"): "long", ("top-cross", "corner"): "long"}
LINE, DOT, CORNER = (Item("top-cross", case, "do", "layers") for case in ("line", "dot", "corner"))


def done_with(item: Item, *helps: int, result: Result = "unaided") -> list[Exercise]:
    return [tried(0, help, result, item) for help in helps]


def test_a_known_sequence_in_a_new_case_begins_with_one_level_more_but_the_hold_is_told() -> None:
    def new(*helps: int) -> int:
        return level_of(CORNER, done_with(DOT, *helps), SEQUENCES)

    assert [new(), new(4), new(4, 3), new(4, 3, 2), new(4, 3, 2, 1)] == [4, 4, 3, 2, 2]
    assert level_of(LINE, done_with(DOT, 4, 3, 2, 1), SEQUENCES) == 4
    assert level_of(replace(CORNER, kind="recite"), done_with(DOT, 4, 3, 2, 1), SEQUENCES) == 4
    assert level_of(replace(CORNER, method="another"), done_with(DOT, 4, 3, 2, 1), SEQUENCES) == 4


def test_where_a_case_began_does_not_change_later() -> None:
    begun = [*done_with(DOT, 4, 3, 2, 1), *done_with(CORNER, 2)]
    assert level_of(CORNER, begun, SEQUENCES) == 1
    assert level_of(CORNER, [*begun, *done_with(DOT, 1, 2, 3, 4, result="failed")], SEQUENCES) == 1


@given(exercises())
def test_whatever_was_tried_a_level_is_from_4_to_0(done: Sequence[Exercise]) -> None:
    everything = {(each.item.step, each.item.case): "the same" for each in done}
    for item in {each.item for each in done}:
        assert 0 <= level_of(item, done, everything) <= 4
        assert level_of(item, done, {}) == level([each for each in done if each.item == item])
