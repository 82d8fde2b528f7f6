"""What the coach knows of the top follows the real cube, exactly, through every turn and look."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest

from coach.belief.top import Belief, any_top
from coach.belief.top.belief import pattern_of, shape_of
from coach.cube import FACE_TURNS, PLACE_NAMES, ROTATIONS, Cube, Turn
from coach.method.last_layer import build, orders, orientation_states

EDGES = ("U1", "U3", "U5", "U7")
CORNERS = ("U0", "U2", "U6", "U8")
STATES = orientation_states()


def top_stickers(pattern: str) -> frozenset[int]:
    """Where the top's colour shows, the cube being held in any way; independent of the hold."""
    return frozenset(place for place, letter in enumerate(pattern) if letter == "U")


def shows(cube: Cube, place: str) -> bool:
    """Whether the colour on top shows at `place` of a real cube."""
    return cube.faces[PLACE_NAMES.index(place)] == cube.faces[PLACE_NAMES.index("U4")]


def left(keep: Callable[[Cube], bool]) -> frozenset[str]:
    """The patterns of all states that `keep` is true of."""
    return frozenset(pattern_of(cube) for cube in STATES if keep(cube))


def test_nothing_known_is_216_patterns_of_one_cube_each() -> None:
    assert len(any_top()) == len({top_stickers(p) for p in any_top().patterns}) == 216


@pytest.mark.parametrize("turn", [*FACE_TURNS, *ROTATIONS], ids=str)
def test_every_turn_moves_every_pattern_as_it_moves_the_cube(turn: Turn) -> None:
    for cube in STATES:
        (pattern,) = Belief(frozenset({pattern_of(cube)})).after((turn,)).patterns
        real = cube.turn(turn).faces
        assert all(
            letter == face or (letter == "." and face != "U") for letter, face in zip(pattern, real, strict=True)
        )
        assert pattern.count(".") == 12


def test_the_order_of_the_pieces_makes_no_difference() -> None:
    """The 216 states stand for all 62,208: in another order the top's colour lies the same."""
    for number, (edges, corners) in enumerate(orders()):
        state = STATES[number % 216]
        other = build(edges=edges, corners=corners) * state
        assert top_stickers(other.faces) == top_stickers(state.faces)
        assert top_stickers(other.do("F R U R' U' F'").faces) == top_stickers(state.do("F R U R' U' F'").faces)


def test_a_look_leaves_exactly_the_cubes_that_look_so() -> None:
    for edges in product((True, False), repeat=4):
        look = dict(zip(EDGES, edges, strict=True))
        expected = left(lambda cube, look=look: all(shows(cube, place) == seen for place, seen in look.items()))
        assert any_top().seeing(look).patterns == expected
        assert bool(expected) == (sum(edges) % 2 == 0)
    for corners in product((True, False), repeat=4):
        look = dict(zip(CORNERS, corners, strict=True))
        assert bool(any_top().seeing(look)) == (sum(corners) != 3)


@pytest.mark.parametrize("place", [f"{face}{i}" for face in "FRBL" for i in range(3)] + [*EDGES, *CORNERS])
def test_a_look_at_one_sticker(place: str) -> None:
    for answer in (True, False):
        expected = left(lambda cube, answer=answer: shows(cube, place) == answer)
        assert any_top().seeing({place: answer}).patterns == expected
        assert any_top().answering(((place, "U"),), answer).patterns == expected


def test_looks_and_turns_may_come_in_any_order() -> None:
    """Turning and then looking is looking at where it will come to and then turning."""
    turn = Turn("U")
    goes = {"U1": "U5", "U5": "U7", "U7": "U3", "U3": "U1", "F0": "L0", "R2": "F2"}
    for before, after in goes.items():
        for seen in (True, False):
            looked = any_top().seeing({before: seen}).after((turn,))
            assert looked == any_top().after((turn,)).seeing({after: seen})


def test_counts_and_shapes() -> None:
    """Elementary: 1, 4, 2 and 1 of the 8 edge patterns; 6, 8, 12 and 1 of the 27 corner patterns."""
    top = any_top()
    assert [len(top.counting(edges=n)) for n in range(5)] == [27, 0, 162, 0, 27]
    assert [len(top.counting(corners=n)) for n in range(5)] == [6 * 8, 8 * 8, 12 * 8, 0, 8]
    assert {name: len(top.shaped(name)) for name in ("dot", "corner", "line", "cross")} == {
        "dot": 27, "corner": 108, "line": 54, "cross": 27,
    }  # fmt: skip
    assert len(top.counting(edges=2, corners=1)) == 6 * 8
    assert top.counting(edges=4) == top.shaped("cross") == top.seeing(dict.fromkeys(EDGES, True))


def test_shape_of_a_real_cube() -> None:
    assert shape_of(build(flips=(0, 0, 1, 1)).faces) == "corner"
    assert shape_of(build(flips=(0, 1, 0, 1)).faces) == "line"
    assert shape_of(build(flips=(1, 1, 1, 1)).faces) == "dot"
    assert shape_of(Cube().faces) == "cross"


def test_contradictions_leave_nothing_and_stay_so() -> None:
    nothing = any_top().counting(edges=1)
    assert not nothing
    assert not nothing.after((Turn("R"),)).seeing({"U1": True})
    assert not any_top().seeing({"U1": True}).seeing({"U1": False})


def test_a_claim_of_several_stickers_is_true_if_all_hold() -> None:
    claim = (("U3", "U"), ("U5", "U"))
    both = left(lambda cube: shows(cube, "U3") and shows(cube, "U5"))
    assert any_top().answering(claim, True).patterns == both
    assert any_top().answering(claim, False).patterns == any_top().patterns - both
    assert any_top().answering(claim, True).sure(claim)
    assert not any_top().sure(claim)


def test_the_lower_layers_are_known_in_every_hold() -> None:
    turned = any_top().after((Turn("U", 1, 3),))
    assert turned.sure((("F4", "R"), ("F7", "R"), ("D0", "D")))
    assert turned.views(["F0"]) == {(True,), (False,)}
