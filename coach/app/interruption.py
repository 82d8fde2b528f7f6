"""What the coach had not said yet when the learner began to speak, and what becomes of it. Pure.

The learner may speak while the coach speaks. The coach falls silent and hears the learner out. "Go on" has it say
the rest, from the sentence on in which it was cut off; so has a noise that turns out to be nothing. Anything
else goes to the lesson, and the rest stays open until the lesson has called or asked something new.
"""

import re
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from coach.dialogue import Ask, Bye, CallTurn, Event, Heard, Listen, Rotate, Say
from coach.dialogue.replies import command_of, resumes
from coach.language.commands import Trait, has

After = Literal["rest", "event"]  # say the rest and listen again, or give the event to the lesson

_SENTENCE: Final = re.compile(r"(?<=[.?!])\s+")
MovesOn: TypeAlias = Ask | CallTurn | Rotate | Bye
"""Acts after which what was left unsaid before is no longer wanted."""


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, each with its full stop."""
    return tuple(part for part in _SENTENCE.split(text.strip()) if part)


def rest_of(text: str, done: int) -> str:
    """What is left of a text of which so many sentences have been said."""
    return " ".join(sentences(text)[done:])


@dataclass
class Unsaid:
    """What was cut off: the rest of one utterance, and those that the lesson wanted said after it."""

    rest: list[Say]
    fresh: bool = True  # the learner, who has begun to speak, has not been heard yet
    _moment: tuple[str, float] | None = None
    _due: bool = field(default=False)
    _begun: int = 1  # of `rest`, those that had begun to be said

    def add(self, say: Say) -> None:
        """The lesson wants that said too, before it listens."""
        self.rest.append(say)

    def wanted(self, listen: Listen) -> bool:
        """Whether to say the rest before listening: the learner, whom the lesson had answered since, wants to
        go on."""
        moment = (listen.asked, listen.seconds)
        self._moment = self._moment or moment
        return self._due and moment == self._moment

    def after(self, event: Event | None, listen: Listen) -> After:
        """What to do when this came (None: noise that was nothing) in that moment."""
        fresh, self.fresh = self.fresh, False
        command = command_of(event) if isinstance(event, Heard) else None
        elsewhere = (listen.asked, listen.seconds) != self._moment
        if not elsewhere and isinstance(event, Heard) and (has(command, Trait.ONWARD) or event.says("only-onward")):
            return "rest"
        if not fresh:
            # Where the lesson waits it is for the lesson, and the rest comes after.
            self._due = self._due or (elsewhere and isinstance(event, Heard) and resumes(event, "continue"))
            return "event"
        if not isinstance(event, Heard) or (event.meaning is None and not event.guesses):
            return "rest"
        return "rest" if not has(command, Trait.ANYTIME) and self._question_unheard() else "event"

    def _question_unheard(self) -> bool:
        """Whether it was a question or call of which the learner had heard nothing."""
        return any(isinstance(say, MovesOn) for say in self.rest[self._begun :])
