"""Many cubes in unison: the fewest runs that bring all of them to the goal of a step, and claims to hold them by.

Everybody does the sequence of their own case, in the hold of that case, whenever it is called; the others rest. To do
it at once is never worse than to wait, so all that a plan decides is which sequence to call next. Whoever takes part
may have any pattern of their case and may have taken any hold that the method allows: a plan serves them all.

A claim is about stickers as the cube is held now. U and D stand for the colours of the top and the bottom, F, R, B and
L for those of the sides, whichever way round these are. What is asked of a show of hands names no side, because a
raised hand loses the hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from heapq import heappop, heappush
from itertools import count, permutations
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.cube import FACES, PLACE_NAMES, PLACE_NUMBER, Claim, Cube, Turn
from coach.method.last_layer import every_order, lower_layers_whole, orientation_of, orientation_states
from coach.method.method import Method
from coach.method.model import TOP_CORNERS, TOP_EDGES, TURNS_ABOUT_UP, Case, Condition, Step
from coach.method.sequences import NamedSequence

About: TypeAlias = str | Claim
"""What hands go up for, or who takes part: the id of a case, or a claim."""
Way: TypeAlias = tuple[Claim, Turn]
"""Who sees the claim turns the whole cube like this."""

_SIDES: Final = "FRBL"
_ROTATIONS: Final = tuple(turn for turns in TURNS_ABOUT_UP for turn in turns)
"""Those of TURNS_ABOUT_UP that turn anything, in the same order."""
_TOP: Final = tuple(f"U{place}" for place in range(9))
_BOTTOM: Final[Claim] = tuple((f"D{place}", "D") for place in range(9))
_BESIDE: Final = {
    "U0": ("L0", "B2"), "U2": ("B0", "R2"), "U6": ("F0", "L2"), "U8": ("R0", "F2"),
    "U1": ("B1",), "U3": ("L1",), "U5": ("R1",), "U7": ("F1",),
}  # fmt: skip
"""The other stickers of each piece of the top."""


@dataclass(frozen=True)
class UnisonRun:
    """One sequence for all who have one of these `cases`, each in the hold of their own; the others rest."""

    sequence: NamedSequence
    cases: tuple[str, ...]


@dataclass(frozen=True)
class TopTurn:
    """A last turn of the top, for who sees one of the claims `seen`, whichever side is in front."""

    turn: Turn
    seen: tuple[Claim, ...]


class Unison:
    """A step of the kind "look" for many cubes at once. `states` has all that the step may begin with, upright."""

    def __init__(self, step: Step, states: Iterable[Cube]) -> None:
        self.step = step
        self.states = tuple(states)
        self._numbers = {cube: number for number, cube in enumerate(self.states)}
        self._cases = {case.id: case for case in step.cases}
        self._goes: dict[tuple[str, tuple[Turn, ...]], Mapping[int, tuple[int, ...]]] = {}
        self._plans: dict[frozenset[int], tuple[UnisonRun, ...]] = {}

    @cached_property
    def cases(self) -> tuple[str, ...]:
        """The id of the case of each state."""
        return tuple(self.step.case_of(cube.faces).id for cube in self.states)

    @cached_property
    def done(self) -> str:
        """The id of the case in which nothing is left to do."""
        return next(case.id for case in self.step.cases if not case.named)

    def of_case(self, *cases: str) -> frozenset[int]:
        """The numbers of the states that are one of `cases`."""
        return frozenset(number for number, case in enumerate(self.cases) if case in cases)

    def goes(self, case: str, turns: tuple[Turn, ...]) -> Mapping[int, tuple[int, ...]]:
        """For each state of `case`, by number, the states that `turns` lead to, one for every hold of the case. Raises
        ValueError for turns that undo what the step needs."""
        key = (case, turns)
        if key not in self._goes:
            self._goes[key] = {number: tuple(self._after(number, turns)) for number in sorted(self.of_case(case))}
        return self._goes[key]

    def _after(self, number: int, turns: tuple[Turn, ...]) -> Iterator[int]:
        cube = self.states[number]
        for hold in self._cases[self.cases[number]].holds(cube.faces):
            result = cube.do(hold).do(turns).upright
            if not lower_layers_whole(result):
                raise ValueError("these turns undo the lower layers")
            result = result if self.step.permutes else orientation_of(result)
            if result not in self._numbers:
                raise ValueError(f"these turns undo what the step {self.step.id!r} needs")
            yield self._numbers[result]

    def after(self, case: str, sequence: NamedSequence) -> frozenset[str]:
        """The cases that a cube of `case` may be after `sequence`, begun in any hold of its case."""
        return frozenset(self.cases[n] for reached in self.goes(case, sequence.turns).values() for n in reached)

    def run(self, states: frozenset[int], sequence: NamedSequence) -> frozenset[int]:
        """What `states` (by number) may have become once all have done `sequence` whose own it is."""
        found: set[int] = set()
        for number in states:
            case = self._cases[self.cases[number]]
            mine = case.named and case.named.id == sequence.id
            found.update(self.goes(case.id, case.sequence)[number] if mine else (number,))
        return frozenset(found)

    def plan(self, present: Iterable[str]) -> tuple[UnisonRun, ...]:
        """The fewest runs after which everybody is done who has one of the cases `present`, whatever pattern of it."""
        return self.plan_for(self.of_case(*present))

    def plan_for(self, states: frozenset[int]) -> tuple[UnisonRun, ...]:
        """The same for these states, by number."""
        if states not in self._plans:
            self._plans[states] = self._search(states)
        return self._plans[states]

    def _search(self, states: frozenset[int]) -> tuple[UnisonRun, ...]:
        """The plan for these states.

        The search prefers what may need fewest runs in all: those called, and one for each sequence that somebody may
        have to do now. The more runs are called already the better, so that an order that makes no difference is not
        tried in all its variants.
        """
        tie = count()
        plan: tuple[UnisonRun, ...] = ()
        waiting = [(len(self._own(states)), 0, next(tie), states, plan)]
        seen: set[frozenset[int]] = set()
        while True:
            _, _, _, now, plan = heappop(waiting)
            own = self._own(now)
            if not own:
                return plan
            if now in seen:
                continue
            seen.add(now)
            for sequence, cases in own.items():
                after = self.run(now, sequence)
                called = (*plan, UnisonRun(sequence, cases))
                heappush(waiting, (len(called) + len(self._own(after)), -len(called), next(tie), after, called))

    def _own(self, states: frozenset[int]) -> dict[NamedSequence, tuple[str, ...]]:
        """The sequences that somebody may have to do now, with the cases whose own they are, in the order of the
        method."""
        present = {self.cases[number] for number in states}
        found: dict[NamedSequence, tuple[str, ...]] = {}
        for case in self.step.cases:
            if case.named and case.id in present:
                found[case.named] = (*found.get(case.named, ()), case.id)
        return found

    @cached_property
    def most(self) -> int:
        """The most runs that any mix of cases can need: a plan for more cases serves fewer as well."""
        return len(self.plan(self._cases))

    def into_hold(self, cases: Iterable[str]) -> dict[str, tuple[Way, ...]]:
        """For each of `cases`, which take part in the same run: how to turn the whole cube into its hold. Whatever
        cube of these cases somebody has, whichever of its sides is in front and whichever way round its side colours
        are: after the first way of all these whose claim is true, or after none, they hold it right."""
        held = _Held(self, tuple(cases))
        return {case: tuple(held.ways(self._cases[case])) for case in held.cases}

    @cached_property
    def milestone(self) -> tuple[About, ...]:
        """What everybody must see at the end of the step, whichever side is in front: the top and the bottom; and where
        the goal is about the sides, first the case in which nothing is left to do."""
        ended = [self.states[number].faces for number in self.of_case(self.done)]
        top = [p for p in _TOP if all(faces[PLACE_NUMBER[p]] == "U" for faces in ended)]
        seen = (*((place, "U") for place in top), *_BOTTOM)
        return (self.done, seen) if self.step.goal.same else (seen,)

    @cached_property
    def last_turns(self) -> tuple[TopTurn, ...]:
        """The last turns of the top, one for each way in which it may be off; none where the step does not align."""
        return tuple(map(_top_turn, "LRB")) if self.step.align else ()


def unison(method: Method, step: Step) -> Unison:
    """A step of a proven method for many cubes at once, begun from all that the steps before it may leave."""
    states: Iterable[Cube] = orientation_states()
    ordered = False
    for each in method.top_steps:
        if each.permutes and not ordered:
            states, ordered = every_order(states), True
        if each.id == step.id:
            break
        states = [cube for cube in states if each.done(cube.faces)]
    return Unison(step, states)


def _top_turn(home: str) -> TopTurn:
    """The turn that brings the upper row in front to the side `home`, for who has the colour of that row there."""
    seen = tuple((("F1", colour), (f"{home}4", colour)) for colour in _SIDES)
    return TopTurn(Turn("U", 1 + "LBR".index(home)), seen)


class _Held:
    """All cubes of some cases, in all four holds with the same face up.

    `_letters` [cubes, 54] has the face of each sticker's colour as a number of FACES, `_right` [cubes, 4] which of
    TURNS_ABOUT_UP lead to a hold of the cube's case.
    """

    def __init__(self, unison: Unison, cases: tuple[str, ...]) -> None:
        self.cases = cases
        rows = [
            (unison.cases[number], unison.states[number].do(rotation).faces)
            for number in sorted(unison.of_case(*cases))
            for rotation in TURNS_ABOUT_UP
        ]
        self._case = [case for case, _ in rows]
        self._patterns = [pattern for _, pattern in rows]
        self._letters = np.array([[FACES.index(letter) for letter in pattern] for pattern in self._patterns], np.uint8)
        holds = {case.id: case for case in unison.step.cases}
        right = [holds[case].holds(pattern) for case, pattern in rows]
        self._right = np.array([[turns in found for turns in TURNS_ABOUT_UP] for found in right], np.bool_)

    def ways(self, case: Case) -> Iterator[Way]:
        """The ways into the hold of one of the cases."""
        wrong = np.array([each == case.id for each in self._case], np.bool_) & ~self._right[:, 0]
        while wrong.any():
            row = int(wrong.argmax())
            claim, rotation = self._way(case, row)
            for recoloured in _recoloured(claim):
                wrong &= ~self._true(recoloured)
                yield recoloured, rotation

    def _way(self, case: Case, row: int) -> Way:
        """A claim that is true of that cube, and a rotation that is right for all cubes that it is true of: what
        the hold asks for, with no more said than needed of how the top lies."""
        for more in self._views(row):
            for number, turn in enumerate(_ROTATIONS, 1):
                if not self._right[row, number]:
                    continue
                asked = [turn.permutation[PLACE_NUMBER[place]] for place in _places(case.hold)]
                claim = self._claim(row, (*asked, *more))
                if all(self._right[self._true(each), number].all() for each in _recoloured(claim)):
                    return claim, turn
        raise AssertionError("a claim about the whole top layer is true of one cube only")

    def _views(self, row: int) -> Iterator[tuple[int, ...]]:
        """More and more places of the top layer: where the top colour is at the edges, at the corners, at both; and all
        upper rows."""
        edges, corners = self._up(row, TOP_EDGES), self._up(row, TOP_CORNERS)
        yield from ((), edges, corners, (*edges, *corners))
        yield tuple(PLACE_NUMBER[place] for place in (*_TOP, *(f"{side}{n}" for side in _SIDES for n in range(3))))

    def _up(self, row: int, pieces: Iterable[str]) -> tuple[int, ...]:
        """Where the top colour is on each of these pieces, unless it is there on all cubes."""
        shows = [next(number for number in map(PLACE_NUMBER.__getitem__, (piece, *_BESIDE[piece]))
                      if self._patterns[row][number] == "U") for piece in pieces]  # fmt: skip
        return tuple(number for number in shows if not (self._letters[:, number] == FACES.index("U")).all())

    def _claim(self, row: int, places: Iterable[int]) -> Claim:
        return tuple((PLACE_NAMES[number], self._patterns[row][number]) for number in sorted({*places}))

    def _true(self, claim: Claim) -> NDArray[np.bool_]:
        """[cubes] of which the claim is true."""
        numbers = [PLACE_NUMBER[place] for place, _ in claim]
        return np.asarray((self._letters[:, numbers] == [FACES.index(face) for _, face in claim]).all(axis=1))


def _places(condition: Condition) -> tuple[str, ...]:
    return (*condition.shows, *(place for group in condition.same for place in group))


def _recoloured(claim: Claim) -> tuple[Claim, ...]:
    """The claim with its side colours exchanged in every way; as it is, if it names none."""
    ways = (dict(zip(_SIDES, order, strict=True)) for order in permutations(_SIDES))
    return tuple(dict.fromkeys(tuple((place, way.get(face, face)) for place, face in claim) for way in ways))
