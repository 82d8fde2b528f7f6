"""Proof of a method by exhaustion: every state, every case, every hold that the file allows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from statistics import fmean

from coach.cube import PLACE_NUMBER, Cube, Turn, shown, write
from coach.method.last_layer import build, lower_layers_whole, orders, orientation_states
from coach.method.model import Case, Method, MethodError, PlannedStep, Step
from coach.method.placing import PlacingStep
from coach.method.placing_proof import PlacingProof, prove_placing

_TOP_PLACES = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}
_TOP_CORNERS = {"U0": "back left", "U2": "back right", "U6": "front left", "U8": "front right"}
_TOP_TURNS = ((), (Turn("U"),), (Turn("U", 3),), (Turn("U", 2),))


@dataclass(frozen=True)
class CaseProof:
    """What was found for one case: its number of states, and which cases one run leads to."""

    case: Case
    states: int
    leads_to: tuple[str, ...]


@dataclass(frozen=True)
class StepProof:
    """What was found for one step that goes by the pattern of the top. Runs and turns are over all states,
    the nearest hold being used."""

    step: Step
    states: int
    cases: tuple[CaseProof, ...]
    worst_runs: int
    mean_runs: float
    mean_turns: float


Proof = StepProof | PlacingProof | PlannedStep


def prove(method: Method) -> tuple[Proof, ...]:
    """Prove every step. Raises MethodError naming the case and the state that break it.

    Steps that go by how the top pieces lie are proven over the 216 orientation states, those that go by
    where they are over every order of them as well, each from all states that the steps before may leave.
    A planned step is proven by its search's own table (cube/distance.py).
    """
    if not method.top_steps:
        return tuple(map(_prove_lower, method.steps))
    states, ordered = orientation_states(), False
    proofs: list[Proof] = []
    for step in method.steps:
        if not isinstance(step, Step):
            proofs.append(_prove_lower(step))
            continue
        if step.permutes and not ordered:
            states, ordered = tuple(_every_order(states)), True
        lacking = next((cube for cube in states if not step.ready(cube.faces)), None)
        if lacking:
            raise MethodError(f"Step {step.id!r} needs more than is done before it: see {describe(lacking)}.")
        proofs.append(_prove_step(step, states))
        states = tuple(cube for cube in states if step.done(cube.faces))
        if step.align:
            _prove_aligned(step, states)
    return tuple(proofs)


def _prove_lower(step: Step | PlacingStep | PlannedStep) -> Proof:
    if isinstance(step, PlacingStep):
        return prove_placing(step)
    assert isinstance(step, PlannedStep)
    return step


def _every_order(states: Iterable[Cube]) -> Iterable[Cube]:
    """The given orientation states with their pieces in each of the 288 orders."""
    arranged = [build(edges=edges, corners=corners) for edges, corners in orders()]
    return (order * cube for cube in states for order in arranged)


def _prove_aligned(step: Step, states: Iterable[Cube]) -> None:
    for cube in states:
        if not any(cube.do(turns).solved for turns in _TOP_TURNS):
            raise MethodError(f"Step {step.id!r}: no turn of the top solves {describe(cube)}.")


def _prove_step(step: Step, start: Sequence[Cube]) -> StepProof:
    for cube in start:
        _one_case(step, cube)
    levels = {cube: 0 for cube in start if step.done(cube.faces)}
    after = {cube: _after_run(step, cube) for cube in start if cube not in levels}
    while len(levels) < len(start):
        ripe = [c for c, results in after.items() if c not in levels and all(r in levels for r in results)]
        if not ripe:
            stuck = next(cube for cube in after if cube not in levels)
            raise MethodError(f"{_name(step, stuck)} never leads to the goal from {describe(stuck)}.")
        levels |= {cube: 1 + max(levels[result] for result in after[cube]) for cube in ripe}
    slow = max(levels, key=levels.__getitem__)
    if levels[slow] > step.runs:
        raise MethodError(
            f"{_name(step, slow)} takes {levels[slow]} runs from {describe(slow)}; the file says {step.runs}."
        )
    runs, turns = zip(*(_walk(step, cube, after) for cube in start), strict=True)
    cases = tuple(_case_proof(step, case, start, after) for case in step.cases)
    return StepProof(step, len(start), cases, levels[slow], fmean(runs), fmean(turns))


def _one_case(step: Step, cube: Cube) -> None:
    cases = [case for case in step.cases if case.fits(cube.faces)]
    if not cases:
        raise MethodError(f"Step {step.id!r} has no case for {describe(cube)}.")
    if len(cases) > 1:
        raise MethodError(
            f"Step {step.id!r}: the cases {cases[0].id!r} and {cases[1].id!r} overlap: "
            f"both fit {describe(cube)}."
        )
    if step.done(cube.faces) == bool(cases[0].sequence):
        fault = "has a sequence though the goal is reached" if cases[0].sequence else "has no sequence"
        raise MethodError(f"{_name(step, cube)} {fault} for {describe(cube)}.")


def _after_run(step: Step, cube: Cube) -> tuple[Cube, ...]:
    """The states one run leads to, one for every hold the case allows, turned back to `cube`'s hold."""
    case = step.case_of(cube.faces)
    results = []
    for hold in case.holds(cube.faces):
        result = cube.do(hold).do(case.sequence).upright
        if not lower_layers_whole(result):
            raise MethodError(
                f"{_name(step, cube)}: {write(case.sequence)} breaks the two lower layers "
                f"from {describe(cube)}."
            )
        if not step.permutes:
            result = _orientation_only(result)
        if not step.ready(result.faces):
            raise MethodError(
                f"{_name(step, cube)}: {write(case.sequence)} loses what the step needs "
                f"from {describe(cube)}."
            )
        results.append(result)
    return tuple(results)


