"""What follows from several uncertain statements together.

Each statement has options, and each option leaves some worlds: states of the top, ways a piece can lie. Choosing one
option per statement leaves the worlds common to all; choices that leave the same worlds are equivalent, and their
probabilities add up. A choice that leaves none contradicts itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from typing import Final

import numpy as np
from numpy.typing import NDArray

Flags = NDArray[np.bool_]
Chances = NDArray[np.float64]


class Space:
    """Statements about the same worlds; `statements` are arrays of options x worlds, true if the world is left."""

    def __init__(self, statements: Sequence[Flags]) -> None:
        self.worlds = statements[0].shape[1]
        self._sizes = tuple(map(len, statements))
        left = reduce(lambda so_far, one: (so_far[:, None] & one[None]).reshape(-1, self.worlds), statements)
        _, first, self._group = np.unique(np.packbits(left, 1), axis=0, return_index=True, return_inverse=True)
        self._group = self._group.reshape(-1)
        self.left: Flags = left[first]
        """The worlds left by each group of equivalent choices: groups x worlds."""

    def chances(self, logs: Sequence[NDArray[np.float32]]) -> Chances:
        """The probability of each group, from the log probability of every option of every statement."""
        joint = reduce(lambda so_far, one: np.add.outer(so_far, one).reshape(-1), map(np.float64, logs))
        return np.asarray(np.bincount(self._group, np.exp(joint), len(self.left)), np.float64)


UNEXPECTED: Final = 0.1
"""The prior weight of a world that differs from what the coach believes, relative to one that does not: a slip is not
explained away."""
_CONTRADICTED: Final = 0.1
"""The relative weight of a contradiction: no cube looks like that, but somebody may say it."""


def weighed(chances: Chances, left: Flags, worlds: Chances) -> tuple[Chances, float]:
    """The posterior of the groups, each weighted with its likeliest world, and the probability that what was said
    contradicts itself; they add up to 1."""
    absurd = ~left.any(1)
    weights = np.where(absurd, 0.0, chances * (left * worlds).max(1))
    contradicted = float(chances[absurd].sum()) * _CONTRADICTED
    whole = max(float(weights.sum()) + contradicted, 1e-12)
    return np.asarray(weights / whole, np.float64), contradicted / whole
