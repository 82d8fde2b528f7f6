"""What turns do, and the group that they make."""

import random
from itertools import pairwise

import pytest
from hypothesis import given
from sympy.combinatorics import Permutation, PermutationGroup

from coach.cube import (
    FACE_TURNS,
    FACES,
    PLACE_NUMBER,
    ROTATIONS,
    WHOLE_TURNS,
    Cube,
    Turn,
    inverse,
    join,
    mirrored,
    opposite,
    parse,
    solved,
    turned,
    write,
)
from tests.cube.random_cubes import ALL_TURNS, WIDE_TURNS, any_turns, cubes, face_turns

# The cube group as in the worked example of the GAP system (value from memory): the stickers without the
# centres numbered 1 to 48 row by row, on the faces top, left, front, right, back, bottom. A cycle says where
# stickers go.
CYCLES = {
    "U": "1 3 8 6, 2 5 7 4, 9 33 25 17, 10 34 26 18, 11 35 27 19",
    "L": "9 11 16 14, 10 13 15 12, 1 17 41 40, 4 20 44 37, 6 22 46 35",
    "F": "17 19 24 22, 18 21 23 20, 6 25 43 16, 7 28 42 13, 8 30 41 11",
    "R": "25 27 32 30, 26 29 31 28, 3 38 43 19, 5 36 45 21, 8 33 48 24",
    "B": "33 35 40 38, 34 37 39 36, 3 9 46 32, 2 12 47 29, 1 14 48 27",
    "D": "41 43 48 46, 42 45 47 44, 14 22 30 38, 15 23 31 39, 16 24 32 40",
}
PUBLISHED_PLACES = [PLACE_NUMBER[f"{face}{place}"] for face in "ULFRBD" for place in (0, 1, 2, 3, 5, 6, 7, 8)]
POSITIONS_OF_THE_CUBE = 43_252_003_274_489_856_000


def published(face):
    cycles = [[PUBLISHED_PLACES[int(n) - 1] for n in cycle.split()] for cycle in CYCLES[face].split(",")]
    return Permutation(cycles, size=54)


def where_stickers_go(cube):
    return Permutation(list(cube.inverse.stickers))


GROUP = PermutationGroup([published(face) for face in CYCLES])


@pytest.mark.parametrize("face", list(CYCLES))
def test_face_turns_are_the_published_ones(face):
    assert where_stickers_go(solved().do(face)) == published(face)


def test_the_order_of_the_group():
    ours = PermutationGroup([where_stickers_go(solved().do(face)) for face in FACES])
    assert ours.order() == POSITIONS_OF_THE_CUBE  # published
    # 8! corner orders, 12! edge orders, half of them by parity; 3^7 twists and 2^11 flips.
    assert POSITIONS_OF_THE_CUBE == 40320 * 479001600 // 2 * 3**7 * 2**11


def test_every_sequence_stays_in_the_published_group_and_a_flipped_edge_does_not():
    draw = random.Random(1)
    for _ in range(20):
        cube = solved().do(draw.choices(FACE_TURNS, k=25))
        assert GROUP.contains(where_stickers_go(cube))
    flipped = Permutation(PLACE_NUMBER["U7"], PLACE_NUMBER["F1"], size=54)
    assert not GROUP.contains(flipped)


# The first two are common knowledge; 1260 is the greatest order there is, by this sequence (published by
# David Singmaster; value from memory).
@pytest.mark.parametrize(
    ("text", "order"),
    [("R U R' U'", 6), ("R U", 105), ("R U2 D' B D'", 1260), ("R", 4), ("R2 U2", 6), ("x", 4)],
)
def test_orders(text, order):
    assert where_stickers_go(solved().do(text)).order() == order


def test_positions_within_four_turns():
    # Published for the half-turn metric, value from memory.
    seen = frontier = {solved().stickers}
    counts = [1]
    for _ in range(4):
        frontier = {Cube(s).turn(turn).stickers for s in frontier for turn in FACE_TURNS} - seen
        seen = seen | frontier
        counts.append(len(frontier))
    assert counts == [1, 18, 243, 3240, 43239]


def test_there_are_18_face_turns_and_9_rotations():
    assert len({turn.permutation for turn in FACE_TURNS}) == 18
    assert len({turn.permutation for turn in ROTATIONS}) == 9
    assert [str(turn) for turn in ROTATIONS] == ["x", "x2", "x'", "y", "y2", "y'", "z", "z2", "z'"]


