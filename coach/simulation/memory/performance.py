"""The predictive performance equation: practice helps by a power law, time takes by another, and spacing slows it.

Walsh, Gluck, Gunzelmann, Jastrzembski & Krusmark 2018, Cognitive Science 42:644; the formulas as Anderson et al. 2023,
Psychological Review 130:1137, equations 6, A3 and A4, state them. `c` and `x` as usual, `b`, `m` and `s` near published
values (all from memory); `tau` is chosen here, so that some practices on one day leave even odds for the next.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import e, log

from coach.simulation.memory.trace import chance

_AT_LEAST = 1.0
"""Seconds; no practice is more recent."""


@dataclass(frozen=True)
class Spacing:
    """How a learner's memory works: `c` growth with practice, `x` the weight of recent practices, `b` the least decay,
    `m` what lack of spacing adds to it, `tau` the threshold of recall and `s` its noise."""

    c: float = 0.1
    x: float = 0.6
    b: float = 0.04
    m: float = 0.08
    tau: float = 0.6
    s: float = 0.04


@dataclass
class Performance:
    """A trace, with the times of all practices and what they count for together."""

    spacing: Spacing = field(default_factory=Spacing)
    harder: float = 0.0
    times: list[float] = field(default_factory=list)
    count: float = 0.0

    def age(self, now: float) -> float:
        """The mean time since the practices, the recent ones weighing most."""
        ages = [max(_AT_LEAST, now - then) for then in self.times]
        return float(sum(age ** (1 - self.spacing.x) for age in ages) / sum(age**-self.spacing.x for age in ages))

    @property
    def decay(self) -> float:
        """How fast it fades. A single practice, of which the paper says nothing, is as if without any spacing."""
        lags = [later - earlier for earlier, later in zip(self.times, self.times[1:], strict=False)] or [0.0]
        return self.spacing.b + self.spacing.m * sum(1 / log(lag + e) for lag in lags) / len(lags)

    def recall(self, now: float) -> float:
        """The chance to recall it now."""
        if not self.times:
            return 0.0
        strength = self.count**self.spacing.c * self.age(now) ** -self.decay
        return chance(strength, self.spacing.tau + self.harder * self.spacing.s, self.spacing.s)

    def practise(self, now: float, share: float = 1.0) -> None:
        """Add a practice, which counts for so much."""
        self.times.append(now)
        self.count += share


def model(spacing: Spacing) -> Callable[[float], Performance]:
    """Traces of a learner with this memory."""
    return lambda harder: Performance(spacing, harder)
