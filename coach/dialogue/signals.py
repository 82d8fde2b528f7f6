"""What crosses the parts of a lesson: the learner's word that changes its course, and what is found out of the cube."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coach.dialogue.acts import Heard
from coach.language.meaning import RowPutRight


class Interrupt(Exception):
    """The learner said something that changes where the lesson is; `command` as in the meanings, or "edges-again", or
    in the middle of a reading "turned" or "fell", of which nobody knows whether it is so. `row` is how a row is put
    right that was told; `turning`: it was said while the whole cube was being turned."""

    def __init__(self, command: str, heard: Heard, row: RowPutRight | None = None) -> None:
        super().__init__(command)
        self.command, self.heard, self.row = command, heard, row
        self.turning = False


class Leaving(Exception):
    """The learner leaves what is being done. `here`: they can still turn, so that a run need not be left half done;
    `open`: something is left half done, or nobody knows what was done; `closed`: the run is over already."""

    def __init__(self, here: bool = True) -> None:
        super().__init__()
        self.here = here
        self.open = self.closed = False


class ChangeCourse(Leaving):
    """The learner wants another step, manner or other words for the colours; `wish` as Meaning.change."""

    def __init__(self, wish: Mapping[str, Any]) -> None:
        super().__init__()
        self.wish = wish


class ReadCubeError(Exception):
    """The cube has to be read. `why` is the key of the sentence that says so: what is known of it does not hold, for
    example; "" where the learner has asked for it."""

    def __init__(self, why: str = "read.why") -> None:
        super().__init__(why)
        self.why = why


class UnsolvableError(Exception):
    """The cube cannot be solved by turning; the learner has been told why."""


class StopLessonError(Leaving):
    """The lesson ends early; `farewell` is the key of the sentence that says why."""

    def __init__(self, farewell: str = "lesson.stopped", here: bool = False) -> None:
        super().__init__(here)
        self.farewell = farewell
