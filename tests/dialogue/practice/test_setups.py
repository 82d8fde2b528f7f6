"""Every case can be reached from wherever the cube is, and the cube is then in that case."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from coach.cube import Cube, inverse, join
from coach.cube.last_layer_plan import as_held
from coach.dialogue.practice.lower_routes import next_move, pieces_until, routes, rule_of
from coach.dialogue.practice.setups import Setups, setups
from coach.dialogue.practice.top_routes import NEVER, TopRoutes
from coach.method import Case, PlacingStep, PlannedStep, Step, cases_of, default_method, mirrored_method
from coach.method.last_layer import all_states, lower_layers_whole
from coach.simulation.cubes import scrambled

METHOD = default_method()
SETUPS = Setups(METHOD)
TOP = [(step, case) for step in METHOD.top_steps for case in step.cases if case.sequence]
LOWER = [step for step in METHOD.steps if isinstance(step, PlacingStep | PlannedStep)]
MEAN = {"top-cross": 7, "top-face": 12, "top-corners": 25, "top-edges": 29}
"""The turns that it takes on average over all states, rounded up."""


def case_of(cube: Cube) -> tuple[str, str]:
    """The step and the case that a learner sees on a cube whose lower layers are whole."""
    step = next(step for step in METHOD.top_steps if not step.done(cube.faces))
    return step.id, step.case_of(cube.faces).id


@pytest.mark.parametrize("step, case", TOP, ids=[f"{step.id}-{case.id}" for step, case in TOP])
def test_every_case_on_top_is_reached_from_every_state_of_the_last_layer(step: Step, case: Case) -> None:
    counts = SETUPS.top.counts(step, case)
    assert len(counts) == 62_208
    assert counts.max() <= 40 < NEVER
    assert counts.mean() <= MEAN[step.id]


@pytest.mark.parametrize("step, case", TOP, ids=[f"{step.id}-{case.id}" for step, case in TOP])
def test_the_turns_lead_into_the_case_with_the_lower_layers_whole(step: Step, case: Case) -> None:
    for cube in Random(case.id).sample([*all_states()], 60):
        turns = SETUPS.turns(cube, step.id, case)
        assert turns is not None
        there = cube.do(turns)
        assert lower_layers_whole(there) and case_of(there) == (step.id, case.id)
        assert len(turns) == SETUPS.top.counts(step, case)[number(cube)]


@pytest.mark.parametrize("step, case", TOP, ids=[f"{step.id}-{case.id}" for step, case in TOP])
def test_the_answer_is_never_to_take_back_the_sequence_just_called(step: Step, case: Case) -> None:
    for cube in (Cube(), *Random(case.id).sample([*all_states()], 60)):
        turns = SETUPS.turns(cube, step.id, case)
        assert turns is not None
        back = inverse(turns[-len(case.sequence) :])
        assert back != case.sequence or not case.hold.holds(cube.do(turns).faces)


def number(cube: Cube) -> int:
    stickers = np.frombuffer(cube.stickers, np.uint8)
    return int(np.flatnonzero((SETUPS.top._states == stickers).all(axis=1))[0])


@pytest.mark.parametrize("step", LOWER, ids=[step.id for step in LOWER])
@pytest.mark.parametrize("method", [METHOD, mirrored_method(METHOD)], ids=["right", "left"])
def test_every_lower_case_is_reached_in_few_turns_with_one_piece_to_place(method, step) -> None:  # type: ignore[no-untyped-def]
    step = method.step(step.id)
    found = routes(method, step)
    assert found.keys() == {case.id for case in cases_of(step)}
    for case_id, turns in found.items():
        held = as_held(Cube().do(turns))
        there = next_move(method, step, held)
        assert there and there[1].case.id == case_id
        assert len(turns) <= 15
        assert join((*turns, *there[1].turns)) != ()


@pytest.mark.parametrize("step", LOWER, ids=[step.id for step in LOWER])
def test_a_lower_case_is_reached_from_any_cube(step: PlacingStep | PlannedStep) -> None:
    random = Random(step.id)
    for _ in range(4):
        cube = scrambled(random)
        for case in cases_of(step):
            turns = SETUPS.turns(cube, step.id, case)
            assert turns is not None
            there = next_move(METHOD, step, as_held(cube.do(turns)))
            assert there and there[1].case.id == case.id
            cube = cube.do(turns)
            assert SETUPS.offers(cube, step.id, case)
            piece, move = next_move(METHOD, step, as_held(cube)) or pytest.fail("not in the case")
            after = as_held(cube.do(move.turns))
            pieces = set(pieces_until(METHOD, step)) - ({piece} if move.case.takes_out else set())
            assert all(after.piece_at(each) == each for each in pieces) or move.case.takes_out


def test_a_case_on_top_is_reached_from_any_cube() -> None:
    cube = scrambled(Random(5))
    step, case = TOP[-1]
    turns = SETUPS.turns(cube, step.id, case)
    assert turns is not None
    assert case_of(as_held(cube.do(turns))) == (step.id, case.id)


def test_a_case_that_the_cube_offers_takes_no_turn() -> None:
    cube = Cube().do("F R U R' U' F'")
    step_id, case_id = case_of(cube)
    step = METHOD.step(step_id)
    case = next(case for case in cases_of(step) if case.id == case_id)
    assert SETUPS.turns(cube, step_id, case) == ()


def test_the_left_hand_has_its_own_ways() -> None:
    left = mirrored_method(METHOD)
    top = TopRoutes(left)
    for step in left.top_steps:
        for case in step.cases:
            if case.sequence:
                assert top.counts(step, case).max() < NEVER
                turns = top.turns(Cube(), step, case)
                assert turns and step.case_of(Cube().do(turns).faces) == case


def test_the_rule_of_each_lower_step_places_its_pieces() -> None:
    assert [rule_of(step).slot for step in LOWER] == ["DF", "DFR", "FR"]


def test_sessions_with_the_same_method_share_their_tables() -> None:
    left = mirrored_method(METHOD)
    assert setups(METHOD) is setups(METHOD)
    assert setups(left).method == left
    assert setups(METHOD).method == METHOD
