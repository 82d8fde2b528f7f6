"""What to ask, and when there is nothing left to ask."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief import TOP_CORNERS, TOP_EDGES, Belief, Claim, any_top, best_claim, prediction, settle
from coach.belief.asking import balance
from coach.belief.belief import pattern_of
from coach.cube import PLACE_NUMBER, Cube
from coach.method import TURNS_ABOUT_UP, Step, default_method
from coach.method.last_layer import orientation_states

CROSS, FACE = default_method().top_steps[:2]
CROSSED = [cube for cube in orientation_states() if cube.faces[1:8:2] == "UUUU"]
TOP = (*TOP_EDGES, *TOP_CORNERS)


def look(cube: Cube, places: tuple[str, ...]) -> dict[str, bool]:
    return {place: cube.faces[PLACE_NUMBER[place]] == "U" for place in places}


def crossed() -> Belief:
    return any_top().meeting(FACE.needs)


def test_the_top_squares_alone_settle_the_hold_in_9_of_the_27_corner_states() -> None:
    settled = [cube for cube in CROSSED if settle(FACE, crossed().seeing(look(cube, TOP)))]
    assert len(CROSSED) == 27
    assert len(settled) == 9


def test_the_top_edges_alone_always_settle_the_hold_for_the_cross() -> None:
    assert all(settle(CROSS, any_top().seeing(look(cube, TOP_EDGES))) for cube in orientation_states())


def test_what_is_settled_is_right_for_the_real_cube() -> None:
    for cube in CROSSED:
        belief = crossed().seeing(look(cube, TOP))
        for claim in [()] if settle(FACE, belief) else [((place, "U"),) for place in ("F0", "L2", "F2", "R0")]:
            part = belief.answering(claim, all(cube.faces[PLACE_NUMBER[p]] == face for p, face in claim))
            found = settle(FACE, part)
            if found:
                assert found.case is FACE.case_of(cube.faces)
                assert found.turns in found.case.holds(cube.faces)


def test_nothing_is_settled_while_two_holds_are_possible() -> None:
    assert settle(FACE, any_top()) is None
    assert settle(CROSS, any_top().shaped("line")) is None
    assert settle(CROSS, any_top().shaped("cross"))


def test_of_equal_holds_the_easiest_is_taken() -> None:
    cube = next(c for c in orientation_states() if not any(look(c, TOP_EDGES).values()))
    settled = settle(CROSS, any_top().seeing(look(cube, TOP_EDGES)))
    assert settled
    assert settled.turns == TURNS_ABOUT_UP[0] == ()


@pytest.mark.parametrize("step", [CROSS, FACE], ids=lambda step: step.id)
def test_claims_alone_lead_to_a_settled_hold_and_none_is_known_before(step: Step) -> None:
    chosen: dict[Belief, Claim] = {}
    for cube in CROSSED if step is FACE else orientation_states()[::5]:
        belief = any_top().meeting(step.needs)
        asked = 0
        while not settle(step, belief):
            claim = chosen.get(belief) or chosen.setdefault(belief, best_claim(step, belief))
            yes = belief.answering(claim, True)
            assert 0 < len(yes) < len(belief)
            answer = all(cube.faces[PLACE_NUMBER[place]] == face for place, face in claim)
            belief = yes if answer else belief.answering(claim, False)
            asked += 1
            assert pattern_of(cube) in belief.patterns
        assert asked <= 8
        settled = settle(step, belief)
        assert settled
        assert settled.case is step.case_of(cube.faces)


def test_one_claim_settles_most_of_what_the_top_squares_leave_open() -> None:
    """18 of the 27 states are open after a look; the best side sticker leaves few of them open."""
    left = []
    for cube in CROSSED:
        belief = crossed().seeing(look(cube, TOP))
        if not settle(FACE, belief):
            claim = best_claim(FACE, belief)
            answer = all(cube.faces[PLACE_NUMBER[place]] == face for place, face in claim)
            left.append(settle(FACE, belief.answering(claim, answer)) is None)
    assert len(left) == 18
    assert sum(left) <= 4


def test_a_claim_is_worth_most_when_it_is_even() -> None:
    assert balance(2, 4) == 1.0
    assert balance(1, 4) == pytest.approx(0.8112781)
    assert balance(0, 4) == balance(4, 4) == 0.0


def test_nothing_is_left_to_ask_of_a_belief_of_one_or_none() -> None:
    for belief in (Belief(frozenset()), Belief(frozenset({pattern_of(CROSSED[0])}))):
        with pytest.raises(ValueError, match="nothing is left to ask"):
            best_claim(FACE, belief)


def test_predictions_are_true_of_the_cube_after_the_run() -> None:
    predicted = 0
    for cube in orientation_states():
        step = FACE if CROSS.done(cube.faces) else CROSS
        places = TOP_CORNERS if step is FACE else TOP_EDGES
        belief = any_top().meeting(step.needs).seeing(look(cube, places))
        settled = settle(step, belief)
        if not settled or not settled.case.sequence:
            continue
        turns = (*settled.turns, *settled.case.sequence)
        claim = prediction(belief.after(turns), places)
        after = cube.do(turns).faces
        if claim is not None:
            predicted += 1
            assert all(after[PLACE_NUMBER[place]] == face for place, face in claim)
    assert predicted >= 189  # every state without a cross: where the edges go is known


def test_nothing_is_predicted_where_it_may_look_two_ways() -> None:
    assert prediction(any_top(), TOP_EDGES) is None
    assert prediction(any_top().shaped("line"), TOP_EDGES) is None


def test_a_prediction_names_the_side_of_a_corner_that_is_not_up() -> None:
    """One corner up: the other three show the top colour on their sides, and where they do is known."""
    random = Random(1)
    cube = random.choice([c for c in CROSSED if sum(look(c, TOP_CORNERS).values()) == 1])
    belief = Belief(frozenset({pattern_of(cube)}))
    claim = prediction(belief, TOP_CORNERS)
    assert claim
    assert len(claim) == 4
    assert sum(place[0] == "U" for place, _ in claim) == 1