# WCA Regulations, Article 12: x follows R, y follows U, z follows F; a wide turn takes the layer next to it.
@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("x", "Rw L'"), ("x", "R Lw'"), ("y", "Uw D'"), ("y", "U Dw'"), ("z", "Fw B'"), ("z", "F Bw'"),
        ("Rw", "L x"), ("Lw", "R x'"), ("Uw", "D y"), ("Dw", "U y'"), ("Fw", "B z"), ("Bw", "F z'"),
        ("Rw2", "L2 x2"), ("2Uw'", "D' y'"),
    ],
)  # fmt: skip
def test_rotations_and_wide_turns_by_article_12(one, other):
    assert solved().do(one) == solved().do(other)


@pytest.mark.parametrize(
    ("turn", "goes"),
    [
        ("R", "F5 U5"), ("R", "U5 B3"), ("U", "F1 L1"), ("F", "U7 R3"), ("D", "F7 R7"), ("L", "U3 F3"),
        ("B", "U1 L3"), ("y", "R4 F4"), ("x", "F4 U4"), ("z", "U4 R4"),
    ],
)  # fmt: skip
def test_where_a_clockwise_turn_takes_a_sticker(turn, goes):
    source, target = (PLACE_NUMBER[name] for name in goes.split())
    assert solved().do(turn).stickers[target] == source


@given(any_turns)
def test_the_inverse_undoes(turns):
    assert solved().do(turns).do(inverse(turns)) == solved()
    assert solved().do(inverse(turns)) == solved().do(turns).inverse


@given(cubes, cubes, cubes)
def test_the_product_is_associative(a, b, c):
    assert (a * b) * c == a * (b * c)
    assert a * a.inverse == a.inverse * a == solved()


@given(cubes, any_turns)
def test_turning_is_multiplying(cube, turns):
    assert cube.do(turns) == cube * solved().do(turns)
    assert cube.do(write(turns)) == cube.do(turns)


@given(cubes, any_turns)
def test_a_pattern_turns_as_the_cube_does(cube, turns):
    assert turned(cube.faces, turns) == cube.do(turns).faces


@given(any_turns)
def test_joined_turns_do_the_same_and_no_two_neighbours_join(turns):
    joined = join(turns)
    assert solved().do(joined) == solved().do(turns)
    assert all((a.face, a.layers) != (b.face, b.layers) for a, b in pairwise(joined))


@pytest.mark.parametrize("way", WHOLE_TURNS.values(), ids=str)
def test_a_turn_seen_after_rotations_is_the_same_turn_of_the_cube(way):
    cube = solved().do("R U2 F' L y")
    rotations = [Turn(face, quarters, 3) for face, quarters in way]
    for turn in ALL_TURNS:
        assert cube.turn(turn).do(rotations) == cube.do(rotations).turn(turn.seen_after(rotations))


def test_after_y_the_right_side_is_the_front():
    assert str(Turn("R").seen_after(parse("y"))) == "F"
    assert str(Turn("U").seen_after(parse("y"))) == "U"
    assert str(Turn("R", 3).seen_after(parse("x2 y'"))) == "B'"


def in_a_mirror(place):
    """The place that a mirror between left and right shows: left and right change, on every face."""
    face, row, column = FACES[place // 9], place % 9 // 3, place % 3
    return PLACE_NUMBER[f"{opposite(face) if face in 'RL' else face}{row * 3 + 2 - column}"]


@pytest.mark.parametrize("turn", ALL_TURNS, ids=str)
def test_a_mirrored_turn_is_what_a_mirror_shows(turn):
    mirror = Cube(bytes(map(in_a_mirror, range(54))))
    assert Cube(mirrored(turn).permutation) == mirror * Cube(turn.permutation) * mirror
    assert mirrored(mirrored(turn)) == turn


@pytest.mark.parametrize(
    "wrong", [("X", 1, 1), ("R", 0, 1), ("R", 4, 1), ("R", 1, 0), ("R", 1, 4), ("L", 1, 3)]
)
def test_turns_that_do_not_exist(wrong):
    with pytest.raises(ValueError, match="turn"):
        Turn(*wrong)


@given(face_turns)
def test_face_turns_leave_the_centres_and_wide_turns_do_not(turns):
    assert solved().do(turns).centres == FACES
    assert all(solved().turn(turn).centres != FACES for turn in WIDE_TURNS)
