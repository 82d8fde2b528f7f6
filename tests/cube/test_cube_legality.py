"""Stickers to a cube, and why some stickers cannot be one."""

import random
from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cube import (
    CORNERS,
    EDGES,
    FACE_TURNS,
    FACES,
    PLACE_NAMES,
    POSITIONS,
    ROTATIONS,
    WHOLE_TURNS,
    Cube,
    ImpossibleCube,
    find_problems,
    from_faces,
    misread,
    solved,
)
from coach.cube.problems import (
    DoublePiece,
    FlippedEdge,
    MissingPiece,
    NoSuchPiece,
    Placed,
    SwappedPieces,
    TwistedCorner,
    WrongCentres,
    WrongCount,
)
from tests.cube.damaged import flip, replaced, swap, twist
from tests.cube.random_cubes import cubes

EDGE_PAIRS = list(combinations(EDGES, 2))
CORNER_PAIRS = list(combinations(CORNERS, 2))


def scrambled(seed, turns=25):
    draw = random.Random(seed)
    return solved().do(draw.choices((*FACE_TURNS, *ROTATIONS), k=turns))


@given(cubes)
def test_every_cube_is_read_back_from_its_stickers_in_any_hold(cube):
    assert from_faces(cube.faces) == cube
    assert misread(cube.faces) == ()


@pytest.mark.parametrize("hold", WHOLE_TURNS, ids=lambda hold: Cube(hold).centres)
def test_every_hold_of_the_solved_cube(hold):
    assert from_faces(Cube(hold).faces) == Cube(hold)


@pytest.mark.parametrize("faces", ["", "U" * 53, "U" * 55, solved().faces[:-1] + "X", solved().faces.lower()])
def test_what_is_no_set_of_stickers(faces):
    with pytest.raises(ValueError, match="54 letters") as caught:
        from_faces(faces)
    assert not isinstance(caught.value, ImpossibleCube)


def test_one_wrong_turn_is_still_a_cube():
    for turn in FACE_TURNS:
        assert find_problems(scrambled(2).turn(turn).faces) == ()


# One piece put in wrongly, on cubes that are solved, held otherwise, or turned a little.
IN_ORDER = [solved(), solved().do("y x"), solved().do("U"), solved().do("R U z'")]


@pytest.mark.parametrize("edge", EDGES)
def test_a_single_flipped_edge(edge):
    for cube in IN_ORDER:
        expected = FlippedEdge(((Placed(edge, cube.piece_at(edge)),),))
        assert find_problems(flip(cube, edge).faces) == (expected,)
    assert find_problems(flip(scrambled(3), edge).faces) == (FlippedEdge(()),)


@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize(("thirds", "over"), [(1, "clockwise"), (2, "anticlockwise")])
def test_a_single_twisted_corner(corner, thirds, over):
    for cube in IN_ORDER:
        expected = TwistedCorner(over, ((Placed(corner, cube.piece_at(corner)),),))
        assert find_problems(twist(cube, corner, thirds).faces) == (expected,)
    assert find_problems(twist(scrambled(3), corner, thirds).faces) == (TwistedCorner(over, ()),)


@pytest.mark.parametrize(("one", "other"), EDGE_PAIRS + CORNER_PAIRS)
def test_a_single_swapped_pair_lying_in_any_way(one, other):
    for cube in IN_ORDER[:2]:
        for shift in range(len(one)):
            wrong = swap(cube, one, other, shift)
            pair = (Placed(one, wrong.piece_at(one)), Placed(other, wrong.piece_at(other)))
            assert find_problems(wrong.faces) == (SwappedPieces((pair,)),)
    assert find_problems(swap(scrambled(3), one, other).faces) == (SwappedPieces(()),)


def test_there_are_66_and_28_pairs():
    assert (len(EDGE_PAIRS), len(CORNER_PAIRS)) == (66, 28)


@given(cubes, st.sampled_from(list(EDGES)), st.sampled_from(list(CORNERS)), st.sampled_from(EDGE_PAIRS))
def test_all_three_laws_broken_at_once(cube, edge, corner, pair):
    wrong = swap(twist(flip(cube, edge), corner, 2), *pair)
    kinds = [type(problem) for problem in find_problems(wrong.faces)]
    assert kinds == [FlippedEdge, TwistedCorner, SwappedPieces]


@given(cubes, st.permutations(list(EDGES)), st.permutations(list(CORNERS)))
def test_any_piece_of_the_kind_puts_it_right(cube, edges, corners):
    """What the words say to do by hand when it is not known which piece it is."""
    assert find_problems(flip(flip(cube, edges[0]), edges[1]).faces) == ()
    wrong = twist(cube, corners[0], 1)
    (problem,) = find_problems(wrong.faces)
    thirds = {"clockwise": 1, "anticlockwise": 2}[problem.put_right]
    assert find_problems(twist(wrong, corners[1], thirds).faces) == ()
    assert find_problems(swap(swap(cube, *corners[:2]), *edges[:2]).faces) == ()


