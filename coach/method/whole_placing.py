"""A step that places pieces as a whole: every way in which its pieces can lie, followed until all are home.

The learner is free to choose between pieces that are next in the same way, so every choice is followed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from statistics import fmean

from coach.cube import PLACE_NAMES, POSITIONS, inverse
from coach.method.errors import MethodError
from coach.method.placing import PlacingStep, layer_of, moved
from coach.method.placing_proof import placements

_State = tuple[int, ...]
"""For each piece of the step where its first sticker is, which tells how it lies."""


@dataclass(frozen=True)
class WholePlacing:
    """Over all states of a step's pieces: face turns until they are home, the next piece being any of those that the
    step allows (`mean_turns`: each as likely)."""

    states: int
    mean_turns: float
    worst_turns: int


@dataclass(frozen=True)
class _Deed:
    """What one move for a piece does, seen from the hold at the start: where it takes what is at each place."""

    goes: tuple[int, ...]
    turns: int


def every_state(step: PlacingStep) -> WholePlacing:
    """Follow every state to its end. Raises MethodError where one does not end."""
    return _Walk(step).proof()


class _Walk:
    def __init__(self, step: PlacingStep) -> None:
        self.step = step
        self.home = tuple(POSITIONS[piece][0] for piece in step.pieces)
        self.ways = [{p[0]: p for p in placements(step, piece)} for piece in step.pieces]
        self.layer = {first: layer_of(p) for ways in self.ways for first, p in ways.items()}
        self.deeds = [
            {first: _deed(step, piece, p) for first, p in ways.items() if p != POSITIONS[piece]}
            for piece, ways in zip(step.pieces, self.ways, strict=True)
        ]
        self.found: dict[_State, tuple[float, int] | None] = {self.home: (0.0, 0)}

    def proof(self) -> WholePlacing:
        ends = [self._turns(state) for state in self._states()]
        return WholePlacing(len(ends), fmean(mean for mean, _ in ends), max(worst for _, worst in ends))

    def _states(self) -> Iterator[_State]:
        """All ways in which the pieces can lie, no two in one position."""
        where = [{first: frozenset(p) for first, p in ways.items()} for ways in self.ways]
        for state in product(*self.ways):
            if len({where[i][first] for i, first in enumerate(state)}) == len(state):
                yield state

    def _turns(self, state: _State) -> tuple[float, int]:
        """The turns from there to the end: in the mean, and at most."""
        if state in self.found:
            known = self.found[state]
            if known is None:
                raise self._endless(state)
            return known
        self.found[state] = None  # on the way: who comes here again goes round for ever
        ends = []
        for number in self._next(state):
            deed = self.deeds[number][state[number]]
            mean, worst = self._turns(tuple(deed.goes[place] for place in state))
            ends.append((deed.turns + mean, deed.turns + worst))
        result = self.found[state] = fmean(mean for mean, _ in ends), max(worst for _, worst in ends)
        return result

    def _next(self, state: _State) -> list[int]:
        """The numbers of the pieces that may be next."""
        away = [number for number, place in enumerate(state) if place != self.home[number]]
        for layer in self.step.layers:
            if found := [number for number in away if self.layer[state[number]] == layer]:
                return found
        raise AssertionError("the step names every layer: it is proven")

    def _endless(self, state: _State) -> MethodError:
        where = ", ".join(
            f"{piece} at {PLACE_NAMES[first]}" for piece, first in zip(self.step.pieces, state, strict=True)
        )
        return MethodError(
            f"Step {self.step.id!r} does not end: it comes back to where it was, {where}. Check next and the cases."
        )


def _deed(step: PlacingStep, piece: str, placement: tuple[int, ...]) -> _Deed:
    move = step.move(placement, POSITIONS[piece])
    turns = (*move.turns, *inverse(move.rotation))
    return _Deed(moved(tuple(range(54)), turns), len(move.top) + len(move.sequence))
