"""One thing in memory, whatever the model."""

from __future__ import annotations

from collections.abc import Callable
from math import exp
from typing import Final, Protocol

DAY: Final = 86_400.0
"""Seconds."""


class Trace(Protocol):
    """Something that can be recalled more or less likely. Times are in seconds, and never go back."""

    def recall(self, now: float) -> float:
        """The chance to recall it now, 0 to 1; 0 before it was ever practised."""

    def practise(self, now: float, share: float = 1.0) -> None:
        """It is recalled (`share` 1), or told, which counts for so much of that."""


Model = Callable[[float], Trace]
"""Makes a new trace for a learner; the number says how much harder than usual the thing is for them, in units of the
model's own noise."""


def chance(strength: float, threshold: float, noise: float) -> float:
    """The chance that a noisy strength is above the threshold: the logistic that these models share."""
    odds = (threshold - strength) / noise
    return 0.0 if odds > 700 else 1 / (1 + exp(odds))
