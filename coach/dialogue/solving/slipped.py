"""That something went wrong in a run, and what the learner has said about it."""

from __future__ import annotations

from dataclasses import dataclass

from coach.belief.slips.suspicion import Said
from coach.dialogue.signals import Cause


@dataclass(frozen=True)
class Slipped:
    """Something went wrong in a run and has to be looked into; `said` is what the learner has said about it."""

    said: Said


def said_of(command: Cause) -> Said:
    """What a command says about what went wrong."""
    return "lost" if command == "lost" else "mistake"
