"""What the conversation writes to the session log: each act and event as the fields of a JSON object."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coach.dialogue.acts import (
    Act,
    Adjust,
    Ask,
    Bye,
    CallTurn,
    End,
    Event,
    Heard,
    Listen,
    Practised,
    Query,
    Rotate,
    Say,
    SendOff,
    Sight,
    Silence,
    SlipFound,
    TakePart,
    Tell,
    Timed,
    TurnIntoHold,
)

Fields = Mapping[str, Any]


def entries(what: Act | Event) -> tuple[Fields, ...]:
    """The lines that an act or event makes. Turning into a hold makes one for each way to be held wrong, the words in
    the first."""
    if not (isinstance(what, TurnIntoHold) and what.ways):
        fields = entry(what)
        return (fields,) if fields else ()
    words = [what.text, *("" for _ in what.ways[1:])]
    return tuple(
        {"event": "say", "text": text, "act": "rotate", "rotation": str(turn), "if": _sight(claim), **_belongs(what)}
        for text, (claim, turn) in zip(words, what.ways, strict=True)
    )


def entry(what: Act | Event) -> Fields:
    """The fields of an act or event, its kind ("event") first; empty if it is not logged."""
    match what:
        case Listen():
            return {"event": "listen"}
        case Heard(text, meaning, confidence):
            told = meaning.to_json() if meaning else None
            return {"event": "hear", "text": text, "meaning": told, "confidence": confidence}
        case Silence(seconds):
            return {"event": "silence", "seconds": seconds}
        case SlipFound(explains, repair):
            return {"event": "slip", "explains": explains, "repair": repair}
        case Practised(kind, step, case, help_, result):
            item = {"kind": kind, "step": step, "case": case}
            return {"event": "exercise", **item, "help": help_, "result": result}
        case Timed(centiseconds, penalty, scramble, judged):
            told = {"penalty": penalty, "scramble": scramble, "judged": judged}
            return {"event": "attempt", "seconds": centiseconds / 100, **told}
        case End(outcome, step, turns, questions, slips):
            counts = {"turns": turns, "questions": questions, "slips": slips}
            return {"event": "end", "outcome": outcome, "step": step, **counts}
        case Adjust():
            return {}
        case _:
            return {"event": "say", "text": what.text, **_said(what)}


def _said(say: Say) -> Fields:
    match say:
        case CallTurn(_, turn, n, of):
            return {"act": "turn", "turn": str(turn), "n": n, "of": of, **_belongs(say)}
        case Rotate(_, rotation):
            return {"act": "rotate", "rotation": str(rotation), **_belongs(say)}
        case Ask(_, query):
            return {"act": "ask", "asks": query.asks, **_asked(query)}
        case TakePart(_, cases, step):
            return {"act": "run", "cases": list(map(_sight, cases)), "step": step}
        case SendOff():
            return {"act": "tell", "off": "hand-down"}
        case Tell() | TurnIntoHold():  # however it is held, it is held right
            return {"act": "tell"}
        case Bye():
            return {"act": "bye"}


def _sight(seen: Sight) -> str | list[list[Any]]:
    return seen if isinstance(seen, str) else list(map(list, seen))


def _belongs(say: CallTurn | Rotate | TurnIntoHold) -> Fields:
    return {"step": say.step, **({"case": say.case} if say.case else {})}


def _asked(query: Query) -> Fields:
    """The fields of a question; for a piece, only the piece is part of the agreed format."""
    if query.asks == "piece":
        return {"piece": list(query.piece)}
    if query.asks == "hands":
        return {"about": query.about or _sight(query.claim)}
    fields = {
        "about": query.about, "face": query.face, "row": query.row, "claim": list(map(list, query.claim)),
        "step": query.step, "case": query.case, "help": query.help,
    }  # fmt: skip
    return {name: value for name, value in fields.items() if value or (name == "help" and value is not None)}
