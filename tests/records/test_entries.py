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
    SendOff,
    Silence,
    SlipFound,
    TakePart,
    Tell,
    TurnIntoHold,
)
from coach.language.meaning import Meaning
from coach.records.entries import entries, entry

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
        (Ask("So.", Query("hands", about="size")), said("ask", asks="hands", about="size")),
        (Ask("So.", Query("hands", about="dot")), said("ask", asks="hands", about="dot")),
        (Ask("So.", Query("hands", claim=(Claimed("U", 4, "blue"),))),
         said("ask", asks="hands", about=[["U", 4, "blue"]])),
        (TakePart("So.", ("dot", (Claimed("F", 1, "red"),)), "top-cross"),
         said("run", cases=["dot", [["F", 1, "red"]]], step="top-cross")),
        (SendOff("So."), said("tell", off="hand-down")),
        (TurnIntoHold("So.", (), "top-cross", "dot"), said("tell")),
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


def test_turning_into_a_hold_is_one_line_for_each_way_with_the_words_in_the_first() -> None:
    ways = (((Claimed("U", 1, "blue"),), Turn("U", 1, 3)), ((Claimed("U", 3, "blue"),), Turn("U", 2, 3)))
    same = {"step": "top-cross", "case": "corner"}
    assert entries(TurnIntoHold("So.", ways, "top-cross", "corner")) == (
        said("rotate", rotation="y", **{"if": [["U", 1, "blue"]]}, **same),
        {**said("rotate", rotation="y2", **{"if": [["U", 3, "blue"]]}, **same), "text": ""},
    )
    assert entries(Tell("So.")) == (said("tell"),)
    assert entries(Adjust(1)) == ()
