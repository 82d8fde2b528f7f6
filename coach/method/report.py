"""The proof of a method in readable form."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from coach.cube import write
from coach.method.method import Method
from coach.method.model import Condition
from coach.method.placing import LAYERS, PlacingCase
from coach.method.placing_proof import PlacingProof
from coach.method.proof import CaseProof, PlannedProof, Proof, StepProof, prove
from coach.method.sequences import NamedSequence
from coach.method.whole import last_layer
from coach.method.whole_placing import every_state

_PROVEN: Final = (
    "Proven: wherever a learner can be, exactly one case fits; in every hold that it allows, its turns keep what",
    "was done before; the goal is reached within the runs stated. Every piece of the two lower layers gets home",
    "from everywhere, whichever of the next ones is taken, and what was placed before stays. The groups of every",
    "sequence make up its turns. The words about holds were compared with the holds.",
)


def report(method: Method) -> str:
    """What the method does, with proof that it does it, case by case, as text of at most 110 columns."""
    hand = ", mirrored for the left hand" if method.hand == "left" else ""
    lines = [f"Method: {method.name}{hand}", "", "sequences to learn by heart:"]
    for sequence in method.sequences:
        lines += _sequence(sequence)
    lines.append("")
    for proof in prove(method):
        lines += [*_step(proof), ""]
    whole = last_layer(method)
    if whole:
        lines.append(
            f"whole top: all {whole.states} ways it can lie end solved\n"
            f"  runs: {whole.mean_runs:.2f} on average, {whole.worst_runs} at most; "
            f"turns: {whole.mean_turns:.2f} on average, {whole.worst_turns} at most"
        )
        lines.append("")
    return "\n".join([*lines, *_PROVEN, _end(method)])


def _end(method: Method) -> str:
    """How far the method leads."""
    if method.solves:
        return "This method ends with the cube solved."
    return f"This method ends with the {_name(method.steps[-1].id)}: the cube is not solved by it."


def _sequence(sequence: NamedSequence) -> Iterator[str]:
    groups = " | ".join(write(group.turns) for group in sequence.groups)
    yield f"  {sequence.id:<18} {groups}   (as before after {sequence.order} runs)"


def _step(proof: Proof) -> Iterator[str]:
    if isinstance(proof, PlannedProof):
        yield f"{_name(proof.step.id)}: {', '.join(proof.step.pieces)}"
        yield f"  led: the fewest turns that bring all home at once, at most {proof.step.most}"
        yield from _placing(proof.rule, "learned")
    elif isinstance(proof, PlacingProof):
        yield f"{_name(proof.step.id)}: {', '.join(proof.step.pieces)}"
        yield from _placing(proof, "pieces")
    else:
        yield from _pattern(proof)


def _placing(proof: PlacingProof, head: str) -> Iterator[str]:
    step = proof.step
    names = {letter: layer for layer, letter in LAYERS.items()}
    yield f"  {head}: one by one, each held at {step.slot}; next: {', '.join(names[layer] for layer in step.layers)}"
    for case in step.cases:
        yield f"  {case.id:<18} {_lies(case)}: {write(case.sequence)}"
    yield (
        f"  {proof.placements} ways one piece can lie: {proof.mean_turns:.2f} turns on average, "
        f"{proof.worst_turns} at most"
    )
    whole = every_state(step)
    yield (
        f"  all {whole.states} ways they can lie together end with them home: {whole.mean_turns:.2f} turns on average, "
        f"{whole.worst_turns} at most"
    )


def _lies(case: PlacingCase) -> str:
    if case.takes_out:
        return f"at {case.at}, taken out to the top"
    return f"at {case.at}, the colour of {case.colour} on {case.on}"


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
    yield f"{'':<17} sequence: {case.named.id if case.named else ''}, {write(case.sequence)}"
    yield f"{'':<17} leads to: {' or '.join(proof.leads_to)}"


def _condition(condition: Condition) -> str:
    parts = [f"the top colour at {', '.join(condition.shows)}"] if condition.shows else []
    parts += [f"one colour at {', '.join(group)}" for group in condition.same]
    return "; ".join(parts)


def _name(step_id: str) -> str:
    return step_id.replace("-", " ")
