"""A method as a whole: its steps in their order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from coach.cube import POSITIONS, Cube
from coach.method.model import Case, Step
from coach.method.placing import PlacingCase, PlacingStep, PlannedStep
from coach.method.sequences import NamedSequence

AnyStep: TypeAlias = Step | PlacingStep | PlannedStep
Hand: TypeAlias = Literal["right", "left"]


@dataclass(frozen=True)
class Method:
    """A proven way to solve the cube. `hand` is the one that turns most."""

    name: str
    steps: tuple[AnyStep, ...]
    hand: Hand = "right"

    def step(self, step_id: str) -> AnyStep:
        """The step with that id; raises KeyError if there is none."""
        return {step.id: step for step in self.steps}[step_id]

    def next_step(self, cube: Cube) -> AnyStep | None:
        """The first step whose goal is not reached yet; None if the method has nothing left to do. The cube must be
        held with the bottom down."""
        return next((step for step in self.steps if not _is_done(step, cube)), None)

    @property
    def solves(self) -> bool:
        """Whether the method ends with the cube solved; it may also stop earlier."""
        last = self.steps[-1]
        return isinstance(last, Step) and last.align

    @property
    def top_steps(self) -> tuple[Step, ...]:
        """The steps that go by the pattern of the top."""
        return tuple(step for step in self.steps if isinstance(step, Step))

    @property
    def sequences(self) -> tuple[NamedSequence, ...]:
        """All sequences to learn by heart, in the order of the steps."""
        found = (case.named for step in self.steps for case in cases_of(step) if case.named)
        return tuple({sequence.id: sequence for sequence in found}.values())

    @property
    def sequence_of(self) -> Mapping[tuple[str, str], str]:
        """The id of the sequence that is done, by the ids of step and case, in the order in which they are learned."""
        return {(step.id, case.id): case.named.id for step in self.to_learn for case in cases_of(step) if case.named}

    @property
    def to_learn(self) -> tuple[AnyStep, ...]:
        """The steps in the order in which they are learned by heart: those of the last layer first, then down."""
        return (*self.top_steps, *(step for step in reversed(self.steps) if not isinstance(step, Step)))


def _is_done(step: AnyStep, cube: Cube) -> bool:
    if isinstance(step, Step):
        return step.done(cube.faces) and (cube.solved or not step.align)
    lies = cube.upright.pieces
    return all(lies[piece][1] == POSITIONS[piece] for piece in step.pieces)


def cases_of(step: AnyStep) -> tuple[Case | PlacingCase, ...]:
    """The cases that a learner tells apart in a step."""
    return step.rule.cases if isinstance(step, PlannedStep) else step.cases
