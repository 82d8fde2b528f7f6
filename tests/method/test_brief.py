"""The whole solve in few turns."""

import random
from statistics import median

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from coach.cube import FACE_TURNS, FACES, PLACE_NUMBER, ROTATIONS, Cube, inverse, solved
from coach.cube.distance import CROSS, places
from coach.cube.last_layer_plan import LOWER, as_held
from coach.method import default_method
from coach.method.brief import next_leg

STEPS = [step.id for step in default_method().steps]
TOP_STEPS = STEPS[3:]
GROUP = PermutationGroup([Permutation(list(solved().do(face).inverse.stickers)) for face in "URFDLB"])


def brief_plan(cube):
    """The legs that solve the cube; none where it is solved."""
    legs = []
    while leg := next_leg(cube):
        legs.append(leg)
        cube = cube.do(leg.turns)
    return tuple(legs)


def face_turns(legs):
    return sum(not turn.whole for leg in legs for turn in leg.turns)


def scrambled(number):
    """A cube in any hold."""
    draw = random.Random(number)
    return solved().do(draw.choices(ROTATIONS, k=2)).do(draw.choices(FACE_TURNS, k=25))


def states(cube):
    """The cube before each leg of its plan, with the leg."""
    for leg in brief_plan(cube):
        yield cube, leg
        cube = cube.do(leg.turns)


def test_scrambles_are_solved_in_few_turns():
    counts = []
    for number in range(30):
        cube = scrambled(number)
        legs = brief_plan(cube)
        assert cube.do(turn for leg in legs for turn in leg.turns).solved
        counts.append(face_turns(legs))
    assert median(counts) <= 50
    assert max(counts) <= 75


@pytest.mark.parametrize("number", range(100, 110))
def test_the_bottom_stays_down_and_the_back_is_never_turned(number):
    for cube, leg in states(scrambled(number)):
        assert leg.turns
        assert all(turn.layers in (1, 3) and turn.face != "B" for turn in leg.turns)
        assert {turn.face for turn in leg.turns if turn.whole} <= {"U"}
        assert cube.do(leg.turns).centres[FACES.index("D")] == cube.centres[FACES.index("D")]


@pytest.mark.parametrize("number", range(200, 210))
def test_a_leg_of_the_lower_layers_brings_its_pieces_home_and_keeps_what_was_done(number):
    for cube, leg in states(scrambled(number)):
        after = cube.do(leg.turns)
        hold, hold_after = Cube(cube.hold), Cube(after.hold)
        home = {piece for piece, (_, now) in cube.pieces.items() if now == hold.pieces[piece][1]}
        home_after = {piece for piece, (_, now) in after.pieces.items() if now == hold_after.pieces[piece][1]}
        assert leg.pieces
        assert not home & set(leg.pieces)
        if leg.step not in TOP_STEPS:
            assert set(leg.pieces) <= home_after
        if leg.step != "bottom-cross":
            cross = {hold.piece_at(position) for position in CROSS}
            assert cross <= home & home_after


def test_the_steps_follow_each_other():
    for number in range(300, 315):
        steps = [leg.step for leg in brief_plan(scrambled(number))]
        assert steps[0] == "bottom-cross"
        assert 0 < sum(step in ("bottom-corners", "middle-edges") for step in steps) <= 4
        assert set(steps[1:-2]) <= {"bottom-corners", "middle-edges", *TOP_STEPS}
        assert sum(step in TOP_STEPS for step in steps) <= 2


def test_a_cross_takes_at_most_eight_turns():
    for number in range(400, 430):
        assert face_turns([next_leg(scrambled(number))]) <= 8


@pytest.mark.parametrize(
    ("turns", "step", "pieces"),
    [
        ("R U R'", "middle-edges", ("DFR", "FR")),
        ("y R U R'", "middle-edges", ("DBR", "BR")),
        ("R U' R' F R' F' R", "middle-edges", ("FR",)),
        ("R U R' U' R U R' U' R U R' U'", "bottom-corners", ("DFR",)),
    ],
)
def test_what_a_pair_is_called(turns, step, pieces):
    leg = next_leg(solved().do(turns))
    assert (leg.step, leg.pieces) == (step, pieces)


def lying_of_one_pair():
    """A cube for each of the 150 ways in which the pair at the front right can lie, the other three home."""
    moves = ["U", "U'", "R U R'", "R U' R'", "R U2 R'", "F' U F", "F' U' F", "F' U2 F"]
    found = {places(solved(), ("DFR", "FR")): solved()}
    frontier = [solved()]
    for cube in frontier:
        for after in map(cube.do, moves):
            if found.setdefault(places(after, ("DFR", "FR")), after) is after:
                frontier.append(after)
    return found.values()


def test_the_last_pair_goes_in_from_wherever_it_lies():
    # In this hold some ways are out of the usual search's reach.
    cubes = [solved().do("y2") * cube * solved().do("y2") for cube in lying_of_one_pair()]
    assert len(cubes) == (5 * 3) * (5 * 2)
    for cube in cubes:
        leg = next_leg(cube)
        if leg is not None and leg.step not in TOP_STEPS:
            after = as_held(cube.do(leg.turns))
            assert places(after, LOWER) == places(solved(), LOWER)
            assert ("middle-edges" if len(leg.pieces[-1]) == 2 else "bottom-corners") == leg.step


def test_a_leg_of_the_last_layer_is_named_after_the_first_step_that_is_not_done():
    assert next_leg(solved().do("F U R U' R' F'")).step == "top-cross"
    assert next_leg(solved().do("R U R' U R U2 R'")).step == "top-face"
    for step in TOP_STEPS[2:]:
        sequence = default_method().step(step).cases[0].sequence
        assert next_leg(solved().do(inverse(sequence))).step == step
    assert next_leg(solved().do("U")).step == "top-edges"
    assert next_leg(solved().do("U")).pieces == ("UB", "UR", "UF", "UL", "UBL", "UBR", "UFR", "UFL")


def test_pieces_are_named_by_their_home_in_any_hold():
    # In this hold the red side, home of L, is down; the turn takes its green and red edge (FL) away.
    leg = next_leg(solved().do("z'").do("F"))
    assert leg.step == "bottom-cross"
    assert leg.pieces == ("FL",)


def test_a_solved_cube_needs_nothing():
    assert brief_plan(solved()) == ()
    assert brief_plan(solved().do("x y'")) == ()
    assert next_leg(solved().do("z2")) is None


def test_a_cube_that_no_turning_solves():
    stickers = bytearray(solved().stickers)
    one, other = PLACE_NUMBER["U7"], PLACE_NUMBER["F1"]
    stickers[one], stickers[other] = other, one
    with pytest.raises(ValueError, match="turning cannot solve"):
        brief_plan(Cube(bytes(stickers)).do("R U F2 D L' B"))


def test_every_state_on_the_way_is_in_the_group():
    for number in range(500, 502):
        for before, leg in states(scrambled(number)):
            assert GROUP.contains(Permutation(list(before.do(leg.turns).upright.inverse.stickers)))


def test_a_plan_can_be_taken_up_at_any_leg():
    cube = scrambled(77)
    legs = brief_plan(cube)
    for n, leg in enumerate(legs):
        assert brief_plan(cube) == legs[n:]
        cube = cube.do(leg.turns)
