"""How sure a reading must be: above one confidence the coach acts on it, between the two it asks for confirmation.

Chosen on six speakers held out for this (models/answers-en/calibration; `scripts/bench answers` shows them).
"""

from __future__ import annotations

from typing import Final

from coach.language.commands import Trait, has
from coach.language.meaning import Command, Meaning, Question
from coach.language.questions import BUSY

_ACT: Final = {
    "look": 0.75, "piece": 0.8, "list": 0.8, "step": 0.7, "count": 0.8,
    "grave": 0.8, "grave after a call": 0.95, "correct": 0.9, "done-top": 0.6,
    "weighty": 0.75, "no to a claim": 0.9, "light": 0.5,
}  # fmt: skip
_USUAL: Final = 0.35
_TOLD: Final = ("look", "piece", "list")
_MIXED: Final = 0.6
"""Act on a spoken answer from this confidence on. Of 164 answers of the calibration speakers 86.6% are right at this
value and 1.8% wrong, 79.3 and 1.2 at 0.7, 89.0 and 3.0 at 0.5."""
_ASK: Final = {"list": 1.0, "grave after a call": 0.8, "correct": 0.9}
"""Ask for confirmation from this confidence on, if it differs from the usual one. A row is sooner told again than
denied. A learner who has only done the called turn must not be asked whether it went wrong, nor one who wonders whether
their answer was wrong."""


def thresholds(asked: Question, meaning: Meaning | None, writings: int = 1) -> tuple[float, float]:
    """The confidence from which a meaning is acted on, and the one from which it is confirmed, given the number of
    writings: misheard writings lower the confidence in the right meaning."""
    kind = _kind(asked, meaning)
    act = _MIXED if writings > 1 and kind in _TOLD else _ACT[kind]
    return act, _ASK.get(kind, _USUAL)


def _kind(asked: Question, meaning: Meaning | None) -> str:
    command = meaning.command if meaning is not None and not meaning.look else None
    if meaning is not None and meaning.piece:
        return "piece"
    if command is not None:
        if command == "no" and asked == "claim":
            return "no to a claim"  # it starts a search
        if command == "done-top":
            return command
        if has(command, Trait.GRAVE):
            return _grave(asked, command)
        return "weighty" if has(command, Trait.PLAIN | Trait.DONE) else "light"
    if meaning is None or asked in ("look-top-edges", "look-top-corners"):
        return "look"
    if asked == "hands":
        return "count"
    return "step" if meaning.step else "piece" if asked == "piece" else "list"


def _grave(asked: Question, command: Command) -> str:
    """After a call nothing was asked, so swearing does not mean that a turn went wrong."""
    if asked in BUSY:
        return "grave after a call"
    return "correct" if command == "correct" else "grave"
