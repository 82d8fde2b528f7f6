"""The cube in the hand: pieces, orientation, hold."""

from hypothesis import given

from coach.cube import CORNERS, EDGES, FACES, POSITIONS, WHOLE_TURNS, Cube, inverse, parse, solved
from tests.cube.random_cubes import cubes, face_turns, rotations


@given(cubes)
def test_the_pieces_of_a_cube_are_found_where_they_are(cube):
    for piece, (position, places) in cube.pieces.items():
        assert cube.piece_at(position) == piece
        assert set(places) == set(POSITIONS[position])
        assert [cube.faces[place] for place in places] == list(piece)


@given(face_turns)
def test_turning_keeps_flips_in_pairs_and_twists_in_thirds(turns):
    cube = solved().do(turns)
    assert sum(map(cube.flip_at, EDGES)) % 2 == 0
    assert sum(map(cube.twist_at, CORNERS)) % 3 == 0


def test_what_a_turn_flips_and_twists():
    # Common knowledge: only quarter turns of front and back flip edges, U and D twist no corner.
    flips = {face: sum(map(solved().do(face).flip_at, EDGES)) for face in FACES}
    assert flips == {"U": 0, "R": 0, "F": 4, "D": 0, "L": 0, "B": 4}
    twists = {face: sum(solved().do(face).twist_at(c) > 0 for c in CORNERS) for face in FACES}
    assert twists == {"U": 0, "R": 4, "F": 4, "D": 0, "L": 4, "B": 4}
    # R takes the corner at DFR up to UFR: what faced down now faces front, clockwise from the right side.
    assert solved().do("R").twist_at("UFR") == 2


@given(face_turns, rotations)
def test_hold_and_upright_undo_the_rotations(turns, rotations):
    upright = solved().do(turns)
    cube = upright.do(rotations)
    assert cube.upright == upright
    assert cube.hold == solved().do(rotations).stickers
    assert cube.hold in WHOLE_TURNS


def test_the_hold_says_which_centre_is_where():
    assert solved().do("y").centres == "RLBFUD"
    assert solved().do("x2").centres == "BFRLDU"


@given(cubes)
def test_solved_in_any_hold_and_only_then(cube):
    assert cube.solved == (cube.upright == solved())
    assert (cube * cube.inverse).solved


def test_cubes_are_values():
    assert solved().do("R U R' U'") == solved().do(parse("R U R' U'"))
    assert len({solved().do("R R"), solved().do("R2"), Cube()}) == 2
    assert solved().do(inverse(parse("R U"))) == solved().do("U' R'")
