"""The present moment of a conversation: how patient to be with an answer, and what has led nowhere so far."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

from coach.dialogue.acts import Heard
from coach.dialogue.saying import Saying, Talking
from coach.dialogue.signals import Cause, Interrupt, StopLessonError
from coach.language.meaning import Question
from coach.language.questions import QUESTIONS

_BY_TOUCH: Final = 30.0
"""Give a learner who goes by touch at least this many seconds to find an answer."""
LONGER: Final = 2.0
"""Multiply the time for an answer by this once the learner has asked for more."""
USELESS_IN_A_ROW: Final = 9
"""End the lesson after this many unusable answers in a row, silences included."""


class Rows(Protocol):
    """Rows of a cube that are being read."""

    @property
    def any_told(self) -> bool:
        """Whether any row has been told that may be put right."""

    def so_far(self) -> str:
        """What has been told, in a sentence."""

    def to_come(self) -> str:
        """How many more rows there are, in a sentence."""


@dataclass
class Moment(Saying):
    """What is known of the learner's side of the conversation now."""

    needs_longer: bool = False
    """Whether the learner has needed more time than is given for taking a hold."""
    unhurried: bool = False
    """Whether the learner has asked for more time to answer."""
    searching: bool = False
    """Whether the coach is finding out what went wrong."""
    hurts: bool = False
    """Whether the learner has spoken of pain: then only turns that are really needed are asked for."""
    misfit_at: int = -1
    """The number of turns called when the learner last said that what they were told does not go with their cube."""
    rows: Rows | None = None
    """The rows being read, while the whole cube is read."""
    _silent: bool = False

    def patience(self, asked: Question) -> float:
        """The seconds in which an answer may begin."""
        seconds = QUESTIONS[asked].seconds
        seconds = max(seconds, _BY_TOUCH) if self.touch else seconds
        return seconds * LONGER if self.unhurried else seconds

    def interrupt(self, command: Cause, heard: Heard) -> Interrupt:
        """What the learner has said, as an Interrupt; what it tells about a slip is kept."""
        self.hints, self.telling = heard.aside.hints, heard.aside.telling
        return Interrupt(command, heard)

    def count_useless(self, asked: Question) -> None:
        """Count an event that leads nowhere; end the lesson after too many of them in a row. A class is asked first."""
        # In the pause after a call silence is the usual answer.
        if asked == "turn" and not self.pace.on_word:
            return
        self._useless += 1
        if self._useless >= USELESS_IN_A_ROW and not self.pupils:
            raise StopLessonError("lesson.silent" if self._silent else "lesson.no-further")

    def count_useful(self) -> None:
        """Begin the count of useless events anew, since the learner has done something."""
        self._useless = 0

    def count_presence(self, asked: Question) -> None:
        """Count somebody who only says that they are there: after a silence that is news, and the count begins anew."""
        if self._silent:
            self._silent, self._useless = False, 0
        else:
            self.count_useless(asked)

    def repeat(self) -> Talking[None]:
        """Repeat what was said last."""
        for say in self._last:
            # This is only for the learner to hear again: they must not do a turn twice.
            yield from self.aside("reply.again", text=say.text)
