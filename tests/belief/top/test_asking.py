"""Which question comes next, and that it is never one too many."""

from __future__ import annotations

from itertools import product
from math import log2

import pytest

from coach.belief.top import Belief, any_top, best_claim, prediction, settle, shape
from coach.belief.top.asking import balance
from coach.belief.top.belief import pattern_of
from coach.cube import PLACE_NAMES, Cube
from coach.method import Step, default_method
from coach.method.last_layer import orientation_states

EDGES = ("U1", "U3", "U5", "U7")
CORNERS = ("U0", "U2", "U6", "U8")
CROSS, FACE = (default_method().step(step) for step in ("top-cross", "top-face"))
assert isinstance(CROSS, Step) and isinstance(FACE, Step)
CROSSED = any_top().seeing(dict.fromkeys(EDGES, True))


def looks(belief: Belief, places: tuple[str, ...]) -> list[Belief]:
    """What is left after each full look that is possible."""
    parts = [belief.seeing(dict(zip(places, seen, strict=True))) for seen in product((True, False), repeat=4)]
    return [part for part in parts if part]


def starts(step: Step) -> list[Belief]:
    """What may be left after the learner's first words: nothing said, a full look, a shape, a number, and
    each single sticker."""
    whole, places = (any_top(), EDGES) if step is CROSS else (CROSSED, CORNERS)
    said = [whole, *looks(whole, places)]
    said += [whole.shaped(name) for name in ("dot", "corner", "line", "cross")] if step is CROSS else []
    said += [whole.counting(corners=number) for number in range(5)]
    said += [whole.seeing({place: seen}) for place in places for seen in (True, False)]
    return [belief for belief in dict.fromkeys(said) if belief]


def questions(step: Step, belief: Belief) -> int:
    """How many claims it takes at most until the hold is settled; every claim is checked on the way."""
    if settle(step, belief):
        return 0
    claim = best_claim(step, belief)
    parts = [belief.answering(claim, answer) for answer in (True, False)]
    assert all(parts), f"the answer to {claim} is known already"
    assert len(parts[0]) + len(parts[1]) == len(belief)
    return 1 + max(questions(step, part) for part in parts)


# When asking may stop


def test_the_top_squares_alone_settle_the_hold_of_the_top_face_in_9_of_27_states() -> None:
    """The eight with one corner up, and the one that is done."""
    settled = [part for part in looks(CROSSED, CORNERS) if settle(FACE, part)]
    assert sum(map(len, settled)) == 9
    assert len(CROSSED) == 27


def test_a_full_look_at_the_edges_settles_the_hold_of_the_top_cross() -> None:
    assert all(settle(CROSS, part) for part in looks(any_top(), EDGES))


@pytest.mark.parametrize("step", [CROSS, FACE], ids=lambda step: step.id)
def test_a_settled_hold_is_right_for_every_cube_that_is_left(step: Step) -> None:
    found = 0
    for belief in starts(step):
        settled = settle(step, belief)
        if not settled:
            continue
        found += 1
        for cube in orientation_states():
            if pattern_of(cube) in belief.patterns:
                held = cube.do(settled.turns)
                assert step.case_of(cube.faces) is settled.case
                assert settled.turns in settled.case.holds(cube.faces)
                assert not settled.case.sequence or () in settled.case.holds(held.faces)
    assert found


def test_the_cube_is_not_turned_where_it_is_held_right() -> None:
    line = any_top().seeing({"U1": False, "U3": True, "U5": True, "U7": False})
    settled = settle(CROSS, line)
    assert settled and settled.turns == ()


def test_nothing_is_settled_while_two_cases_or_two_holds_are_left() -> None:
    assert settle(CROSS, any_top()) is None
    assert settle(CROSS, any_top().shaped("line")) is None
    assert settle(FACE, CROSSED.counting(corners=2)) is None


# What is asked


