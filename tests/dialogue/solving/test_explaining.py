"""What went wrong is told once, however many turns it was."""

from __future__ import annotations

from coach.belief.reading.stickers import KnownStickers
from coach.belief.slips.explanations import Slip
from coach.belief.slips.repairs import Repair
from coach.cube import Cube, parse
from coach.dialogue import Say
from coach.dialogue.solving.explaining import explain
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.talk import Talk
from tests.loaded import load


def test_two_slips_in_an_earlier_run_are_told_in_one_sentence() -> None:
    knowledge, talk = Knowledge(KnownStickers(Cube().faces)), Talk(load().sentences)
    for turns in ("R U F", "L D"):
        knowledge.begin_run()
        for turn in parse(turns):
            knowledge.move((turn,))
    slips = (Slip("left-out", 0, ()), Slip("left-out", 2, ()))
    acts = explain(talk, slips, knowledge.trail, Repair(parse("U"), resumes=False), True, {})
    said = [act.text for act in acts if isinstance(act, Say)]
    assert said == ["I think one of the turns before this sequence was left out."]
    assert talk.slips == 2
