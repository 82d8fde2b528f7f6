"""How fast the coach goes: the pause after a call."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

SHORTEST: Final = 1.0
LONGEST: Final = 15.0
"""Keep the pause between two calls within these many seconds."""
UNHURRIED: Final = 1.8
"""A learner who only wants to get on is not hurried beyond this: fingers cannot follow much faster. An estimate without
a source."""
WORD_SECONDS: Final = 60.0
"""After this many seconds, remind a learner that the coach is waiting for their word."""
_STEP: Final = 1.5
"""Multiply or divide the pause by this for "slower" and "faster"."""


@dataclass(frozen=True)
class Pace:
    """The pause after each call in seconds; with `on_word`, the coach waits for "next" instead."""

    pause: float = 2.5
    on_word: bool = False

    @property
    def seconds(self) -> float:
        """How long to listen after a call."""
        return WORD_SECONDS if self.on_word else self.pause

    def slower(self) -> Pace:
        """Longer pauses, up to LONGEST."""
        return replace(self, pause=min(LONGEST, self.pause * _STEP))

    def faster(self, least: float = SHORTEST) -> Pace:
        """Shorter pauses, down to `least` seconds unless they are shorter already, without waiting for the learner's
        word."""
        return Pace(max(min(least, self.pause), self.pause / _STEP))
