"""The last layer in few turns."""

import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cube import FACES, Cube, inverse, parse, solved, write
from coach.cube.distance import places
from coach.cube.last_layer_plan import LOWER, as_held, last_layer_plan
from coach.cube.search import effort
from coach.method.last_layer import all_states
from tests.cube.random_cubes import rotations, stickers_moved

TOPS = ("", "U", "U'", "U2")
STATES = tuple(all_states())

some_state = st.sampled_from(STATES)


def flat(runs):
    return tuple(turn for run in runs for turn in run)


def lower_layers_done(cube):
    return places(as_held(cube), LOWER) == places(solved(), LOWER)


def one_of_each_kind():
    """One state for all those that differ only by turns of the top before and after."""
    around = [(solved().do(before), solved().do(after)) for before, after in product(TOPS, TOPS)]
    left = dict.fromkeys(STATES)
    while left:
        state = next(iter(left))
        yield state
        for before, after in around:
            left.pop(before * state * after, None)


def test_every_state_is_solved():
    # A plan for a state makes one for each of its kind: a turn of the top before it, and one after it.
    kinds = list(one_of_each_kind())
    # The published number of last layers up to turns of the top before and after (value from memory).
    assert len(kinds) == 3916
    for state in kinds:
        assert state.do(flat(last_layer_plan(state))).solved


@settings(max_examples=50)
@given(some_state, rotations)
def test_a_plan_in_any_hold(state, rotations):
    cube = solved().do(rotations) * state
    runs = last_layer_plan(cube)
    assert cube.do(flat(runs)).solved
    assert len(runs) <= 2
    assert all(runs)
    assert {turn.face for turn in flat(runs)} <= set("URFL")
    assert {turn.face for turn in flat(runs) if turn.whole} <= {"U"}


@settings(max_examples=50)
@given(some_state)
def test_each_run_keeps_the_lower_layers_and_the_rest_costs_what_it_did(state):
    runs = last_layer_plan(state)
    for n, run in enumerate(runs):
        assert sum(map(effort, last_layer_plan(state))) == pytest.approx(sum(map(effort, runs[n:])))
        state = state.do(run)
        assert lower_layers_done(state)


# Sequences of up to ten turns: common practice, no source.
@pytest.mark.parametrize(
    "sequence",
    [
        "F U R U' R' F'",
        "R U R' U R U2 R'",
        "R U2 R' U' R U' R'",
        "L' U' L U' L' U2 L",
        "F R U R' U' R U R' U' F'",
    ],
)
def test_no_known_sequence_is_cheaper_than_the_plan(sequence):
    for rotation, top in product(("", "y", "y'", "y2"), TOPS):
        turns = parse(f"{rotation} {top} {sequence}")
        runs = last_layer_plan(solved().do(inverse(turns)))
        assert sum(map(effort, runs)) <= effort(turns) + 1e-9


def test_two_known_sequences_are_never_cheaper_than_the_plan():
    draw = random.Random(4)
    known = ["F U R U' R' F'", "R U R' U R U2 R'", "L' U' L U' L' U2 L"]
    for _ in range(50):
        one, other = draw.choices(known, k=2)
        turns = parse(f"{one} {draw.choice(TOPS)} {draw.choice(['', 'y', 'y2'])} {other} {draw.choice(TOPS)}")
        runs = last_layer_plan(solved().do(inverse(turns)))
        assert sum(map(effort, runs)) <= effort(turns) + 1e-9


def test_only_a_turn_of_the_top_is_left():
    assert last_layer_plan(solved()) == ()
    assert last_layer_plan(solved().do("y x")) == ()
    for left, called in (("U'", "U"), ("U2", "U2"), ("U", "U'")):
        assert [write(run) for run in last_layer_plan(solved().do(left).do("y"))] == [called]


@pytest.mark.parametrize("turns", ["R", "D", "U x", "R U R'"])
def test_lower_layers_that_are_not_done(turns):
    with pytest.raises(ValueError, match="lower layers are done"):
        last_layer_plan(solved().do(turns))


@pytest.mark.parametrize(
    "wrong",
    [
        {"U7": "F1", "F1": "U7"},
        {"U1": "B1", "B1": "U1"},
        {"U8": "F2", "F2": "R0", "R0": "U8"},
        {"U2": "R2", "R2": "B0", "B0": "U2"},
        {"F1": "R1", "R1": "F1", "U7": "U5", "U5": "U7"},
    ],
)
def test_a_last_layer_that_no_turning_solves(wrong):
    for turns in ("", "U", "F U R U' R' F'", "y"):
        with pytest.raises(ValueError, match="turning cannot solve"):
            last_layer_plan(stickers_moved(solved(), wrong).do(turns))


@settings(max_examples=50)
@given(some_state, rotations)
def test_as_held_renames_what_the_learner_sees(state, rotations):
    cube = solved().do(rotations) * state
    held = as_held(cube)
    assert held.centres == FACES
    name = dict(zip(cube.centres, FACES, strict=True))
    assert held.faces == "".join(name[face] for face in cube.faces)


def test_as_held_leaves_an_upright_cube_alone():
    cube = Cube().do("R U2 F'")
    assert as_held(cube) == cube
