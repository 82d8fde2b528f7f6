"""In the midst of a long run few stickers tell who has gone wrong, and lead the others back into its hold."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest

from coach.belief.classroom.halfway import Halfway, stops
from coach.belief.classroom.mishaps import Aftermath
from coach.belief.classroom.sights import FEW, Sights
from coach.belief.classroom.trouble import Ask, Trouble
from coach.cube import Claim, Cube, Turn, claim_holds
from coach.method import TURNS_ABOUT_UP, default_method, other_hand
from coach.method.last_layer import all_states
from coach.method.sequences import NamedSequence
from coach.method.unison import unison

METHODS = (default_method(), other_hand(default_method()))
SEQUENCES = [
    named for method in METHODS for named in dict.fromkeys(
        case.named for step in method.top_steps for case in step.cases if case.named)
]  # fmt: skip
TOPS = tuple(all_states())[::97]


def stops_in(sequence: NamedSequence, most: int = 2) -> tuple[Halfway, ...]:
    return stops(tuple(group.turns for group in sequence.groups), most)


def sees(cube: Cube, claim: Claim, colours: dict[str, str]) -> bool:
    return claim_holds("".join(colours.get(letter, letter) for letter in cube.faces), claim)


@pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: sequence.id)
def test_the_stops_of_a_run_follow_each_other_and_divide_it(sequence: NamedSequence) -> None:
    two = stops_in(sequence)
    done = 0
    for half in two:
        assert half.begun == sequence.turns[:done] and half.turns == sequence.turns[done : half.done]
        done = half.done
    assert done < len(sequence.turns)
    assert len(two) == (2 if len(sequence.turns) > 10 else 1)
    assert len(stops_in(sequence, 1)) == 1 and not stops_in(sequence, 0)


@pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: sequence.id)
def test_who_is_well_finds_back_into_the_hold_and_who_rests_does_not_see_it(sequence: NamedSequence) -> None:
    for half in stops_in(sequence):
        sight = half.sight
        assert len([place for place, _ in sight.claim if place[1] != "4"]) <= FEW
        for state in TOPS:
            for front, order in zip(TURNS_ABOUT_UP, permutations("FRBL"), strict=False):
                colours = dict(zip("FRBL", order, strict=True))
                rests, well = state.do(front), state.do(sequence.turns[: half.done]).do(front)
                assert not any(sees(rests, claim, colours) for claim in sight.now)
                way = [turn for claim, turn in sight.ways if sees(well, claim, colours)][:1]
                assert sees(well.do(way), sight.claim, colours)
                assert well.do(way).centres == Cube().centres


@pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: sequence.id)
def test_most_wrong_turns_before_a_stop_show_there(sequence: NamedSequence) -> None:
    for half in stops_in(sequence):
        mishaps = half.aftermath.mishaps
        shown = sum(
            mishap.weight for mishap in mishaps
            if not any(claim_holds(mishap.done.do(front).faces, half.sight.claim) for front in TURNS_ABOUT_UP)
        )  # fmt: skip
        assert shown > 0.85 * sum(mishap.weight for mishap in mishaps)


@pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: sequence.id)
def test_who_rests_raises_no_hand_for_what_is_asked_in_the_midst_of_a_run(sequence: NamedSequence) -> None:
    for half in stops_in(sequence):
        sights = Sights(half.aftermath, free=True)
        for claim in sights.claims[::17]:
            sight = sights.sight(claim)
            assert not any(claim_holds(TOPS[0].do(front).faces, sight.claim) for front in TURNS_ABOUT_UP)
        action = Trouble.of(half.aftermath, 9, 1).next
        assert isinstance(action, Ask)


@pytest.mark.parametrize("sequence", SEQUENCES, ids=lambda sequence: sequence.id)
def test_after_the_last_stop_only_the_rest_of_the_run_may_have_gone_wrong(sequence: NamedSequence) -> None:
    last, step = stops_in(sequence)[-1], next(
        (method, step) for method in METHODS for step in method.top_steps
        if any(case.named == sequence for case in step.cases))  # fmt: skip
    begun, rest = sequence.turns[: last.done], sequence.turns[last.done :]
    whole, part = (Aftermath.of_unlike(unison(*step), turns, before)
                   for turns, before in ((sequence.turns, ()), (rest, begun)))  # fmt: skip
    assert part.intact == whole.intact
    assert len(part.mishaps) < len(whole.mishaps)
    for at in range(len(rest)):
        done = Cube().do((*begun, *rest[:at], *rest[at + 1 :])).upright
        assert any(mishap.done == done for mishap in part.mishaps) or part.pattern(done) == part.pattern(part.intact)


def test_who_stopped_at_a_wrong_turn_is_thought_of_and_put_right() -> None:
    turns = next(sequence for sequence in SEQUENCES if len(sequence.turns) == 14).turns[:7]
    done = Cube().do((*turns[:4], Turn("F"))).upright
    after = replace(Aftermath.of_part(turns), stopped=(5,))
    assert all(mishap.done != done for mishap in Aftermath.of_part(turns).mishaps)
    number = next(number for number, mishap in enumerate(after.mishaps) if mishap.done == done)
    repair = after.repair(number, 12)
    assert repair and done.do(repair.turns).upright == after.intact