def _orientation_only(cube: Cube) -> Cube:
    """The orientation state that `cube` belongs to: the same top stickers, the pieces in home order."""
    return _by_top_stickers()[_top_stickers(cube)]


def _top_stickers(cube: Cube) -> frozenset[int]:
    return frozenset(place for place, home in enumerate(cube.stickers) if home < 9)


@cache
def _by_top_stickers() -> dict[frozenset[int], Cube]:
    return {_top_stickers(cube): cube for cube in orientation_states()}


def _walk(step: Step, cube: Cube, after: dict[Cube, tuple[Cube, ...]]) -> tuple[int, int]:
    runs = turns = 0
    while not step.done(cube.faces):
        runs, turns = runs + 1, turns + len(step.case_of(cube.faces).sequence)
        cube = after[cube][0]
    return runs, turns


def _case_proof(
    step: Step, case: Case, start: Iterable[Cube], after: dict[Cube, tuple[Cube, ...]]
) -> CaseProof:
    mine = [cube for cube in start if case.fits(cube.faces)]
    leads_to = {step.case_of(result.faces).id for cube in mine for result in after.get(cube, ())}
    return CaseProof(case, len(mine), tuple(c.id for c in step.cases if c.id in leads_to))


def _name(step: Step, cube: Cube) -> str:
    return f"Step {step.id!r}, case {step.case_of(cube.faces).id!r}"


def describe(cube: Cube) -> str:
    """A last layer in words: "top edges up: back, left; corners up: none; ..."."""
    edges = [_TOP_PLACES[place] for place in shown(cube.faces, _TOP_PLACES)]
    corners = [_TOP_CORNERS[place] for place in shown(cube.faces, _TOP_CORNERS)]
    sides = shown(cube.faces, [p for p in PLACE_NUMBER if p[0] in "FRBL" and p[1] in "02"])
    rows = ", ".join(f"{face} {_upper_row(cube, face)}" for face in "FRBL")
    return (
        f"the state with top edges up: {', '.join(edges) or 'none'}; top corners up: "
        f"{', '.join(corners) or 'none'}; top colour on the sides at: {', '.join(sides) or 'none'}; "
        f"upper rows of the sides: {rows}"
    )


def _upper_row(cube: Cube, face: str) -> str:
    start = PLACE_NUMBER[f"{face}0"]
    return cube.faces[start : start + 3]
