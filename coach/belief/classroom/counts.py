"""How many of a class stand at which case of a step, and whether that is worth a show of hands.

Before anything is counted, each pupil may have any state of the step, all equally likely and independent of the others.
A count splits the class into those whose hands went up and those whose did not. All of a group are known alike, so what
is known is how likely each state is in each group, and how likely it is that the groups have these and those sizes:
exact, whatever was counted, done and counted again.

A count is worth its time if it may spare runs. It is put off while the next run has to be done anyway.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from math import comb
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.cube import Cube, claim_holds
from coach.method.unison import About, Unison, UnisonRun

COUNT: Final = 12.0
"""The seconds that a show of hands takes. This and the next are estimates without a source."""
RUN: Final = 60.0
"""The seconds that a run takes with a whole class."""
_NEVER: Final = 1e-12
"""A state less likely than this for a pupil only seems possible, for want of exact arithmetic."""
_RARE: Final = 1e-4
"""Answers rarer than this do not decide whether to ask."""


@dataclass(frozen=True)
class Misfit:
    """A count that cannot be: of `size` pupils so many were said to raise a hand, but it is at `least` and at `most`
    as many as this."""

    number: int
    size: int
    least: int
    most: int


@dataclass(frozen=True, eq=False)
class Counts:
    """What is known of `size` pupils at a step.

    `chances` [groups, states] is the chance of each state of `unison` for a pupil of each group; its rows sum to 1.
    `sizes` [ways, groups] are all ways in which the class may be split into the groups, and `weights` [ways] their
    chances, which sum to 1.
    """

    unison: Unison
    size: int
    chances: NDArray[np.float64]
    sizes: NDArray[np.int64]
    weights: NDArray[np.float64]

    @classmethod
    def of(cls, unison: Unison, size: int, states: Iterable[Cube] | None = None) -> Counts:
        """A class that begins the step, each with any of `states` (upright; by default all of the step). One state is
        a class whose cubes are all alike. Raises ValueError if there are no pupils."""
        if size < 1:
            raise ValueError("a class has at least one pupil")
        among = None if states is None else frozenset(states)
        chances = np.array([[among is None or cube in among for cube in unison.states]], np.float64)
        return cls(unison, size, chances / chances.sum(), np.array([[size]]), np.ones(1))

    @cached_property
    def present(self) -> frozenset[str]:
        """The cases at which somebody may be."""
        return frozenset(self.unison.cases[number] for number in self._states)

    @cached_property
    def plan(self) -> tuple[UnisonRun, ...]:
        """The fewest runs after which everybody is done, as far as it is known where they are."""
        return self.unison.plan_for(self._states)

    @cached_property
    def _states(self) -> frozenset[int]:
        """The numbers of the states that somebody may have."""
        return frozenset(np.flatnonzero((self.chances > _NEVER).any(axis=0)).tolist())

    def after(self, run: UnisonRun) -> Counts:
        """What is known once everybody who has one of the cases of `run` has done it, in any hold of their case."""
        return self._simplified(self.chances @ self._moves(run), self.sizes, self.weights)

    def taking_part(self, run: UnisonRun) -> int | None:
        """How many take part in a run, where that can be worked out."""
        if self.present <= {*run.cases}:
            return self.size
        parts = [self.known(case) for case in run.cases]
        return None if None in parts else sum(part or 0 for part in parts)

    def _moves(self, run: UnisonRun) -> NDArray[np.float64]:
        """[states, states] the chance of coming from one state to another."""
        moves = np.eye(len(self.unison.states))
        for case in run.cases:
            for number, reached in self.unison.goes(case, run.sequence.turns).items():
                moves[number] = 0
                for other in reached:
                    moves[number, other] += 1 / len(reached)
        return moves

    def likely(self, about: About) -> NDArray[np.float64]:
        """[size + 1] the chance of each number of hands for a case, or for a claim that is free of the front."""
        raised = self._raised(about)
        result = np.zeros(self.size + 1)
        for sizes, weight in zip(self.sizes, self.weights, strict=True):
            ways = np.ones(1)
            for number, chance in zip(sizes, raised, strict=True):
                ways = np.convolve(ways, _binomial(int(number), float(chance)))
            result += weight * ways
        return result

    def _raised(self, about: About) -> NDArray[np.float64]:
        """[groups] the chance that a pupil raises a hand; certain where it is nearly so."""
        chances = self.chances @ self._seen(about)
        chances[chances < _NEVER] = 0.0
        chances[chances > 1 - _NEVER] = 1.0
        return chances

    def _seen(self, about: About) -> NDArray[np.float64]:
        """[states] 1 where a hand goes up, otherwise 0."""
        if isinstance(about, str):
            return np.array([case == about for case in self.unison.cases], np.float64)
        return np.array([claim_holds(cube.faces, about) for cube in self.unison.states], np.float64)

    def known(self, about: About) -> int | None:
        """The number of hands, where it can be worked out and need not be asked."""
        possible = self._possible(about)
        return int(possible[0]) if len(possible) == 1 else None

    def _possible(self, about: About) -> NDArray[np.intp]:
        return np.flatnonzero(self.likely(about))

    def misfit(self, about: About, number: int) -> Misfit | None:
        """Why so many hands cannot have gone up; None if it may be."""
        possible = self._possible(about)
        if number in possible:
            return None
        return Misfit(number, self.size, int(possible[0]), int(possible[-1]))

    def told(self, about: About, number: int) -> Counts:
        """What is known once `number` hands have gone up. Raises ValueError where `misfit` says that this cannot be."""
        raised = self._raised(about)
        parts = [(group, up) for group, chance in enumerate(raised) for up in (True, False) if chance != float(not up)]
        sizes, weights = self._split(raised, number)
        if not len(weights):
            raise ValueError(f"{number} hands cannot have gone up: {self.misfit(about, number)}")
        seen = self._seen(about)
        chances = np.array([self.chances[group] * (seen if up else 1 - seen) for group, up in parts])
        return self._simplified(chances / chances.sum(axis=1, keepdims=True), sizes, weights)

    def _split(self, raised: NDArray[np.float64], number: int) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """[ways, parts] the sizes of the parts of each group with their hands up and down (only those that there may
        be), and [ways] the weights, where `number` hands went up in all."""
        rows, up, weights = np.arange(len(self.sizes)), np.zeros(len(self.sizes), np.int64), self.weights
        columns: list[NDArray[np.int64]] = []
        for group, chance in enumerate(raised.tolist()):
            here = self.sizes[rows, group]
            if chance in (0.0, 1.0):
                up = up + here * int(chance)
                columns.append(here)
                continue
            again = np.repeat(np.arange(len(rows)), here + 1)
            hands = np.concatenate([np.arange(size + 1) for size in here.tolist()])
            share = np.concatenate([_binomial(size, chance) for size in here.tolist()])
            kept = up[again] + hands <= number
            again, hands, share = again[kept], hands[kept], share[kept]
            columns = [column[again] for column in columns]
            columns += [hands, here[again] - hands]
            rows, up, weights = rows[again], up[again] + hands, weights[again] * share
        fits = up == number
        return np.stack(columns, axis=1)[fits], weights[fits]

    def _simplified(
        self, chances: NDArray[np.float64], sizes: NDArray[np.int64], weights: NDArray[np.float64]
    ) -> Counts:
        """The same knowledge without groups that have no pupils; groups that are known alike are one."""
        there = (sizes > 0).any(axis=0)
        chances, sizes = chances[there], sizes[:, there]
        _, first, which = np.unique(chances.round(9), axis=0, return_index=True, return_inverse=True)
        joined = np.stack([sizes[:, which.ravel() == group].sum(axis=1) for group in range(len(first))], axis=1)
        ways, way = np.unique(joined, axis=0, return_inverse=True)
        together = np.bincount(way.ravel(), weights)
        return replace(self, chances=chances[first], sizes=ways, weights=together / together.sum())

    @cached_property
    def question(self) -> str | None:
        """The case to ask for before the next run; None if no count is worth its time now."""
        if not self.plan:
            return None
        asked = self._best_question
        going_on = self.after(self.plan[0])
        later = RUN + min(going_on._best_question[0], RUN * len(going_on.plan))
        return asked[1] if asked[0] < min(RUN * len(self.plan), later) else None

    @cached_property
    def _best_question(self) -> tuple[float, str]:
        """The least seconds to the end of the step with one count now, and the case to count."""
        options = ((self._seconds(case.id), case.id) for case in self.unison.step.cases if case.id in self.present)
        return min(options, key=lambda option: option[0], default=(np.inf, ""))

    def _seconds(self, case: str) -> float:
        """The expected seconds to the end of the step if the pupils with that case are counted now."""
        chances = self.likely(case)
        answers = np.flatnonzero(chances > _RARE)
        runs = sum(chances[number] * len(self.told(case, int(number)).plan) for number in answers)
        return COUNT + RUN * float(runs / chances[answers].sum())


def _binomial(size: int, chance: float) -> NDArray[np.float64]:
    """[size + 1] the chance of each number of successes in `size` tries."""
    number = np.arange(size + 1)
    ways = np.array([comb(size, each) for each in range(size + 1)], np.float64)
    return np.asarray(ways * chance**number * (1 - chance) ** (size - number))
