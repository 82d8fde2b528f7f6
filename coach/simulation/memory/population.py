"""Simulated people: memories and habits that differ, for choosing a design, and others for judging it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import exp
from random import Random
from typing import Final

from coach.simulation.memory import activation, halflife, performance
from coach.simulation.memory.mind import Habits, Maker
from coach.simulation.memory.trace import Model


def _about(random: Random, value: float, spread: float) -> float:
    """A positive value that differs from person to person by this share."""
    return value * exp(random.gauss(0, spread))


def _habits(random: Random) -> Habits:
    """Guesses, as wide as they are unsure."""
    return Habits(
        study=random.uniform(0.3, 0.8), slips=random.uniform(0.005, 0.03), asks=random.uniform(0.3, 0.9),
        notices=random.uniform(0.2, 0.8), joins=random.choice((2, 3, 4, 6)),
    )  # fmt: skip


def _published(random: Random) -> Model:
    """The published values, with the threshold differing by its noise."""
    return activation.model(activation.Fading(tau=random.gauss(-0.704, 0.1)))


def _activation(random: Random) -> Model:
    return activation.model(activation.Fading(
        a=_about(random, 0.177, 0.15), c=_about(random, 0.217, 0.2), tau=random.gauss(-0.704, 0.25),
        s=_about(random, 0.255, 0.2), h=_about(random, 0.025, 0.3),
    ))  # fmt: skip


def _performance(random: Random) -> Model:
    return performance.model(performance.Spacing(
        c=_about(random, 0.1, 0.1), b=_about(random, 0.04, 0.1), m=_about(random, 0.08, 0.15),
        tau=random.gauss(0.6, 0.02), s=_about(random, 0.04, 0.2),
    ))  # fmt: skip


def _halflife(random: Random) -> Model:
    return halflife.model(halflife.Weights(random.gauss(-4.1, 0.4), _about(random, 2.2, 0.1)))


def _people(model: Callable[[Random], Model], habits: Callable[[Random], Habits]) -> Maker:
    return lambda random: (model(random), habits(random))


CHOSEN_ON: Final[Mapping[str, Maker]] = {
    "activation, published": _people(_published, lambda random: Habits()),
    "half-lives": _people(_halflife, lambda random: Habits()),
}
"""On these, designs may be tuned."""
JUDGED_ON: Final[Mapping[str, Maker]] = {
    "activation, varied": _people(_activation, _habits),
    "predictive performance": _people(_performance, _habits),
}
"""On these they are judged: nothing may be tuned on them."""
