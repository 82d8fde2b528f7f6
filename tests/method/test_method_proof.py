"""The default method does what its file says, checked without the package's own turns.

The turns here are built anew, as rotations of stickers in space, and the sequences are typed in from
the description of the method (common practice, no source), not read from the file.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from coach.belief.top.belief import TOP_CORNERS, shape_of
from coach.cube import FACE_PLACES, Cube, shown, write
from coach.method import PlacingProof, StepProof, default_method, prove
from coach.method.last_layer import all_states, build, orders, orientation_states
from coach.method.report import report
from coach.method.whole import last_layer
from tests.method.geometry import NUMBER, STICKERS, effect, quarter

CORNER_TO_CROSS = "F U R U' R' F'"
LINE_TO_CROSS = "F R U R' U' F'"
TOP_FACE = "R U R' U R U2 R'"

def test_a_clockwise_turn_of_the_top_takes_the_front_to_the_left() -> None:
    """WCA Regulations, Article 12: clockwise as seen from that face; so front goes to left under U."""
    front, left = NUMBER[(0, 1, 1), (0, 0, 1)], NUMBER[(-1, 1, 0), (-1, 0, 0)]
    assert quarter("U")(front) == left
    assert quarter("U").order() == 4


@pytest.mark.parametrize("sequence", [CORNER_TO_CROSS, LINE_TO_CROSS, TOP_FACE])
def test_the_sequences_leave_the_two_lower_layers_alone(sequence: str) -> None:
    goes = effect(sequence)
    moved = {STICKERS[number] for number in goes.support()}
    assert moved
    assert all(cubie[1] == 1 for cubie, _ in moved), "only pieces of the top layer may move"
    assert ((0, 1, 0), (0, 1, 0)) not in moved


def _up_after(sequence: str, up: set[tuple[int, ...]]) -> set[tuple[int, ...]]:
    """Which top edges point up afterwards if those of `up` do before (cubies)."""
    goes = effect(sequence)
    result = set()
    for cubie in ((0, 1, 1), (1, 1, 0), (0, 1, -1), (-1, 1, 0)):
        side = (cubie[0], 0, cubie[2])
        top_sticker = (cubie, (0, 1, 0) if cubie in up else side)
        landed, faces = STICKERS[goes(NUMBER[top_sticker])]
        if faces == (0, 1, 0):
            result.add(landed)
    return result


BACK, RIGHT, FRONT, LEFT = (0, 1, -1), (1, 1, 0), (0, 1, 1), (-1, 1, 0)
CROSS = {BACK, RIGHT, FRONT, LEFT}


def test_the_corner_shape_at_the_back_and_left_becomes_a_cross() -> None:
    assert _up_after(CORNER_TO_CROSS, {BACK, LEFT}) == CROSS


def test_the_line_from_left_to_right_becomes_a_cross() -> None:
    assert _up_after(LINE_TO_CROSS, {LEFT, RIGHT}) == CROSS


def test_the_dot_becomes_a_line() -> None:
    assert _up_after(CORNER_TO_CROSS, set()) in ({LEFT, RIGHT}, {FRONT, BACK})


def test_the_top_face_sequence_keeps_the_cross() -> None:
    assert _up_after(TOP_FACE, CROSS) == CROSS


def test_the_file_has_the_sequences_of_the_description() -> None:
    method = default_method()
    cross, face = method.top_steps[:2]
    assert {case.id: write(case.sequence) for case in cross.cases} == {
        "dot": CORNER_TO_CROSS, "corner": CORNER_TO_CROSS, "line": LINE_TO_CROSS, "cross": "",
    }  # fmt: skip
    assert {write(case.sequence) for case in face.cases} == {TOP_FACE, ""}
    assert {case.id: case.hold.shows for case in (*cross.cases, *face.cases) if case.hold.shows} == {
        "corner": ("U1", "U3"), "line": ("U3", "U5"),
        "none-up": ("L2",), "one-up": ("U6",), "two-up": ("F0",),
    }  # fmt: skip


# The numbers


def test_there_are_216_orientation_states_and_62208_last_layers() -> None:
    """2^3 x 3^3, and that times 4! x 4! / 2: the laws of the cube, elementary."""
    assert len(orientation_states()) == len({cube.faces for cube in orientation_states()}) == 216
    assert len(orders()) == 288
    assert sum(1 for _ in all_states()) == 62_208


def test_every_orientation_state_stands_for_as_many_last_layers() -> None:
    top = Counter(
        frozenset(place for place, home in enumerate(cube.stickers) if home in FACE_PLACES["U"])
        for cube in all_states()
    )
    assert len(top) == 216
    assert set(top.values()) == {288}


def test_edges_none_adjacent_opposite_all() -> None:
    """1/8, 1/2, 1/4, 1/8: of the 8 even sets of flips 1, 4, 2 and 1; elementary."""
    shapes = Counter(shape_of(cube.faces) for cube in orientation_states())
    shares = {shape: Fraction(count, 216) for shape, count in shapes.items()}
    assert shares == {
        "dot": Fraction(1, 8), "corner": Fraction(1, 2), "line": Fraction(1, 4), "cross": Fraction(1, 8),
    }  # fmt: skip


def test_all_corners_are_up_once_in_27_and_never_exactly_three() -> None:
    up = Counter(len(shown(cube.faces, TOP_CORNERS)) for cube in orientation_states())
    assert up[4] * 27 == 216
    assert set(up) == {0, 1, 2, 4}


# The proof


def test_the_proof_finds_the_cases_and_runs_of_the_description() -> None:
    cross, face = prove(default_method())[3:5]
    assert isinstance(cross, StepProof)
    assert isinstance(face, StepProof)
    assert {case.case.id: case.states for case in cross.cases} == {
        "dot": 27, "corner": 108, "line": 54, "cross": 27,
    }  # fmt: skip
    assert {case.case.id: case.leads_to for case in cross.cases} == {
        "dot": ("line",), "corner": ("cross",), "line": ("cross",), "cross": (),
    }  # fmt: skip
    assert (cross.states, cross.worst_runs) == (216, 2)
    # 27 orientations of the corners: 2 + 4 with none up, 8 with one, 12 with two, 1 with all.
    assert {case.case.id: case.states for case in face.cases} == {
        "none-up": 6, "one-up": 8, "two-up": 12, "all-up": 1,
    }  # fmt: skip
    assert (face.states, face.worst_runs) == (27, 3)


def test_one_corner_up_takes_one_run_or_two() -> None:
    face = default_method().top_steps[1]
    runs: Counter[int] = Counter()
    for cube in orientation_states():
        if not face.ready(cube.faces) or len(shown(cube.faces, TOP_CORNERS)) != 1:
            continue
        done = 0
        while not face.done(cube.faces):
            case = face.case_of(cube.faces)
            cube = cube.do(case.holds(cube.faces)[0]).do(case.sequence)
            done += 1
        runs[done] += 1
    assert runs == {1: 4, 2: 4}  # the four holds of each of the two cases with one corner up


def test_every_state_in_every_allowed_hold_ends_in_one_colour() -> None:
    cross, face = default_method().top_steps[:2]

    def longest(cube: Cube) -> int:
        step = cross if not cross.done(cube.faces) else face
        if step.done(cube.faces):
            return 0
        case = step.case_of(cube.faces)
        return 1 + max(longest(cube.do(hold).do(case.sequence)) for hold in case.holds(cube.faces))

    assert max(map(longest, orientation_states())) == 5


def test_the_report_is_readable_and_says_what_was_proven() -> None:
    text = report(default_method())
    assert all(len(line) <= 110 for line in text.splitlines())
    for words in ("top cross: 216 ways the top can lie", "top face: 27 ways the top can lie", LINE_TO_CROSS,
                  "runs: at most 2", "runs: at most 3", "all 62208 ways it can lie end solved", "Proven:"):  # fmt: skip
        assert words in text


# The whole job


def test_every_last_layer_ends_solved_within_the_runs_stated() -> None:
    whole = last_layer(default_method())
    assert whole
    assert whole.states == 62_208
    assert whole.worst_runs == 9  # 2 + 3 + 2 + 2, as the file states
    assert 5 < whole.mean_runs < 6


def test_one_order_of_the_top_in_72_is_solved() -> None:
    """Of the 288 orders of a top in one colour four are solved but for a turn of the top: 1/72, published
    for the permutation cases of the last layer (value from memory) and elementary."""
    top_edges = default_method().top_steps[3]
    arranged = [build(edges=edges, corners=corners) for edges, corners in orders()]
    assert sum(top_edges.done(cube.faces) for cube in arranged) * 72 == 288


def test_the_last_two_steps_never_turn_the_back() -> None:
    for step in default_method().top_steps[2:]:
        assert all(turn.face != "B" for case in step.cases for turn in case.sequence)


def test_pieces_get_home_from_every_placement() -> None:
    """24 placements for each corner; 16 for each middle edge, the four bottom edges being in place."""
    corners, edges = prove(default_method())[1:3]
    assert isinstance(corners, PlacingProof)
    assert isinstance(edges, PlacingProof)
    assert (corners.placements, edges.placements) == (4 * 24, 4 * 16)
