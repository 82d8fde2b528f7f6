"""Activation: each practice fades by a power law, the faster the more active the memory was when it was practised.

Pavlik & Anderson 2005, Cognitive Science 29:559, after the base-level activation of ACT-R. The formula and the values
of `a` and `c` are as in the code that ACT-R's authors publish with the paper's own example; `tau`, `s` and `h` are from
memory. That being told counts for a share of a recall is as in Pavlik 2007, Instructional Science 35:407 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import exp, inf, log

from coach.simulation.memory.trace import DAY, chance

_AT_LEAST = 1.0
"""Seconds; no practice is more recent, since the power law has no value at 0."""


@dataclass(frozen=True)
class Fading:
    """How a learner's memory fades: `a` the least decay, `c` how much activation adds to it, `tau` the threshold of
    recall, `s` its noise, and `h` how fast time runs between days, when less comes in between."""

    a: float = 0.177
    c: float = 0.217
    tau: float = -0.704
    s: float = 0.255
    h: float = 0.025


@dataclass
class Activation:
    """A trace. Each practice is kept with its time, its decay and its share."""

    fading: Fading = field(default_factory=Fading)
    harder: float = 0.0
    practices: list[tuple[float, float, float]] = field(default_factory=list)

    def activation(self, now: float) -> float:
        """How active the memory is; minus infinity before the first practice."""
        strength = sum(share * self._since(then, now) ** -decay for then, decay, share in self.practices)
        return log(strength) if strength else -inf

    def recall(self, now: float) -> float:
        """The chance to recall it now."""
        return chance(self.activation(now), self.fading.tau + self.harder * self.fading.s, self.fading.s)

    def practise(self, now: float, share: float = 1.0) -> None:
        """Add a practice, whose decay follows from the activation before it."""
        decay = self.fading.a + self.fading.c * exp(self.activation(now))
        self.practices.append((now, decay, share))

    def _since(self, then: float, now: float) -> float:
        same = then // DAY == now // DAY
        return max(_AT_LEAST, (now - then) * (1.0 if same else self.fading.h))


def model(fading: Fading) -> Callable[[float], Activation]:
    """Traces of a learner with this memory."""
    return lambda harder: Activation(fading, harder)
