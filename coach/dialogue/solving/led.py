"""A run at a level of help: how much of a sequence is called, and what the learner does on their own."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from coach.cube import Turn
from coach.dialogue.saying import Talking
from coach.dialogue.solving.running import Run, Slipped
from coach.dialogue.talk import Talk
from coach.learning.exercise import MOST_HELP
from coach.method import NamedSequence

BY_GROUPS: Final = 3
"""From this level down, the turns of a group are called in one breath."""
FIRST_ONLY: Final = 2
"""From this level down, the learner goes on alone after the first turn."""
ALONE: Final = 1
"""From this level down, no turn is called."""


class LedRun(Run):
    """A run of a named sequence that belongs to a step and a case, at the level of help at which it begins. `helped`
    tells whether the learner has asked for more help since."""

    def __init__(
        self, talk: Talk, sequence: NamedSequence, moved: Callable[[Turn], None], step: str, case: str, help: int
    ) -> None:
        super().__init__(talk, sequence.turns, moved, case)
        self.sequence, self.step, self.help = sequence, step, help
        self.helped = False
        self._hints = 0

    def call_all(self, most: int | None = None) -> Talking[Slipped | None]:
        """Call as much as the level says, and wait until the learner has done the rest."""
        if self.help == MOST_HELP or (self.done and self.help < BY_GROUPS):
            return (yield from super().call_all(most))
        if self.help == BY_GROUPS:
            return (yield from self._call_groups(most))
        return (yield from self._alone())

    def _call_groups(self, most: int | None) -> Talking[Slipped | None]:
        """Call the turns of a group in one breath, then leave time for all of them."""
        return (yield from super().call_all(most))  # to be written

    def _alone(self) -> Talking[Slipped | None]:
        """Let the learner do the rest and say done; help where they ask for it."""
        return (yield from super().call_all())  # to be written
