"""What the coach knows of the top, held against real cubes."""

from __future__ import annotations

from collections import Counter
from itertools import product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.belief import TOP_CORNERS, TOP_EDGES, Belief, any_top
from coach.belief.belief import holds, order_states, pattern_of, shape_of
from coach.cube import FACE_TURNS, PLACE_NAMES, PLACE_NUMBER, ROTATIONS, Turn, inverse, shown
from coach.method import default_method
from coach.method.last_layer import orientation_states

STATES = orientation_states()
SEQUENCES = [case.sequence for step in default_method().top_steps[:2] for case in step.cases if case.sequence]
PLACES = (*TOP_EDGES, *TOP_CORNERS)


MARKS = "".join(map(chr, range(65, 65 + 54)))
"""A letter of its own for every sticker."""


def fits(pattern: str, faces: str) -> bool:
    """Whether the pattern is true of a cube with these stickers."""
    return all(known == true or (known == "." and true != "U") for known, true in zip(pattern, faces, strict=True))


def test_216_patterns_one_for_each_orientation_state() -> None:
    assert len(any_top()) == len(STATES) == 216
    for cube in STATES:
        assert [pattern for pattern in any_top().patterns if fits(pattern, cube.faces)] == [pattern_of(cube)]


def test_288_orders_all_solved_but_for_the_upper_rows() -> None:
    assert len(order_states()) == 288
    assert {pattern[:9] for pattern in order_states().patterns} == {"U" * 9}


def test_62208_last_layers() -> None:
    """24 corner orders x 27 twists x 24 edge orders x 8 flips, half of it by parity: elementary counting."""
    assert 24 * 27 * 24 * 8 // 2 == 62_208
    assert len(any_top()) * len(order_states()) == 62_208


def test_the_pattern_stays_true_through_every_run_and_rotation() -> None:
    """What is known moves with the cube: after any run, and any turn of the whole cube, the pattern of the
    state before, turned, is true of the real cube."""
    for cube, turns in product(STATES, (*SEQUENCES, *((turn,) for turn in ROTATIONS))):
        after = Belief(frozenset({pattern_of(cube)})).after(turns)
        (pattern,) = after.patterns
        assert fits(pattern, cube.do(turns).faces)


@pytest.mark.parametrize("sequence", SEQUENCES, ids=str)
def test_a_run_only_reorders_the_216_patterns(sequence: tuple[Turn, ...]) -> None:
    assert any_top().after(sequence) == any_top()


@pytest.mark.parametrize("seed", range(4))
def test_a_look_and_a_turn_may_change_places(seed: int) -> None:
    """Seeing a sticker and then turning is turning and then seeing it where it has gone."""
    random = Random(seed)
    turns = random.choices((*FACE_TURNS, *ROTATIONS), k=5)
    for cube in random.sample(STATES, 25):
        look = {place: cube.faces[PLACE_NUMBER[place]] == "U" for place in random.sample(PLACES, 3)}
        before = any_top().seeing(look)
        assert pattern_of(cube) in before.patterns
        (gone,) = Belief(frozenset({MARKS})).after(turns).patterns
        moved = {PLACE_NAMES[gone.index(MARKS[PLACE_NUMBER[place]])]: up for place, up in look.items()}
        after = any_top().after(turns)
        kept = frozenset(
            p for p in after.patterns if all((p[PLACE_NUMBER[place]] == "U") == up for place, up in moved.items())
        )
        assert before.after(turns).patterns == kept


@pytest.mark.parametrize("turn", (*FACE_TURNS, *ROTATIONS), ids=str)
def test_a_turn_and_its_opposite_leave_what_is_known(turn: Turn) -> None:
    assert any_top().after((turn, *inverse((turn,)))) == any_top()
    if turn.face != "U":
        assert any_top().after((turn,)) != any_top()


def test_the_edges_show_a_dot_a_line_a_corner_or_a_cross_in_1_2_4_and_1_of_8() -> None:
    counted = Counter(shape_of(pattern) for pattern in any_top().patterns)
    assert {name: n * 8 / 216 for name, n in counted.items()} == {"dot": 1, "line": 2, "corner": 4, "cross": 1}


def test_the_corners_are_all_up_in_one_of_27_and_never_three_of_them() -> None:
    counted = Counter(len(shown(pattern, TOP_CORNERS)) for pattern in any_top().patterns)
    assert counted[4] * 27 == 216
    assert set(counted) == {0, 1, 2, 4}


@pytest.mark.parametrize("edges", [1, 3])
def test_an_odd_number_of_edges_leaves_nothing(edges: int) -> None:
    assert not any_top().counting(edges=edges)


def test_three_corners_leave_nothing() -> None:
    assert not any_top().counting(corners=3)


@given(st.dictionaries(st.sampled_from(PLACES), st.booleans()), st.integers(0, 215))
def test_a_true_look_never_rules_the_truth_out_and_a_false_one_always_does(look: dict[str, bool], n: int) -> None:
    cube = STATES[n]
    true = all((cube.faces[PLACE_NUMBER[place]] == "U") == up for place, up in look.items())
    assert (pattern_of(cube) in any_top().seeing(look).patterns) == true


@given(st.lists(st.tuples(st.sampled_from(PLACE_NAMES), st.just("U")), max_size=3))
def test_yes_and_no_share_the_patterns_out(claim: list[tuple[str, str]]) -> None:
    yes, no = (any_top().answering(tuple(claim), answer) for answer in (True, False))
    assert yes.patterns | no.patterns == any_top().patterns
    assert not yes.patterns & no.patterns
    assert yes.sure(tuple(claim))
    assert not any(holds(pattern, tuple(claim)) for pattern in no.patterns)


def test_a_shape_is_what_the_counts_and_places_say() -> None:
    assert any_top().shaped("line") == Belief(
        any_top().seeing({"U1": True, "U7": True, "U3": False, "U5": False}).patterns
        | any_top().seeing({"U1": False, "U7": False, "U3": True, "U5": True}).patterns
    )
    assert any_top().shaped("cross") == any_top().counting(edges=4)
    assert any_top().shaped("dot") == any_top().counting(edges=0)
