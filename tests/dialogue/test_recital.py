"""A recital is followed turn by turn: what is right is never called wrong, and no single slip goes unnoticed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from coach.cube import FACE_TURNS, Turn, parse
from coach.dialogue.recital import Followed, Recital
from coach.method import NamedSequence, default_method, mirrored_method

SEQUENCES = [*default_method().sequences, *mirrored_method(default_method()).sequences]
EVERY = pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: str(sequence))
Turns = tuple[Turn, ...]
Breaths = list[Turns]


def grouped(sequence: NamedSequence) -> Breaths:
    return [group.turns for group in sequence.groups]


def of_size(turns: Sequence[Turn], size: int) -> Breaths:
    """The turns in breaths of that many."""
    return [tuple(turns[at : at + size]) for at in range(0, len(turns), size)]


def recited(groups: Breaths, breaths: Breaths) -> tuple[Recital, list[Followed]]:
    """What a learner is told who says these breaths and then no more; told something once, they stop."""
    recital, told = Recital(groups), []
    for breath in breaths:
        told.append(recital.hear(breath))
        if told[-1].verdict in ("wrong", "complete"):
            return recital, told
    return recital, [*told, recital.give_up_group()]


def slips(turns: Turns) -> Iterator[tuple[str, Turns]]:
    """The turns with any single slip: left out, said twice, the other way, another turn, or two swapped."""
    for at, turn in enumerate(turns):
        before, behind = turns[:at], turns[at + 1 :]
        yield f"{turn} left out at {at}", before + behind
        yield f"{turn} said twice at {at}", (*before, turn, turn, *behind)
        yield from ((f"{other} for {turn} at {at}", (*before, other, *behind)) for other in FACE_TURNS if other != turn)
        if behind and behind[0] != turn:
            yield f"{turn} and {behind[0]} swapped at {at}", (*before, behind[0], turn, *behind[1:])


@EVERY
@pytest.mark.parametrize("size", [1, 2, 3, 20])
def test_who_says_it_right_hears_nothing_until_it_is_complete(sequence: NamedSequence, size: int) -> None:
    recital, told = recited(grouped(sequence), of_size(sequence.turns, size))
    assert [each.verdict for each in told] == ["right"] * (len(told) - 1) + ["complete"]
    assert recital.mistakes == 0


def incomplete(turns: Turns, sequence: NamedSequence) -> bool:
    """Whether it is right but for the last turn, which only the pause after it shows."""
    return turns == sequence.turns[:-1]


@EVERY
def test_every_single_slip_in_one_breath_is_noticed(sequence: NamedSequence) -> None:
    for slip, turns in slips(sequence.turns):
        recital, told = recited(grouped(sequence), [turns])
        if not incomplete(turns, sequence):
            assert (told[-1].verdict, recital.mistakes) == ("wrong", 1), slip
        assert told[-1].verdict != "complete"


@EVERY
@pytest.mark.parametrize("size", [1, 2, 3, 4])
def test_no_slip_is_taken_for_a_right_recital_but_a_beginning_said_again(sequence: NamedSequence, size: int) -> None:
    """In a new breath the first turn of a group may be said again; nobody can tell that from a turn said twice."""
    starts = [sum(len(group) for group in grouped(sequence)[:number]) for number in range(len(sequence.groups))]
    for slip, turns in slips(sequence.turns):
        doubled = [at for at in starts if turns == (*sequence.turns[: at + 1], *sequence.turns[at:])]
        again = any(at % size == size - 1 for at in doubled)
        too_many = turns[:-1] == sequence.turns and len(sequence.turns) % size == 0  # told complete before
        _, told = recited(grouped(sequence), of_size(turns, size))
        assert (told[-1].verdict == "complete") == (again or too_many), slip
        assert told[-1].verdict in ("complete", "wrong") or incomplete(turns, sequence) or "for" in slip, slip


@EVERY
def test_a_slip_within_a_group_is_noticed_when_each_group_is_a_breath(sequence: NamedSequence) -> None:
    groups = grouped(sequence)
    for number, group in enumerate(groups):
        for slip, turns in slips(group):
            breaths = [*groups[:number], turns, *groups[number + 1 :]]
            _, told = recited(groups, breaths)
            whole = tuple(turn for breath in breaths for turn in breath)
            assert told[-1].verdict == "wrong" or incomplete(whole, sequence), (number, slip)
            assert told[-1].verdict != "complete"


@EVERY
def test_a_single_other_turn_is_told_with_what_was_right_of_the_group_before_it(sequence: NamedSequence) -> None:
    groups = grouped(sequence)
    starts = [sum(len(group) for group in groups[:number]) for number in range(len(groups))]
    for at, turn in enumerate(sequence.turns):
        other = next(each for each in FACE_TURNS if each.face not in "FRUL")
        _, told = recited(groups, [(*sequence.turns[:at], other, *sequence.turns[at + 1 :])])
        assert told[-1].comes == turn
        assert told[-1].right == sequence.turns[max(start for start in starts if start <= at) : at]


@EVERY
def test_any_group_so_far_may_be_said_again(sequence: NamedSequence) -> None:
    """In the next breath from any beginning, in the same breath if at least two turns are said again."""
    groups, turns = grouped(sequence), sequence.turns
    starts = [sum(len(group) for group in groups[:number]) for number in range(len(groups))]
    for stop in range(1, len(turns)):
        for start in (each for each in starts if each <= stop):
            recital, told = recited(groups, [turns[:stop], turns[start:]])
            assert [each.verdict for each in told] == ["right", "complete"], (start, stop)
            assert recital.mistakes == 0
            if stop - start >= 2:
                _, told = recited(groups, [turns[:stop] + turns[start:]])
                assert told[-1].verdict == "complete", (start, stop)


@EVERY
def test_a_turn_put_right_at_once_is_no_mistake(sequence: NamedSequence) -> None:
    groups = grouped(sequence)
    ends = {sum(len(group) for group in groups[: number + 1]) - 1 for number in range(len(groups))}
    for at, turn in enumerate(sequence.turns):
        if at in ends or turn.quarters == 2:  # it is told at once; and half of it may be right so far
            continue
        recital = Recital(groups)
        recital.hear((*sequence.turns[:at], turn.inverse))
        assert recital.hear(sequence.turns[at:], corrects=True).verdict == "complete"
        assert recital.mistakes == 0


WITH_TWO = [tuple(parse("R U R'")), tuple(parse("U R U2 R'"))]


def said(recital: Recital, turns: str, corrects: bool = False) -> str:
    return recital.hear(parse(turns), corrects).verdict


def test_a_half_turn_may_be_said_as_two_turns() -> None:
    for twice in ("U U", "U' U'"):
        assert said(Recital(WITH_TWO), f"R U R' U R {twice} R'") == "complete"
    for once in ("U", "U U'", "U U U"):
        _, told = recited(WITH_TWO, [parse(f"R U R' U R {once} R'")])
        assert told[-1].verdict == "wrong"


def test_half_of_a_half_turn_at_the_end_is_not_enough() -> None:
    recital = Recital([parse("R' U' R2")])
    assert said(recital, "R' U' R") == "right"
    assert recital.give_up_group().verdict == "wrong"


def test_a_mistake_is_told_at_the_end_of_its_group() -> None:
    recital = Recital(WITH_TWO)
    assert said(recital, "R U'") == "open"
    followed = recital.hear(parse("R'"))
    assert followed == Followed("wrong", 0, parse("U")[0], parse("R"))


def test_who_puts_right_a_turn_that_was_right_is_told_of_that_turn() -> None:
    recital = Recital(WITH_TWO)
    said(recital, "R U R'")
    assert recital.hear(parse("U"), corrects=True) == Followed("wrong", 0, parse("R'")[0], parse("R U"))
    assert said(recital, "R' U R U2 R'") == "complete"


def test_turns_left_out_before_others_that_are_right_are_told_as_such() -> None:
    groups = [tuple(parse(group)) for group in ("L' U2 L", "U L' U' L")]
    recital = Recital(groups)
    said(recital, "L' U2 L")
    followed = recital.hear(parse("L' U' L"))
    assert (followed.left_out, followed.further) == (parse("U"), parse("L' U' L"))
    for goes_on in ("U L' U' L", "L' U2 L U L' U' L"):
        again = Recital(groups)
        said(again, "L' U2 L")
        said(again, "L' U' L")
        assert said(again, goes_on) == "complete"


def test_who_is_told_what_they_left_out_may_go_on_after_what_they_said() -> None:
    recital = Recital([parse("R U R' U'"), parse("R' F R2 U'"), parse("R' U' R")])
    said(recital, "R U R'")
    followed = recital.hear(parse("R' F R2 U"))
    assert (followed.left_out, followed.further) == (parse("U'"), parse("R' F R2"))
    assert said(recital, "U' R' U' R") == "complete"


def test_a_turn_too_many_at_the_end_is_told_as_such() -> None:
    recital = Recital([parse("R U R'")])
    followed = recital.hear(parse("R U R' U'"))
    assert followed.verdict == "wrong"
    assert followed.comes is None


@pytest.mark.parametrize("goes_on", ["U R U2 R'", "R U2 R'", "U2 R'", "R'", "R U R' U R U2 R'"])
def test_after_a_correction_one_may_go_on_from_anywhere_near(goes_on: str) -> None:
    recital = Recital(WITH_TWO)
    assert said(recital, "R U R' U R U' R'") == "wrong"
    assert said(recital, goes_on) == "complete"
    assert recital.mistakes == 1


def test_a_hint_tells_the_rest_of_the_group_and_one_goes_on_with_it_or_after_it() -> None:
    for goes_on in ("U R'", "R' U R U2 R'", "U R U2 R'", "R U R' U R U2 R'"):
        recital = Recital(WITH_TWO)
        said(recital, "R U")
        assert recital.hint() == parse("R'")
        assert said(recital, goes_on) == ("right" if goes_on == "U R'" else "complete")
        assert recital.hints == 1


def test_nothing_said_changes_nothing() -> None:
    recital = Recital(WITH_TWO)
    assert said(recital, "") == "right"
    assert said(recital, "R U R' U R U2 R'") == "complete"
