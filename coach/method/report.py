"""The proof of a method in readable form."""

from __future__ import annotations

from collections.abc import Iterator

from coach.cube import write
from coach.method.model import Method
from coach.method.proof import CaseProof, StepProof, prove


def report(method: Method) -> str:
    """What the method does and that it does it, case by case, as text of at most 100 columns."""
    lines = [f"Method: {method.name}", ""]
    for proof in prove(method):
        lines += [*_step(proof), ""]
    lines.append("Proven: every state falls in exactly one case, in every hold that the case allows the")
    lines.append("sequence keeps the two lower layers, and the goal is reached within the runs stated.")
    return "\n".join(lines)


def _step(proof: StepProof) -> Iterator[str]:
    step = proof.step
    yield f"{step.id.replace('-', ' ')}: {proof.states} orientation states"
    yield f"  goal: the top colour shows at {', '.join(step.goal)}"
    for case in proof.cases:
        yield from _case(case, proof.states)
    yield (
        f"  runs: at most {proof.worst_runs} (stated: {step.runs}), {proof.mean_runs:.2f} on average; "
        f"turns: {proof.mean_turns:.2f} on average"
    )


def _case(proof: CaseProof, total: int) -> Iterator[str]:
    case = proof.case
    yield f"  {case.id:<8} {proof.states:>4} states ({proof.states / total:.1%})"
    if not case.sequence:
        yield "             nothing to do"
        return
    hold = f"the top colour at {', '.join(case.hold)}" if case.hold else "any side in front"
    yield f"             hold: {hold}"
    yield f"             sequence: {write(case.sequence)}"
    yield f"             leads to: {' or '.join(proof.leads_to)}"