@pytest.mark.parametrize(("step", "most"), [(CROSS, 3), (FACE, 6)], ids=("top-cross", "top-face"))
def test_no_claim_is_known_already_from_anything_that_may_be_said(step: Step, most: int) -> None:
    """And yes/no questions alone come to an end, though never a look is understood."""
    assert max(questions(step, belief) for belief in starts(step)) == most


def test_after_a_full_look_at_the_corners_one_claim_settles_it_or_two_where_none_is_up() -> None:
    worst: dict[int, int] = {}
    for part in looks(CROSSED, CORNERS):
        (view,) = part.views(CORNERS)
        worst[sum(view)] = max(worst.get(sum(view), 0), questions(FACE, part))
    assert worst == {0: 2, 1: 0, 2: 1, 4: 0}


def test_of_six_states_with_no_corner_up_the_first_claim_leaves_three() -> None:
    """The best that a yes/no question can do: one bit."""
    none_up = CROSSED.counting(corners=0)
    claim = best_claim(FACE, none_up)
    assert len(none_up) == 6
    assert len(none_up.answering(claim, True)) == 3


def test_the_best_claim_is_worth_no_less_than_any_single_sticker() -> None:
    for belief in starts(FACE):
        if len(belief) < 2 or settle(FACE, belief):
            continue
        worth = balance(len(belief.answering(best_claim(FACE, belief), True)), len(belief))
        for place in PLACE_NAMES:
            if place[0] == "U" or (place[0] in "FRBL" and place[1] in "012"):
                yes = len(belief.answering(((place, "U"),), True))
                assert worth >= balance(yes, len(belief)) - 1e-9


def test_the_worth_of_a_question_is_its_entropy() -> None:
    assert balance(3, 6) == 1.0
    assert balance(1, 4) == pytest.approx(0.25 * log2(4) + 0.75 * log2(4 / 3))
    assert balance(0, 4) == balance(4, 4) == 0.0


def test_where_all_is_known_there_is_nothing_to_ask() -> None:
    (pattern, *_) = any_top().patterns
    for belief in (Belief(frozenset({pattern})), Belief(frozenset())):
        with pytest.raises(ValueError, match="nothing is left to ask"):
            best_claim(CROSS, belief)


# What must be there after a run


@pytest.mark.parametrize(("step", "places"), [(CROSS, EDGES), (FACE, CORNERS)], ids=("top-cross", "top-face"))
def test_what_is_predicted_after_a_run_is_there_on_every_cube(step: Step, places: tuple[str, ...]) -> None:
    told = 0
    for cube in orientation_states():
        if not step.ready(cube.faces) or step.done(cube.faces):
            continue
        seen = {place: cube.faces[PLACE_NAMES.index(place)] == "U" for place in places}
        belief = (any_top() if step is CROSS else CROSSED).seeing(seen)
        while not (settled := settle(step, belief)):
            claim = best_claim(step, belief)
            belief = belief.answering(claim, all(_on(cube, place) == face for place, face in claim))
        turns = (*settled.turns, *settled.case.sequence)
        after, belief = cube.do(turns), belief.after(turns)
        told_here = prediction(belief, places)
        if told_here is None:
            assert len(belief.views(places)) > 1
            continue
        told += 1
        assert all(_on(after, place) == face for place, face in told_here)
        assert {place for place, _ in told_here if place in places} == {p for p in places if _on(after, p) == "U"}
    assert told


def _on(cube: Cube, place: str) -> str:
    return cube.faces[PLACE_NAMES.index(place)]


def test_nothing_is_predicted_while_it_may_look_two_ways() -> None:
    assert prediction(any_top(), EDGES) is None
    assert shape(any_top()) is None
    assert shape(any_top().shaped("line")) == "line"
    assert prediction(any_top().shaped("line"), EDGES) is None


def test_the_prediction_of_a_dot_names_the_sides_where_the_colour_went() -> None:
    claim = prediction(any_top().shaped("dot"), EDGES)
    assert claim and set(claim) == {("F1", "U"), ("R1", "U"), ("B1", "U"), ("L1", "U")}
