"""What a method is made of: steps, their cases, the hold for each case, the sequence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from coach.cube import Turn, all_shown, shown, turned

TURNS_ABOUT_UP: Final = ((), (Turn("U", 1, 3),), (Turn("U", 3, 3),), (Turn("U", 2, 3),))
"""The four holds with the same face up, the least effort first: as it is, y, y', y2."""

_COUNTED: Final = {"edges": ("U1", "U3", "U5", "U7"), "corners": ("U0", "U2", "U6", "U8")}


class MethodError(ValueError):
    """A method file that cannot be read or that does not do what it says."""


@dataclass(frozen=True)
class Case:
    """A pattern the learner may see, and what to do about it (nothing when the goal is reached)."""

    id: str
    count: Mapping[str, int]
    hold: tuple[str, ...]
    sequence: tuple[Turn, ...]
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict, compare=False)

    def fits(self, pattern: str) -> bool:
        """Whether this is the case of `pattern`, in whatever hold."""
        counted = all(len(shown(pattern, _COUNTED[what])) == number for what, number in self.count.items())
        return counted and bool(self.holds(pattern))

    def holds(self, pattern: str) -> tuple[tuple[Turn, ...], ...]:
        """The whole-cube turns after which the sequence may be done, the least effort first."""
        return tuple(turns for turns in TURNS_ABOUT_UP if all_shown(turned(pattern, turns), self.hold))

    def say(self, language: str, what: str) -> str:
        """The method file's words for this case: its "name", its "hold" or what is "seen"."""
        return self.words.get(language, {}).get(what, "")


@dataclass(frozen=True)
class Step:
    """One part of the solve. `needs` and `goal` are sticker places that show the top colour."""

    id: str
    look: str
    needs: tuple[str, ...]
    goal: tuple[str, ...]
    runs: int
    cases: tuple[Case, ...]

    def ready(self, pattern: str) -> bool:
        """Whether the step may start from `pattern`."""
        return all_shown(pattern, self.needs)

    def done(self, pattern: str) -> bool:
        """Whether `pattern` has reached the step's goal."""
        return all_shown(pattern, self.goal)

    def case_of(self, pattern: str) -> Case:
        """The one case that `pattern` is in; a proven method has exactly one."""
        return next(case for case in self.cases if case.fits(pattern))


@dataclass(frozen=True)
class Method:
    """A proven way to solve the cube."""

    name: str
    steps: tuple[Step, ...]

    def step(self, step_id: str) -> Step:
        """The step of that name; KeyError where there is none."""
        return {step.id: step for step in self.steps}[step_id]
