"""Where stickers are: facts of a cube in the hand, read as the session log says."""

import pytest

from coach.cube import (
    CORNERS,
    EDGES,
    FACE_PLACES,
    FACES,
    PLACE_NAMES,
    PLACE_NUMBER,
    POSITIONS,
    WHOLE_TURNS,
    Cube,
    opposite,
    position_of,
    solved,
)
from coach.cube.geometry import clockwise_stickers, compose


def names(places):
    return " ".join(PLACE_NAMES[place] for place in places)


def test_a_cube_has_12_edges_8_corners_and_54_stickers():
    assert (len(EDGES), len(CORNERS), len(PLACE_NAMES)) == (12, 8, 54)
    places = [place for spots in POSITIONS.values() for place in spots]
    assert sorted([*places, *range(4, 54, 9)]) == list(range(54))


# Read by hand from a paper net: U with the back at its upper edge, D with the front at its upper edge,
# the four sides with U at their upper edge.
@pytest.mark.parametrize(
    ("position", "stickers"),
    [
        ("UF", "U7 F1"), ("UR", "U5 R1"), ("UB", "U1 B1"), ("UL", "U3 L1"),
        ("FR", "F5 R3"), ("FL", "F3 L5"), ("BR", "B3 R5"), ("BL", "B5 L3"),
        ("DF", "D1 F7"), ("DR", "D5 R7"), ("DB", "D7 B7"), ("DL", "D3 L7"),
        ("UFR", "U8 F2 R0"), ("UFL", "U6 F0 L2"), ("UBR", "U2 B0 R2"), ("UBL", "U0 B2 L0"),
        ("DFR", "D2 F8 R6"), ("DFL", "D0 F6 L8"), ("DBR", "D8 B6 R8"), ("DBL", "D6 B8 L6"),
    ],
)  # fmt: skip
def test_the_stickers_of_a_piece_meet_on_the_net(position, stickers):
    assert names(POSITIONS[position]) == stickers


# Clockwise looking at the corner's tip from outside: on the corner nearest to the learner's right hand
# the right side follows the top, then the front.
@pytest.mark.parametrize(
    ("corner", "stickers"),
    [("UFR", "U8 R0 F2"), ("UFL", "U6 F0 L2"), ("UBL", "U0 L0 B2"), ("DFR", "D2 F8 R6"), ("DBL", "D6 B8 L6")],
)
def test_corner_stickers_clockwise_from_outside(corner, stickers):
    assert names(clockwise_stickers(corner)) == stickers


def test_position_names_do_not_depend_on_the_order_of_faces():
    assert position_of("RUF") == position_of("FRU") == "UFR"
    assert position_of("RB") == "BR"
    for wrong in ("", "U", "UD", "UU", "URL", "UFX"):
        with pytest.raises(KeyError):
            position_of(wrong)


def test_opposite_faces():
    assert [opposite(face) for face in "FBRLUD"] == list("BFLRDU")


def test_faces_are_in_the_order_of_the_regulations():
    # WCA Regulations, Article 12a1 (from memory): F, B, R, L, U, D; places, centres and patterns go by it.
    assert FACES == "FBRLUD"
    assert [PLACE_NAMES[9 * number] for number in range(6)] == ["F0", "B0", "R0", "L0", "U0", "D0"]
    assert solved().faces == "FFFFFFFFFBBBBBBBBBRRRRRRRRRLLLLLLLLLUUUUUUUUUDDDDDDDDD"


def test_there_are_24_holds_and_they_form_a_group():
    holds = set(WHOLE_TURNS)
    assert len(holds) == 24
    assert {compose(a, b) for a in holds for b in holds} == holds
    assert len({Cube(hold).centres for hold in holds}) == 24
    assert all(Cube(hold).solved for hold in holds)


def test_place_numbers_run_face_by_face():
    assert [[PLACE_NUMBER[f"{face}{place}"] for place in range(9)] for face in FACES] == [
        list(FACE_PLACES[face]) for face in FACES
    ]
