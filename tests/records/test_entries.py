"""What stands in the session log: the fields that were agreed on, for every act and event."""

from __future__ import annotations

import json

import pytest

from coach.cube import Turn
from coach.dialogue import (
    Act,
    Adjust,
    Ask,
    Bye,
    CallTurn,
    Claimed,
    End,
    Event,
    Heard,
    Listen,
    Query,
    Rotate,
    Silence,
    SlipFound,
    Tell,
)
from coach.language.meaning import Meaning
from coach.records.entries import entry

EDGE = Query("piece", piece=("white", "green"), about="placed", claim=(Claimed("F", 4, "green"),))
SEQUENCE = (Turn("R"), Turn("U"))


def said(act: str, **fields: object) -> dict[str, object]:
    return {"event": "say", "text": "So.", "act": act, **fields}


@pytest.mark.parametrize(
    ("what", "logged"),
    [
        (Tell("So."), said("tell")),
        (Bye("So."), said("bye")),
        (CallTurn("So.", Turn("R", 3), 2, 6, "top-cross", "line", SEQUENCE),
         said("turn", turn="R'", n=2, of=6, step="top-cross", case="line")),
        (CallTurn("So.", Turn("U"), 1, 1, "bottom-cross"), said("turn", turn="U", n=1, of=1, step="bottom-cross")),
        (Rotate("So.", Turn("U", 2, 3), "top-face", "two"), said("rotate", rotation="y2", step="top-face", case="two")),
        (Rotate("So.", Turn("F", 1, 3), "top-face"), said("rotate", rotation="z", step="top-face")),
        (Ask("So.", Query("ready")), said("ask", asks="ready")),
        (Ask("So.", Query("other", about="stop")), said("ask", asks="other", about="stop")),
        (Ask("So.", Query("face", face="L")), said("ask", asks="face", face="L")),
        (Ask("So.", Query("row", face="L", row=2)), said("ask", asks="row", face="L", row=2)),
        (Ask("So.", Query("claim", claim=(Claimed("U", 0, "blue"), Claimed("F", 1, "red")))),
         said("ask", asks="claim", claim=[["U", 0, "blue"], ["F", 1, "red"]])),
        (Ask("So.", EDGE), said("ask", asks="piece", piece=["white", "green"])),
        (Listen("ready", 8.0), {"event": "listen"}),
        (Adjust(1), {}),
        (SlipFound("R R", "R'"), {"event": "slip", "explains": "R R", "repair": "R'"}),
        (End("done", "top-edges", 40, 9, 1),
         {"event": "end", "outcome": "done", "step": "top-edges", "turns": 40, "questions": 9, "slips": 1}),
        (Heard("yes", Meaning(command="yes"), 0.5),
         {"event": "hear", "text": "yes", "meaning": {"command": "yes"}, "confidence": 0.5}),
        (Heard("hm", None), {"event": "hear", "text": "hm", "meaning": None, "confidence": None}),
        (Silence(4.0), {"event": "silence", "seconds": 4.0}),
    ],
)  # fmt: skip
def test_an_act_or_event_has_the_fields_that_were_agreed_on(what: Act | Event, logged: dict[str, object]) -> None:
    assert entry(what) == logged
    assert json.loads(json.dumps(entry(what))) == logged
