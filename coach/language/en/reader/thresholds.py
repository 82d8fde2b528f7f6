"""How sure a reading must be: above one confidence the coach acts on it, between two it asks whether that is meant.

Chosen on six speakers who were kept apart for this (models/answers-en/calibration; `scripts/bench answers` shows them).
"""

from __future__ import annotations

from typing import Final

from coach.language.meaning import GRAVE, Meaning, Question

_WEIGHTY: Final = frozenset({"yes", "no", "next", "ready", "done"})
"""Answers after which the lesson goes on as if what was asked were so."""
_ACT: Final = {
    "look": 0.7, "part of a look": 0.95, "piece": 0.8, "list": 0.75, "step": 0.7,
    "grave": 0.8, "grave after a call": 0.95, "weighty": 0.75, "no to a claim": 0.9, "light": 0.5,
}  # fmt: skip
_ALL: Final = 4  # pieces that a look asks about
_ASK: Final = 0.35


def thresholds(asked: Question, meaning: Meaning | None) -> tuple[float, float]:
    """From which chance a meaning is acted on, and from which it is asked about."""
    return _ACT[_kind(asked, meaning)], _ASK


def _kind(asked: Question, meaning: Meaning | None) -> str:
    command = meaning.command if meaning is not None and not meaning.look else None
    if command is not None:
        if command == "no" and asked == "claim":
            return "no to a claim"  # it sets off a search
        return _grave(asked) if command in GRAVE else "weighty" if command in _WEIGHTY else "light"
    if meaning is None or asked in ("look-top-edges", "look-top-corners"):
        return "part of a look" if meaning and 0 < len(meaning.look) < _ALL else "look"
    return "step" if meaning.step else "piece" if asked == "piece" else "list"


def _grave(asked: Question) -> str:
    """After a call nobody was asked: whoever swears there has not said that a turn went wrong."""
    return "grave after a call" if asked == "turn" else "grave"
