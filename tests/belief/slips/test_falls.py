"""What may have turned when the cube fell, and what has to be seen before it is taken to be known."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from coach.belief.evidence import Fell, Look, Stickers
from coach.belief.slips.explanations import Slip, really, single_slips
from coach.belief.slips.suspicion import Suspicion, Verdict
from coach.belief.slips.trail import Trail
from coach.cube import FACE_PLACES, FACE_TURNS, Cube, Turn, parse
from coach.simulation import scrambled

BEFORE, AFTER = parse("R U R'"), parse("F2 D")


def rows(cube: Cube, faces: str) -> Stickers:
    """The faces of the cube, read truthfully."""
    return Stickers(tuple((place, cube.faces[place]) for face in faces for place in FACE_PLACES[face]))


def found(trail: Trail) -> tuple[Suspicion, Verdict]:
    suspicion = Suspicion.of(trail)
    return suspicion, suspicion.verdict(suspicion.known())


@pytest.mark.parametrize("turned", [True, None])
@pytest.mark.parametrize("called", [(), BEFORE])
def test_whatever_turned_in_a_fall_leads_where_doing_it_leads(called: tuple[Turn, ...], turned: bool | None) -> None:
    start = Cube().do("F2 U R' D2 L B")
    trail = Trail((start.faces,)).calling(called).hearing(Fell(turned)).calling(AFTER)
    slips = single_slips(trail)
    now = np.frombuffer(Cube().do((*called, *AFTER)).stickers, np.uint8)
    fallen = [number for number, explained in enumerate(slips.slips) if explained[-1].kind == "fell"]
    one, two = {(turn,) for turn in FACE_TURNS}, {parse("R U"), parse("D' F2")}
    assert {slips.slips[number][-1].done for number in fallen} >= one | two
    for number in fallen:
        done = really(trail, slips.slips[number]).turns
        seen = "".join(start.faces[place] for place in slips.both[number][now])
        assert seen == start.do(done).faces, slips.slips[number]


def test_what_was_said_before_a_fall_is_said_of_the_cube_before_it() -> None:
    trail = Trail((Cube().faces,)).calling(BEFORE).hearing(Look(edges=1)).hearing(Fell(True)).hearing(Look(edges=2))
    events = really(trail, [Slip("fell", 3, parse("B"))]).events
    assert events == (*BEFORE, Look(edges=1), *parse("B"), Look(edges=2))


@pytest.mark.parametrize("turned", [True, None])
@pytest.mark.parametrize("turn", FACE_TURNS, ids=str)
def test_a_side_that_turned_is_found_and_never_is_all_as_it_should_be(turn: Turn, turned: bool | None) -> None:
    start = scrambled(Random(str(turn)))
    real = start.do(BEFORE).turn(turn)
    trail = Trail((start.faces,)).beginning_run().calling(BEFORE).hearing(Fell(turned))
    sure = []
    for face in "FRU":
        trail = trail.hearing(rows(real, face))
        suspicion, verdict = found(trail)
        if verdict.sure:
            sure.append(suspicion.patterns(verdict.hypotheses[0]))
    assert sure and all(patterns == (real.faces,) for patterns in sure)


def test_a_no_is_believed_until_what_is_seen_says_otherwise() -> None:
    start = scrambled(Random(3))
    trail = Trail((start.faces,)).beginning_run().calling(BEFORE).hearing(Fell(False))
    assert not trail.fallen and found(trail)[1].nothing
    trail = trail.hearing(rows(start.do(BEFORE).do("L"), "FU"))
    suspicion, verdict = found(trail)
    assert suspicion.slips_of(verdict.hypotheses[0]) == (Slip("fell", 3, parse("L")),)


def test_the_call_that_was_open_when_the_cube_fell_may_not_have_been_done() -> None:
    start = scrambled(Random(4))
    for turned, real in ((None, start.do("R U")), (True, start.do("R U B"))):
        trail = Trail((start.faces,)).beginning_run().calling(BEFORE).hearing(Fell(turned)).hearing(rows(real, "FRU"))
        suspicion, verdict = found(trail)
        assert verdict.sure and suspicion.patterns(verdict.hypotheses[0]) == (real.faces,)


def test_more_has_to_be_seen_after_a_fall_than_after_a_call() -> None:
    start = scrambled(Random(5))
    trail = Trail((start.faces,)).calling(BEFORE)
    assert found(trail.hearing(Fell(True)))[1].enough > found(trail)[1].enough


def test_a_fall_in_which_nothing_turned_is_no_answer_to_be_taken_back() -> None:
    trail = Trail((Cube().faces,)).calling(BEFORE)
    assert trail.hearing(Look(edges=1)).hearing(Fell(False)).without_last_word() == trail.hearing(Fell(False))
    assert trail.hearing(Fell(None)).without_last_word() == trail
