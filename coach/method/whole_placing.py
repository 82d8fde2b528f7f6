"""A step that places pieces as a whole: every state of its pieces is followed until all are home.

The learner is free to choose between pieces that may be next, so every choice is followed.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from coach.cube import PLACE_NAMES, POSITIONS, inverse
from coach.method.errors import MethodError
from coach.method.placing import PlacingStep, layer_of, moved
from coach.method.placing_proof import placements

_Numbers = NDArray[np.intp]


@dataclass(frozen=True)
class WholePlacing:
    """Face turns until a step's pieces are home, over all their states. The next piece may be any that the step
    allows (all equally likely for `mean_turns`)."""

    states: int
    mean_turns: float
    worst_turns: int


def every_state(step: PlacingStep) -> WholePlacing:
    """Follow every state of a proven step to its end. Raises MethodError if one does not end."""
    walk = _Walk(step)
    mean, worst = walk.ends()
    return WholePlacing(len(mean), float(mean.mean()), int(worst.max()))


class _Walk:
    """A walk over all states at once. A piece's spot is the number of the place where its first sticker is."""

    def __init__(self, step: PlacingStep) -> None:
        self.step = step
        self.lies = {placement[0]: placement for placement in placements(step, step.pieces[0])}
        self.spots = sorted(self.lies)
        self.home = [self.spots.index(POSITIONS[piece][0]) for piece in step.pieces]
        self.states = self._states()
        self.number = self._numbers(self.states)

    def ends(self) -> tuple[NDArray[np.float64], _Numbers]:
        """The turns from each state to its end: on average, and at most."""
        allowed = self._allowed()
        after, turns = zip(*(self._moves(i) for i in range(len(self.home))), strict=True)
        count = allowed.sum(axis=0)
        mean = np.zeros(len(self.spots) ** len(self.home))
        worst = np.full(len(mean), -1)
        worst[self._numbers(np.array(self.home))] = 0
        open_ = np.flatnonzero(worst[self.number] < 0)
        while len(open_):
            then = [worst[states[open_]] for states in after]
            ripe = np.all([~allowed[i, open_] | (then[i] >= 0) for i in range(len(then))], axis=0)
            if not ripe.any():
                raise self._endless(self.states[:, open_[0]])
            now = open_[ripe]
            for i, states in enumerate(after):
                free, at = allowed[i, now], self.number[now]
                mean[at] += np.where(free, (turns[i][now] + mean[states[now]]) / count[now], 0)
                worst[at] = np.maximum(worst[at], np.where(free, turns[i][now] + worst[states[now]], -1))
            open_ = open_[~ripe]
        return mean[self.number], worst[self.number]

    def _states(self) -> _Numbers:
        """All ways in which the pieces can lie, no two in the same position: a row for each piece."""
        position = np.array([min(self.lies[spot]) for spot in self.spots])
        every = np.indices((len(self.spots),) * len(self.home)).reshape(len(self.home), -1)
        pairs = combinations(range(len(every)), 2)
        return every[:, np.all([position[every[a]] != position[every[b]] for a, b in pairs], axis=0)]

    def _numbers(self, states: _Numbers) -> _Numbers:
        """A number for each state."""
        return np.asarray(np.ravel_multi_index(tuple(states), (len(self.spots),) * len(self.home)))

    def _allowed(self) -> NDArray[np.bool_]:
        """Which pieces may be next in each state: those not at home in the first layer that has any."""
        layers = [*self.step.layers, ""]
        rank = np.array([layers.index(layer_of(self.lies[spot])) for spot in self.spots])
        away = np.array([row != home for row, home in zip(self.states, self.home, strict=True)])
        ranks = np.where(away, rank[self.states], len(layers))
        return np.asarray(away & (ranks == ranks.min(axis=0)))

    def _moves(self, number: int) -> tuple[_Numbers, _Numbers]:
        """The state after the move for that piece from each state, and the turns of the move."""
        deeds = [self._deed(self.step.pieces[number], spot) for spot in self.spots]
        goes, turns = np.array([goes for goes, _ in deeds]), np.array([turns for _, turns in deeds])
        spot = self.states[number]
        return self._numbers(goes[spot, self.states]), turns[spot]

    def _deed(self, piece: str, first: int) -> tuple[list[int], int]:
        """Where the move for a piece at spot `first` takes what is at each spot, in the hold at the start."""
        lies = next(p for p in placements(self.step, piece) if p[0] == first)
        if lies == POSITIONS[piece]:
            return [*range(len(self.spots))], 0
        move = self.step.move(lies, POSITIONS[piece])
        goes = moved(tuple(self.spots), (*move.turns, *inverse(move.rotation)))
        return [self.spots.index(place) for place in goes], len(move.top) + len(move.sequence)

    def _endless(self, state: _Numbers) -> MethodError:
        first = [PLACE_NAMES[self.spots[spot]] for spot in state]
        where = ", ".join(f"{piece} at {at}" for piece, at in zip(self.step.pieces, first, strict=True))
        return MethodError(
            f"Step {self.step.id!r} does not end: it comes back to where it was, {where}. Check next and the cases."
        )
