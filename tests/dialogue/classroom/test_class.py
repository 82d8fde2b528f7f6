"""A class is led from the top cross to solved cubes, whatever its pupils have."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest

from coach.cube import Cube
from coach.cube.scramble import scramble
from coach.dialogue import Ask, CallTurn, TakePart
from coach.dialogue.lesson import Settings
from coach.method import default_method
from coach.method.last_layer import all_states
from tests.dialogue.classroom.pupils import a_class, hold, lesson

STATES = tuple(all_states())


def test_a_small_class_is_counted_where_that_spares_a_run() -> None:
    line = next(cube for cube in STATES if default_method().top_steps[0].case_of(cube.faces).id == "line")
    pupils = a_class([line, line], 1)
    held = hold(lesson(), pupils)
    assert all(pupil.cube.solved for pupil in pupils)
    assert any(isinstance(act, Ask) and act.query.about == "line" for act in held.acts)


def cubes(number: int, seed: int) -> list[Cube]:
    return Random(seed).sample(STATES, number)


@pytest.mark.parametrize("seed", range(3))
def test_without_slips_every_cube_is_solved(seed: int) -> None:
    pupils = a_class(cubes(25, seed), seed)
    held = hold(lesson(), pupils)
    assert all(pupil.cube.solved for pupil in pupils)
    assert held.end.outcome == "done"
    assert not any(pupil.away for pupil in pupils)
    assert held.runs("top-cross", "top-face") <= 5
    assert held.counts(until="top-corners") <= 12


@pytest.mark.parametrize("seed", range(2))
def test_who_slips_ends_solved_or_with_a_coach_of_their_own(seed: int) -> None:
    pupils = a_class(cubes(25, seed), seed, slips=0.01)
    held = hold(lesson(), pupils)
    assert held.end.outcome == "done"
    assert all(pupil.cube.solved != pupil.away for pupil in pupils)
    assert sum(pupil.away for pupil in pupils) <= 5


@pytest.mark.parametrize("seed", range(2))
def test_a_scramble_makes_all_cubes_alike_and_only_checks_are_asked(seed: int) -> None:
    pupils = a_class([Cube()] * 12, seed)
    held = hold(lesson(settings=Settings(scramble=scramble(Random(seed)))), pupils)
    assert held.end.outcome == "done"
    assert all(pupil.cube.solved for pupil in pupils)
    asked = {act.query.asks for act in held.acts if isinstance(act, Ask)}
    assert asked <= {"hands", "ready"}


@pytest.mark.parametrize("seed", range(2))
def test_after_a_scramble_who_slips_ends_solved_or_with_a_coach_of_their_own(seed: int) -> None:
    pupils = a_class([Cube()] * 10, seed, slips=0.003)
    held = hold(lesson(settings=Settings(scramble=scramble(Random(seed)))), pupils)
    assert all(pupil.cube.solved != pupil.away for pupil in pupils)
    assert held.end.outcome == "done"


def test_some_who_slip_are_helped_back_into_the_class() -> None:
    helped = 0
    for seed in range(2):
        pupils = a_class(cubes(25, seed), seed, slips=0.01)
        hold(lesson(), pupils)
        helped += sum(pupil.slipped > 0 and not pupil.away for pupil in pupils)
    assert helped >= 3


def test_between_two_runs_a_class_is_asked_for_the_whole_bottom_only() -> None:
    held = hold(lesson(), a_class(cubes(25, 1), 1))
    claims = [act.query.claim for act in held.acts if isinstance(act, Ask) and act.query.claim]
    between = [claim for claim in claims if {face for face, _, _ in claim} == {"D"}]
    assert between and all({colour for _, _, colour in claim} == {"white"} for claim in between)


def test_a_long_run_stops_on_the_way_and_goes_on_in_its_hold() -> None:
    held = hold(lesson("top-corners"), a_class(paired(12), 1))
    calls = [act for act in held.acts if isinstance(act, CallTurn) and act.step == "top-corners" and act.of == 14]
    asked = [act.query.claim for act in held.acts if isinstance(act, Ask) and act.query.claim]
    assert [act.n for act in calls[:14]] == [*range(1, 15)]
    assert any(0 < len(claim) <= 3 and claim[0].face != "D" for claim in asked)
    assert all(pupil.cube.solved for pupil in held.pupils)


def test_short_runs_stop_on_the_way_until_all_is_found_well_or_where_something_goes_wrong() -> None:
    def stops(slips: float) -> int:
        held = hold(lesson("top-face"), a_class(crossed(12), 3, slips=slips))
        acts = [act for act in held.acts if isinstance(act, CallTurn | TakePart) and act.step == "top-face"]
        begun = [then for act, then in pairwise(acts) if isinstance(act, TakePart) and isinstance(then, CallTurn)]
        return sum(act.n > 1 for act in begun)

    assert stops(0.0) == 1 < stops(0.03)


def crossed(number: int) -> list[Cube]:
    step = default_method().top_steps[1]
    return Random(7).sample([cube for cube in STATES if step.ready(cube.faces)], number)


def paired(number: int) -> list[Cube]:
    step = default_method().top_steps[2]
    return Random(7).sample([cube for cube in STATES if step.ready(cube.faces)], number)
