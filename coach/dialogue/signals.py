"""Signals that cut across everything: words of the learner that change where the lesson is, and its end."""

from __future__ import annotations

from typing import Literal, TypeAlias

from coach.dialogue.acts import Heard, Outcome
from coach.language.aside import RowPutRight
from coach.language.meaning import Change, Command

Upset = Literal["edges-again", "turned", "fell", "held", "not-again", "none-done", "what-next", "nobody"]
"""What may be said besides the commands: to be asked about the edges again; not to do a sequence again; that none of
the turns is done; to be told only what comes next; and, during a reading, that something turned, that the cube fell
and nobody knows whether anything turned, or that another side is in front than thought. "nobody":
none of a class needs what is being done."""
Cause: TypeAlias = Command | Upset
"""The reason for an interruption."""


class Interrupt(Exception):
    """The learner said something that changes where the lesson is. `row` says how an earlier row is put right;
    `turning` means that it was said while the whole cube was being turned."""

    def __init__(self, command: Cause, heard: Heard, row: RowPutRight | None = None) -> None:
        super().__init__(command)
        self.command, self.heard, self.row = command, heard, row
        self.turning = False


class Leaving(Exception):
    """The learner leaves what is being done. `here`: they can still turn, so a run need not be left half done;
    `open`: something is left half done, or nobody knows what was done; `closed`: the run is already over."""

    def __init__(self, here: bool = True) -> None:
        super().__init__()
        self.here = here
        self.open = self.closed = False


class ChangeCourse(Leaving):
    """The learner wants another step, another manner or other words for the colours; or only to go on in the manner
    that they have chosen."""

    def __init__(self, wish: Change) -> None:
        super().__init__()
        self.wish = wish


class StopLessonError(Leaving):
    """The lesson ends early; `farewell` is the key of the sentence that says why, `outcome` the result."""

    def __init__(self, farewell: str = "lesson.stopped", here: bool = False, outcome: Outcome = "stopped") -> None:
        super().__init__(here)
        self.farewell, self.outcome = farewell, outcome

    @classmethod
    def unsolvable(cls) -> StopLessonError:
        """The cube cannot be solved by turning, which the learner has been told; next time it will be read."""
        stop = cls("lesson.unsolvable", outcome="unsolvable")
        stop.open = True
        return stop
