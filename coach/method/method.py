"""A method as a whole: its steps in their order."""

from __future__ import annotations

from dataclasses import dataclass

from coach.method.model import PlannedStep, Step
from coach.method.placing import PlacingStep


@dataclass(frozen=True)
class Method:
    """A proven way to solve the cube."""

    name: str
    steps: tuple[Step | PlacingStep | PlannedStep, ...]

    def step(self, step_id: str) -> Step | PlacingStep | PlannedStep:
        """The step of that name; KeyError where there is none."""
        return {step.id: step for step in self.steps}[step_id]

    @property
    def solves(self) -> bool:
        """Whether the cube is solved at its end; a method may also stop before."""
        last = self.steps[-1]
        return isinstance(last, Step) and last.align

    @property
    def top_steps(self) -> tuple[Step, ...]:
        """The steps that go by the pattern of the top."""
        return tuple(step for step in self.steps if isinstance(step, Step))