@given(st.lists(st.sampled_from(FACE_TURNS), max_size=3), st.sampled_from(list(EDGES)))
def test_little_turned_the_true_edge_is_among_the_likely(turns, edge):
    (problem,) = find_problems(flip(solved().do(turns), edge).faces)
    assert edge in {placed.position for (placed,) in problem.likely}


def test_in_the_last_layer_only_its_own_pieces_are_likely():
    cube = flip(solved().do("R U R' U R U2 R' F R U R' U' F'"), "UF")
    (problem,) = find_problems(cube.faces)
    assert {placed.position for (placed,) in problem.likely} <= {"UF", "UR", "UB", "UL"}


def test_every_exchange_of_two_stickers_is_impossible_and_no_misread_one():
    faces = solved().faces
    for one, other in combinations(range(54), 2):
        if faces[one] != faces[other]:
            changed = replaced(replaced(faces, one, faces[other]), other, faces[one])
            problems = find_problems(changed)
            assert problems
            assert not any(isinstance(problem, WrongCount) for problem in problems)
            assert misread(changed) == ()


@pytest.mark.parametrize(
    "cube", [solved().do("z"), scrambled(4), scrambled(5)], ids=["solved", "one", "other"]
)
def test_every_single_misread_sticker_is_told_from_a_wrongly_built_cube(cube):
    for place, colour in ((place, colour) for place in range(54) for colour in FACES):
        true = cube.faces[place]
        if colour == true:
            continue
        faces = replaced(cube.faces, place, colour)
        problems = find_problems(faces)
        assert {WrongCount(colour, 10), WrongCount(true, 8)} <= set(problems)
        assert not any(isinstance(it, FlippedEdge | TwistedCorner | SwappedPieces) for it in problems)
        assert (place, true) in misread(faces)
        assert named_by(problems, place)


def named_by(problems, place):
    """Whether one of the problems points at the piece (or the centres) that `place` is on."""
    if place % 9 == 4:
        return any(isinstance(problem, WrongCentres) for problem in problems)
    spots = {it.position for it in problems if isinstance(it, NoSuchPiece)}
    spots |= {position for it in problems if isinstance(it, DoublePiece) for position in it.positions}
    return next(position for position, places in POSITIONS.items() if place in places) in spots


@settings(max_examples=50)
@given(st.text(FACES, min_size=54, max_size=54))
def test_random_colours_are_refused_with_reasons(faces):
    with pytest.raises(ImpossibleCube) as caught:
        from_faces(faces)
    assert caught.value.problems == find_problems(faces)


def test_a_piece_that_is_there_twice_and_one_that_is_missing():
    faces = replaced(solved().faces, PLACE_NAMES.index("F1"), "R")
    problems = find_problems(faces)
    assert DoublePiece("UR", ("UF", "UR")) in problems
    assert MissingPiece("UF") in problems


@pytest.mark.parametrize(
    ("colours", "why"),
    [("UUF", "repeated"), ("UDF", "opposite"), ("URF", "mirrored"), ("FUR", "mirrored"), ("DFR", "mirrored")],
)
def test_corners_that_do_not_exist(colours, why):
    faces = solved().faces
    for place, colour in zip(POSITIONS["UFR"], colours, strict=True):
        faces = replaced(faces, place, colour)
    assert NoSuchPiece("UFR", colours, why) in find_problems(faces)


def test_each_corner_exists_in_three_of_the_six_orders():
    for corner in CORNERS:
        seen = set()
        for colours in permutations(corner):
            faces = solved().faces
            for place, colour in zip(POSITIONS[corner], colours, strict=True):
                faces = replaced(faces, place, colour)
            seen |= {colours for it in find_problems(faces) if isinstance(it, NoSuchPiece)}
        assert len(seen) == 3


def test_centres_twice_out_of_order_or_as_in_a_mirror():
    def with_centres(centres):
        faces = solved().faces
        for i, centre in enumerate(centres):
            faces = replaced(faces, 9 * i + 4, centre)
        return [problem for problem in find_problems(faces) if isinstance(problem, WrongCentres)]

    allowed = {Cube(hold).centres for hold in WHOLE_TURNS}
    for centres in map("".join, permutations(FACES)):
        assert with_centres(centres) == ([] if centres in allowed else [WrongCentres(centres)])


def test_the_message_of_many_problems_is_short():
    with pytest.raises(ImpossibleCube, match=r"And \d+ more") as caught:
        from_faces("U" * 54)
    assert len(str(caught.value)) < 500
