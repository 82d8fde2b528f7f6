"""The simulations of scripts/bench slips: what they count."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

from coach.cube import Turn
from coach.dialogue import Ask, CallTurn, Query, Say, SlipFound, Tell
from coach.simulation import Learner, random_cube
from coach.simulation.slipping import SlippingLearner
from tests.loaded import load

sys.path.append(str(Path(__file__).resolve().parents[2] / "scripts"))
from benches import slips

PHRASES = load().sentences


def said(key: str) -> Say:
    return Tell(PHRASES.forms(key)[0])


def test_questions_count_from_the_search_to_what_was_found() -> None:
    ask, turn = Ask("Is it?", Query("claim")), CallTurn("Right side up.", Turn("R"))
    found = SlipFound("R", "R'")
    acts = [ask, said("slip.search"), ask, ask, found, ask, turn, said("slip.search"), said("slip.none"), ask]
    assert list(slips.searches(acts, PHRASES)) == [2, 0]


def test_a_lesson_with_a_slip_is_seen_to_be_repaired_and_one_without_is_not() -> None:
    cube = random_cube("top-cross", Random(3))
    plain = slips.held("top-cross", Learner(cube, Random(3)), Random(3))
    assert (plain.solved, plain.repairs, plain.asked, plain.seconds) == (True, 0, (), ())
    learner = SlippingLearner(cube, Random(3), lambda number, say: "left-out" if number == 2 else "")
    outcome = slips.held("top-cross", learner, Random(3), notices=1.0)
    assert outcome.solved
    assert outcome.repairs == 1
    assert len(outcome.asked) == 1
    assert outcome.seconds
    assert not outcome.read
