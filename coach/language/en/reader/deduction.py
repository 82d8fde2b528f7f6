"""What follows from several uncertain statements taken together.

Each statement has options, and each option leaves some worlds: states of the top, ways a piece can lie. A choice of one
option a statement says what is left by all of them; choices that leave the same say the same, and their chances add up.
What leaves nothing contradicts itself.
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
    """Statements about the same worlds; `statements` are arrays of options x worlds, true where the world is left."""

    def __init__(self, statements: Sequence[Flags]) -> None:
        self.worlds = statements[0].shape[1]
        self._sizes = tuple(map(len, statements))
        left = reduce(lambda so_far, one: (so_far[:, None] & one[None]).reshape(-1, self.worlds), statements)
        _, first, self._group = np.unique(np.packbits(left, 1), axis=0, return_index=True, return_inverse=True)
        self._group = self._group.reshape(-1)
        self.left: Flags = left[first]
        """What each group of choices leaves: groups x worlds."""

    def chances(self, logs: Sequence[NDArray[np.float32]]) -> Chances:
        """The chance of each group, from the log of the chance of every option of every statement."""
        joint = reduce(lambda so_far, one: np.add.outer(so_far, one).reshape(-1), map(np.float64, logs))
        return np.asarray(np.bincount(self._group, np.exp(joint), len(self.left)), np.float64)


UNEXPECTED: Final = 0.1
"""The weight of a world in which something is otherwise than the coach believes, beside those in which nothing is: a
slip is not explained away."""
_CONTRADICTED: Final = 0.1
"""The weight of what contradicts itself, beside what does not: no cube looks so, but somebody may say it."""


def weighed(chances: Chances, left: Flags, worlds: Chances) -> tuple[Chances, float]:
    """The chances of groups, each weighed with its likeliest world, and the chance that what was said contradicts
    itself; all of them add up to 1."""
    absurd = ~left.any(1)
    weights = np.where(absurd, 0.0, chances * (left * worlds).max(1))
    contradicted = float(chances[absurd].sum()) * _CONTRADICTED
    whole = max(float(weights.sum()) + contradicted, 1e-12)
    return np.asarray(weights / whole, np.float64), contradicted / whole
