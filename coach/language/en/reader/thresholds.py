"""How sure a reading must be: above one confidence the coach acts on it, between two it asks whether that is meant.

Chosen on six speakers who were kept apart for this (models/answers-en/calibration; `scripts/bench answers` shows them).
"""

from __future__ import annotations

from typing import Final

from coach.language.meaning import GRAVE, Meaning, Question

_ACT: Final = {"look": 0.8, "piece": 0.7, "list": 0.7, "grave": 0.8, "talk": 0.6}
_ASK: Final = 0.35


def thresholds(asked: Question, meaning: Meaning | None) -> tuple[float, float]:
    """From which chance a meaning is acted on, and from which it is asked about."""
    return _ACT[_kind(asked, meaning)], _ASK


def _kind(asked: Question, meaning: Meaning | None) -> str:
    if meaning is not None and meaning.command in GRAVE and not meaning.look:
        return "grave"
    if meaning is None or meaning.command is not None:
        return "talk"
    if asked in ("look-top-edges", "look-top-corners"):
        return "look"
    return "piece" if asked == "piece" else "list" if asked in ("row", "face") else "talk"
