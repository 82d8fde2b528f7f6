"""Half-lives: recall halves in a time that grows with each recall.

The form of half-life regression, Settles & Meeder 2016, Proceedings of ACL, page 1848: the half-life in days is two to
the power of a weighted sum of the square roots of one more than the counts, between 15 minutes and nine months (from
memory). The weights are chosen here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import sqrt

from coach.simulation.memory.trace import DAY

_SHORTEST, _LONGEST = 15 / (24 * 60), 274.0
"""Days."""


@dataclass(frozen=True)
class Weights:
    """What the half-life of a learner's memory depends on: a constant, and what recalls add."""

    constant: float = -4.1
    recalls: float = 2.2


@dataclass
class HalfLife:
    """A trace, with what its practices count for together and the time of the last."""

    weights: Weights = field(default_factory=Weights)
    harder: float = 0.0
    count: float = 0.0
    last: float = 0.0

    @property
    def days(self) -> float:
        """The half-life. Being harder takes as much from the exponent as it adds noise elsewhere."""
        power = self.weights.constant + self.weights.recalls * sqrt(1 + self.count) - self.harder
        return float(min(max(2**power, _SHORTEST), _LONGEST))

    def recall(self, now: float) -> float:
        """The chance to recall it now."""
        return float(2 ** (-(now - self.last) / DAY / self.days)) if self.count else 0.0

    def practise(self, now: float, share: float = 1.0) -> None:
        """Add a practice, which counts for so much."""
        self.count += share
        self.last = now


def model(weights: Weights) -> Callable[[float], HalfLife]:
    """Traces of a learner with this memory."""
    return lambda harder: HalfLife(weights, harder)
