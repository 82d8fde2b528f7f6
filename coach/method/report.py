"""The proof of a method in readable form."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from coach.cube import write
from coach.method.method import Method
from coach.method.model import Condition, PlannedStep
from coach.method.placing_proof import PlacingProof
from coach.method.proof import CaseProof, Proof, StepProof, prove
from coach.method.whole import last_layer

_PROVEN: Final = (
    "Proven: wherever a learner can be, exactly one case fits; in every hold that it allows, its turns keep what",
    "was done before; the goal is reached within the runs stated. Every piece of the two lower layers gets home",
    "from everywhere, and what was placed before stays. The words about holds were compared with the holds.",
)


def report(method: Method) -> str:
    """What the method does and that it does it, case by case, as text of at most 110 columns."""
    lines = [f"Method: {method.name}", ""]
    for proof in prove(method):
        lines += [*_step(proof), ""]
    whole = last_layer(method)
    if whole:
        lines.append(
            f"whole top: all {whole.states} ways it can lie end solved; "
            f"runs: {whole.mean_runs:.2f} on average, {whole.worst_runs} at most; "
            f"turns: {whole.mean_turns:.2f} on average, {whole.worst_turns} at most"
        )
        lines.append("")
    return "\n".join([*lines, *_PROVEN, _end(method)])


def _end(method: Method) -> str:
    """Up to where the method leads."""
    if method.solves:
        return "This method ends with the cube solved."
    return f"This method ends with the {_name(method.steps[-1].id)}: the cube is not solved by it."


def _step(proof: Proof) -> Iterator[str]:
    if isinstance(proof, PlannedStep):
        yield f"{_name(proof.id)}: the fewest turns that bring {', '.join(proof.pieces)} home at once"
        yield f"  turns: at most {proof.most}"
    elif isinstance(proof, PlacingProof):
        yield from _placing(proof)
    else:
        yield from _pattern(proof)


def _placing(proof: PlacingProof) -> Iterator[str]:
    step = proof.step
    yield f"{_name(step.id)}: {', '.join(step.pieces)} one by one, each held at {step.slot}"
    for case in step.cases:
        place = f"at {case.at}, the colour of {case.colour} on {case.on}"
        yield f"  {case.id:<14} {place}: {write(case.sequence)}"
    yield f"  {'in a slot':<14} taken out first: {write(step.out)}"
    yield (
        f"  {proof.placements} ways the pieces can lie; turns for one piece: {proof.mean_turns:.2f} on average, "
        f"{proof.worst_turns} at most"
    )


def _pattern(proof: StepProof) -> Iterator[str]:
    step = proof.step
    yield f"{_name(step.id)}: {proof.states} ways the top can lie"
    yield f"  goal: {_condition(step.goal)}"
    for case in proof.cases:
        yield from _case(case, proof.states)
    yield (
        f"  runs: at most {proof.worst_runs} (stated: {step.runs}), {proof.mean_runs:.2f} on average; "
        f"turns: {proof.mean_turns:.2f} on average"
    )


def _case(proof: CaseProof, total: int) -> Iterator[str]:
    case = proof.case
    yield f"  {case.id:<14} {proof.states:>4} way{'s' if proof.states > 1 else ' '} ({proof.states / total:.1%})"
    if not case.sequence:
        yield f"{'':<17} nothing to do"
        return
    yield f"{'':<17} hold: {_condition(case.hold) or 'any side in front'}"
    yield f"{'':<17} sequence: {write(case.sequence)}"
    yield f"{'':<17} leads to: {' or '.join(proof.leads_to)}"


def _condition(condition: Condition) -> str:
    parts = [f"the top colour at {', '.join(condition.shows)}"] if condition.shows else []
    parts += [f"one colour at {', '.join(group)}" for group in condition.same]
    return "; ".join(parts)


def _name(step_id: str) -> str:
    return step_id.replace("-", " ")
