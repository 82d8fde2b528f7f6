"""Proof of a method by exhaustion: every state, every case and every hold that the file allows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from coach.cube import FACE_PLACES, PLACE_NUMBER, Cube, shown
from coach.method.errors import MethodError
from coach.method.last_layer import every_order, lower_layers_whole, orientation_of, orientation_states
from coach.method.method import Method
from coach.method.model import Case, Step, last_turn
from coach.method.placing import PlacingStep, PlannedStep
from coach.method.placing_proof import PlacingProof, prove_placing

_TOP_EDGES = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}
_TOP_CORNERS = {"U0": "back left", "U2": "back right", "U6": "front left", "U8": "front right"}
_FACE_WORDS = {"U": "top", "F": "front", "R": "right", "B": "back", "L": "left", "D": "bottom"}


@dataclass(frozen=True)
class CaseProof:
    """The results for one case: its number of states, and the cases that one run leads to."""

    case: Case
    states: int
    leads_to: tuple[str, ...]


@dataclass(frozen=True)
class StepProof:
    """The results for one step that goes by the pattern of the top. Runs and turns are over all states, always
    using the nearest hold."""

    step: Step
    states: int
    cases: tuple[CaseProof, ...]
    worst_runs: int
    mean_runs: float
    mean_turns: float


@dataclass(frozen=True)
class PlannedProof:
    """A step that is left to a search, and the proof of its rule for learners."""

    step: PlannedStep
    rule: PlacingProof


Proof = StepProof | PlacingProof | PlannedProof


def prove(method: Method) -> tuple[Proof, ...]:
    """Prove every step. Raises MethodError naming the case and the state that break it.

    Steps that go by how the top pieces lie are proven over the 216 orientation states; those that go by where
    they are, over every order of the pieces as well; each from all states that the earlier steps may leave.
    That a planned step's search always ends is proven by its own table (cube/distance.py); its rule is proven here.
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
            states, ordered = tuple(every_order(states)), True
        lacking = next((cube for cube in states if not step.ready(cube.faces)), None)
        if lacking:
            raise MethodError(
                f"Step {step.id!r} needs more than the steps before it bring about. They can end like this: "
                f"{describe(lacking, ordered)}. Check the order of the steps, and what the step needs."
            )
        proofs.append(_prove_step(step, states, ordered))
        states = tuple(cube for cube in states if step.done(cube.faces))
        if step.align:
            _prove_aligned(step, states)
    return tuple(proofs)


def _prove_lower(step: Step | PlacingStep | PlannedStep) -> Proof:
    if isinstance(step, PlacingStep):
        return prove_placing(step)
    assert isinstance(step, PlannedStep)
    return PlannedProof(step, prove_placing(step.rule))


def _prove_aligned(step: Step, states: Iterable[Cube]) -> None:
    """Prove that the last turn solves the cube, whichever side the learner goes by."""
    for cube in states:
        if not all(cube.do(last_turn(cube.faces, side)).solved for side in "FRBL"):
            raise MethodError(
                f"Step {step.id!r} has align = true, but it can end with a cube that no turn of the top solves: "
                f"{describe(cube, True)}. Its goal must ask for more."
            )


