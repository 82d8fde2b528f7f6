"""What crosses everything: the learner's word that changes where the lesson is, and its end."""

from __future__ import annotations

from coach.dialogue.acts import Heard, Outcome
from coach.language.meaning import Change, Command


class Interrupt(Exception):
    """The learner said something that changes where the lesson is; `command` as in the meanings."""

    def __init__(self, command: Command, heard: Heard) -> None:
        super().__init__(command)
        self.command, self.heard = command, heard


class Leaving(Exception):
    """The learner leaves what is being done. `here`: they can still turn, so that a run need not be left half done;
    `open`: something is left half done, or nobody knows what was done; `closed`: the run is over already."""

    def __init__(self, here: bool = True) -> None:
        super().__init__()
        self.here = here
        self.open = self.closed = False


class ChangeCourse(Leaving):
    """The learner wants another step, manner or other words for the colours; or, of a manner that
    they have chosen, nothing more than to go on in it."""

    def __init__(self, wish: Change) -> None:
        super().__init__()
        self.wish = wish


class StopLessonError(Leaving):
    """The lesson ends early; `farewell` is the key of the sentence that says why, `outcome` what has come of it."""

    def __init__(self, farewell: str = "lesson.stopped", here: bool = False, outcome: Outcome = "stopped") -> None:
        super().__init__(here)
        self.farewell, self.outcome = farewell, outcome

    @classmethod
    def unsolvable(cls) -> StopLessonError:
        """The cube cannot be solved by turning, as the learner has been told; next time it is read."""
        stop = cls("lesson.unsolvable", outcome="unsolvable")
        stop.open = True
        return stop
