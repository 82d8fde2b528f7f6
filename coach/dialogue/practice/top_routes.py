"""From any state of the last layer into any case of it: the fewest turns, made up of the method's own sequences,
forwards or backwards, and of turns of the top.

The states are as seen in the learner's hold. No way ends in a case from which the case's own sequence, in the same
hold, takes back the sequence just called: that would give the answer away. A turn of the top in between is enough. The
tables take half a second and as long for every few cases, once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.cube import FACE_PLACES, FACES, PLACE_NUMBER, POSITIONS, Cube, Turn, inverse, write
from coach.method import Case, Method, Step
from coach.method.last_layer import build, orders, orientation_states
from coach.method.placing import TOP_TURNS

Numbers: TypeAlias = NDArray[np.int32]
Codes: TypeAlias = NDArray[np.int64]

NEVER: Final = 10_000
"""Stands in for the number of turns where no way leads into the case."""
_STRIDE: Final = 2_654_435
"""Examples with neighbouring numbers lie so far apart among the states, which is no multiple of their number."""
_CODED: Final = [places[0] for name, places in POSITIONS.items() if "U" in name]
"""The places that tell the states apart."""
_UP: Final = list(FACE_PLACES["U"])
_TOP_LAYER: Final = [place for name, places in POSITIONS.items() if "U" in name for place in places]


@dataclass(frozen=True, eq=False)
class _Case:
    """By state: whether it is the case, and the state after the sequence if it is done in the same hold, as the lowest
    number among those that differ by a turn of the top; -1 where the case is not held so."""

    there: NDArray[np.bool_]
    after: Numbers


@dataclass(frozen=True, eq=False)
class _Ways:
    """By state: the number of face turns into the case, the piece of the way that comes first, and the number of the
    turn of the top that ends the way after it; -1 if the way goes on."""

    turns: Numbers
    first: Numbers
    last: Numbers


class TopRoutes:
    """The ways into the cases of a method's steps on top."""

    def __init__(self, method: Method) -> None:
        self.method = method
        named = {case.named for step in method.top_steps for case in step.cases if case.named}
        found = {way for each in named for way in (each.turns, inverse(each.turns))}
        sequences = sorted(found, key=lambda turns: (len(turns), write(turns)))
        self._pieces = [top + turns for turns in sequences for top in TOP_TURNS]
        self._ways: dict[tuple[str, str], _Ways] = {}

    def turns(self, cube: Cube, step: Step, case: Case) -> tuple[Turn, ...] | None:
        """The turns from `cube`, held upright with both lower layers whole, into the case; None if there is no way. The
        case is reached in some hold: the whole cube is never turned."""
        state = self._number(_codes(np.frombuffer(cube.stickers, np.uint8)[None, :]))[0]
        if state < 0:
            return None
        if self._case(step, case).there[state]:
            return ()
        ways = self.ways(step, case)
        turns: tuple[Turn, ...] = ()
        if ways.turns[state] >= NEVER:
            return None
        while True:
            at = ways.first[state]
            turns += self._pieces[at]
            if ways.last[state] >= 0:
                return turns + TOP_TURNS[ways.last[state]]
            state = self._next[at][state]

    def counts(self, step: Step, case: Case) -> Numbers:
        """The number of face turns into the case from each state; NEVER where there is no way."""
        return np.where(self._case(step, case).there, np.int32(0), self.ways(step, case).turns)

    def example(self, step: Step, case: Case, number: int) -> Cube:
        """A cube in the case, another one for another number."""
        there = np.flatnonzero(self._case(step, case).there)
        return Cube(self._states[there[number * _STRIDE % len(there)]].tobytes())

    def ways(self, step: Step, case: Case) -> _Ways:
        """The ways into one case from all states."""
        key = step.id, case.id
        if key not in self._ways:
            self._ways[key] = self._search(self._case(step, case))
        return self._ways[key]

    # The states

    @cached_property
    def _states(self) -> NDArray[np.uint8]:
        """All states as stickers [n, 54] in the order of their codes: each order of the pieces, lying in each way."""
        lying = np.array([np.frombuffer(cube.stickers, np.uint8) for cube in orientation_states()])
        placed = (np.frombuffer(build(edges=edges, corners=corners).stickers, np.uint8) for edges, corners in orders())
        found = np.concatenate([lying[:, order] for order in placed])
        return found[np.argsort(_codes(found))]

    @cached_property
    def _known_codes(self) -> Codes:
        return _codes(self._states)

    def _number(self, codes: Codes) -> Numbers:
        """The numbers of the states with these codes; -1 for one that is not among them."""
        known = self._known_codes
        at = np.minimum(np.searchsorted(known, codes), len(known) - 1)
        return np.where(known[at] == codes, at, -1).astype(np.int32)

    def _after(self, turns: tuple[Turn, ...]) -> Numbers:
        return self._number(_codes(self._states, turns))

    @cached_property
    def _next(self) -> list[Numbers]:
        """By step of a way, the state that each state leads to."""
        return [self._after(turns) for turns in self._pieces]

    @cached_property
    def _but_for_top(self) -> Numbers:
        """By state, the lowest number among the states that differ by a turn of the top."""
        lowest: Numbers = np.min(self._top, axis=0)
        return lowest

    @cached_property
    def _top(self) -> list[Numbers]:
        """By turn of the top, the state that each state leads to."""
        return [self._after(top) for top in TOP_TURNS]

    def _case(self, step: Step, case: Case) -> _Case:
        return self._cases[step.id][case.id]

    @cached_property
    def _cases(self) -> dict[str, dict[str, _Case]]:
        return {step.id: self._cases_of(step) for step in self.method.top_steps}

    def _cases_of(self, step: Step) -> dict[str, _Case]:
        seen = self._states // 9 if step.permutes else np.isin(self._states, _UP)
        places = [PLACE_NUMBER[place] for place in self._shown_before(step)]
        ready = np.flatnonzero(np.isin(self._states[:, places], _UP).all(axis=1))
        views = seen[ready][:, _TOP_LAYER] @ len(FACES) ** np.arange(len(_TOP_LAYER))
        _, examples, alike = np.unique(views, return_index=True, return_inverse=True)
        patterns = [Cube(self._states[at].tobytes()).faces for at in ready[examples]]
        fits = [step.case_of(pattern) if step.ready(pattern) else None for pattern in patterns]
        result = {}
        for case in step.cases:
            there, held = np.zeros((2, len(self._states)), bool)
            there[ready] = np.array([fit is case for fit in fits])[alike]
            holds = [fit is case and case.hold.holds(pattern) for fit, pattern in zip(fits, patterns, strict=True)]
            held[ready] = np.array(holds)[alike]
            result[case.id] = _Case(there, np.where(held, self._but_for_top[self._after(case.sequence)], -1))
        return result

    def _shown_before(self, step: Step) -> set[str]:
        """The places that show the top colour before the step: a step relies on all the steps before it."""
        steps = self.method.top_steps
        return {place for each in steps[: steps.index(step) + 1] for place in each.needs.shows}

    def _search(self, case: _Case) -> _Ways:
        """The fewest turns from every state: first by one step, then by more until nothing gets shorter."""
        turns = np.full(len(self._states), NEVER, np.int32)
        first = np.zeros(len(self._states), np.int32)
        last = np.full(len(self._states), -1, np.int32)
        costs = [len(piece) for piece in self._pieces]
        for at, after in enumerate(self._next):
            for top, turned in enumerate(self._top):
                end, cost = turned[after], costs[at] + len(TOP_TURNS[top])
                better = case.there[end] & (case.after[end] != self._but_for_top) & (turns > cost)
                turns[better], first[better], last[better] = cost, at, top
        shorter = True
        while shorter:
            shorter = False
            for at, after in enumerate(self._next):
                through = costs[at] + turns[after]
                better = through < turns
                if better.any():
                    turns[better], first[better], last[better] = through[better], at, -1
                    shorter = True
        return _Ways(turns, first, last)


def _permutation(turns: tuple[Turn, ...]) -> NDArray[np.uint8]:
    return np.frombuffer(Cube().do(turns).stickers, np.uint8)


def _codes(stickers: NDArray[np.uint8], turns: tuple[Turn, ...] = ()) -> Codes:
    """A number for each state, once it has been turned."""
    codes = np.zeros(len(stickers), np.int64)
    for place in _permutation(turns)[_CODED]:
        codes = codes * 54 + stickers[:, place]
    return codes
