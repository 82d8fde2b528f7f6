"""The last layer as a whole: each of its 62,208 states is followed to the solved cube."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from statistics import fmean

from coach.cube import Cube
from coach.method.errors import MethodError
from coach.method.last_layer import build, orders, orientation_states
from coach.method.method import Method
from coach.method.model import Step
from coach.method.placing import TOP_TURNS


@dataclass(frozen=True)
class WholeProof:
    """Runs and face turns to the solved cube over all states of the last layer, using the nearest holds."""

    states: int
    mean_runs: float
    worst_runs: int
    mean_turns: float
    worst_turns: int


def last_layer(method: Method) -> WholeProof | None:
    """Follow every state to its end; None for a method that does not go that far. Raises MethodError if a
    state does not end solved."""
    if not method.solves:
        return None
    found = list(_runs_and_turns(method))
    runs, turns = [r for r, _ in found], [t for _, t in found]
    return WholeProof(len(found), fmean(runs), max(runs), fmean(turns), max(turns))


def _runs_and_turns(method: Method) -> Iterator[tuple[int, int]]:
    lying = list(takewhile(lambda step: not step.permutes, method.top_steps))
    ordering = list(method.top_steps[len(lying) :])
    arranged = [build(edges=edges, corners=corners) for edges, corners in orders()]
    ends: dict[Cube, tuple[int, int]] = {}
    for state in orientation_states():
        # The turns for a state's orientation are the same for every order of its pieces.
        after, runs, turns = _follow(lying, state)
        moved = state.inverse * after
        for order in arranged:
            cube = order * state * moved
            if cube not in ends:
                ends[cube] = _to_the_end(ordering, cube)
            more_runs, more_turns = ends[cube]
            yield runs + more_runs, turns + more_turns


def _follow(steps: list[Step], cube: Cube) -> tuple[Cube, int, int]:
    """The cube after all runs of `steps`, turned back upright; the number of runs and of turns."""
    runs = turns = 0
    for step in steps:
        while not step.done(cube.faces):
            case = step.case_of(cube.faces)
            cube = cube.do(case.holds(cube.faces)[0]).do(case.sequence).upright
            runs, turns = runs + 1, turns + len(case.sequence)
    return cube, runs, turns


def _to_the_end(steps: list[Step], cube: Cube) -> tuple[int, int]:
    cube, runs, turns = _follow(steps, cube)
    for top in TOP_TURNS:
        if cube.do(top).solved:
            return runs, turns + len(top)
    raise MethodError("The method does not end with a solved cube. Check the goal of its last step.")