def _prove_step(step: Step, start: Sequence[Cube], ordered: bool) -> StepProof:
    for cube in start:
        _one_case(step, cube)
    levels = {cube: 0 for cube in start if step.done(cube.faces)}
    after = {cube: _after_run(step, cube, ordered) for cube in start if cube not in levels}
    while len(levels) < len(start):
        ripe = [c for c, results in after.items() if c not in levels and all(r in levels for r in results)]
        if not ripe:
            stuck = next(cube for cube in after if cube not in levels)
            raise MethodError(
                f"{_name(step, stuck)}: these turns never lead to the goal of the step, however often they are done, "
                f"from this start: {describe(stuck, step.permutes)}. Check the turns and the hold."
            )
        levels |= {cube: 1 + max(levels[result] for result in after[cube]) for cube in ripe}
    slow = max(levels, key=levels.__getitem__)
    if levels[slow] > step.runs:
        raise MethodError(
            f"{_name(step, slow)}: it can take {levels[slow]} runs to the goal of the step, but the step says "
            f"runs = {step.runs}. It does so from this start: {describe(slow, step.permutes)}. "
            f"Write runs = {levels[slow]}, or find better turns."
        )
    runs, turns = zip(*(_walk(step, cube, after) for cube in start), strict=True)
    cases = tuple(_case_proof(step, case, start, after) for case in step.cases)
    return StepProof(step, len(start), cases, levels[slow], fmean(runs), fmean(turns))


def _one_case(step: Step, cube: Cube) -> None:
    cases = [case for case in step.cases if case.fits(cube.faces)]
    if not cases:
        raise MethodError(
            f"Step {step.id!r} has no case for this: {describe(cube, step.permutes)}. "
            f"Add a case, or check the counts and holds of those there are."
        )
    if len(cases) > 1:
        raise MethodError(
            f"In step {step.id!r} the cases {cases[0].id!r} and {cases[1].id!r} both fit this: "
            f"{describe(cube, step.permutes)}. Change a count or a hold so that only one of them fits."
        )
    if step.done(cube.faces) == bool(cases[0].sequence):
        fault = (
            "it has turns, though the goal of the step is reached already. Leave out its sequence and hold, or change "
            "the goal"
            if cases[0].sequence
            else "it has no sequence, though the goal of the step is not reached yet. Give it the turns to do"
        )
        raise MethodError(f"{_name(step, cube)}: {fault}. It fits this: {describe(cube, step.permutes)}.")


def _after_run(step: Step, cube: Cube, ordered: bool) -> tuple[Cube, ...]:
    """The states that one run leads to, one for every hold the case allows, turned back to the hold of `cube`."""
    case = step.case_of(cube.faces)
    results = []
    for hold in case.holds(cube.faces):
        result = cube.do(hold).do(case.sequence).upright
        if not lower_layers_whole(result):
            raise MethodError(
                f"{_name(step, cube)}: after the turns {case.named} the two lower layers are no longer done. "
                f"Look for a turn that is missing, too much or the wrong way round. (From this start: "
                f"{describe(cube, step.permutes)}.)"
            )
        if not ordered:
            result = orientation_of(result)
        if not step.ready(result.faces):
            raise MethodError(
                f"{_name(step, cube)}: the turns {case.named} undo what an earlier step has done and this "
                f"one needs. Check them. (From this start: {describe(cube, step.permutes)}.)"
            )
        results.append(result)
    return tuple(results)


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
    return f"In case {step.case_of(cube.faces).id!r} of step {step.id!r}"


def describe(cube: Cube, ordered: bool) -> str:
    """A last layer in words, with the colours of the sides if the order of the pieces matters (`ordered`)."""
    sides = [p for p in PLACE_NUMBER if p[0] in "FRBL" and p[1] in "012"]
    told = (
        f"top colour on top at the edges: {_listed(cube, _TOP_EDGES)}; at the corners: {_listed(cube, _TOP_CORNERS)}; "
        f"on the sides at: {_listed(cube, {place: place for place in sides})}"
    )
    if not ordered:
        return told
    rows = "; ".join(f"{_FACE_WORDS[face]}: {_upper_row(cube, face)}" for face in "FRBL")
    return f"{told}; the upper rows of the sides, from left to right, in the colours of {rows}"


def _listed(cube: Cube, names: Mapping[str, str]) -> str:
    return ", ".join(names[place] for place in shown(cube.faces, names)) or "none"


def _upper_row(cube: Cube, face: str) -> str:
    return ", ".join(_FACE_WORDS[cube.faces[place]] for place in FACE_PLACES[face][:3])
