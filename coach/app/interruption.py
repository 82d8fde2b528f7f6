"""What the coach had not yet said when the learner began to speak, and what happens to it. Pure.

The learner may speak while the coach speaks. The coach falls silent and hears the learner out. On "go on", or if it was
only a noise, the coach says the rest, starting with the interrupted sentence. Anything else goes to the lesson, and the
rest stays open until the lesson has called or asked something new.
"""

import re
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from coach.dialogue import Ask, Bye, CallTurn, Event, Heard, Listen, Rotate, Say, TakePart, TurnIntoHold
from coach.dialogue.replies import command_of, resumes
from coach.language.commands import Trait, has

After = Literal["rest", "event"]  # say the rest and listen again, or give the event to the lesson

_SENTENCE: Final = re.compile(r"(?<=[.?!])\s+")
MovesOn: TypeAlias = Ask | CallTurn | Rotate | TakePart | TurnIntoHold | Bye
"""Acts after which the unsaid rest is no longer wanted."""


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, each with its full stop."""
    return tuple(part for part in _SENTENCE.split(text.strip()) if part)


def rest_of(text: str, done: int) -> str:
    """The rest of a text after its first `done` sentences."""
    return " ".join(sentences(text)[done:])


@dataclass
class Unsaid:
    """What was cut off: the rest of one utterance, and the utterances that the lesson wanted to follow it."""

    rest: list[Say]
    fresh: bool = True  # the learner has begun to speak but has not been heard yet
    _moment: tuple[str, float] | None = None
    _due: bool = field(default=False)
    _begun: int = 1  # how many of `rest` had been started

    def add(self, say: Say) -> None:
        """Add an utterance that the lesson wants said before it listens."""
        self.rest.append(say)

    def wanted(self, listen: Listen) -> bool:
        """Whether to say the rest before listening: the lesson has answered the learner, who wants to go on."""
        moment = (listen.asked, listen.seconds)
        self._moment = self._moment or moment
        return self._due and moment == self._moment

    def after(self, event: Event | None, listen: Listen) -> After:
        """What to do about an event (None: noise that was nothing) in this moment."""
        fresh, self.fresh = self.fresh, False
        command = command_of(event) if isinstance(event, Heard) else None
        elsewhere = (listen.asked, listen.seconds) != self._moment
        if not elsewhere and isinstance(event, Heard) and (has(command, Trait.ONWARD) or event.says("only-onward")):
            return "rest"
        if not fresh:
            # While the lesson waits, "go on" is meant for the lesson, and the rest follows later.
            self._due = self._due or (elsewhere and isinstance(event, Heard) and resumes(event, "continue"))
            return "event"
        if not isinstance(event, Heard) or (event.meaning is None and not event.guesses):
            return "rest"
        return "rest" if not has(command, Trait.ANYTIME) and self._question_unheard() else "event"

    def _question_unheard(self) -> bool:
        """Whether the rest includes a question or call that the learner has not heard at all."""
        return any(isinstance(say, MovesOn) for say in self.rest[self._begun :])
