"""What goes in and out of the conversation: events and acts. Plain data; the shells carry them out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from coach.language.aside import Aside, Mark
from coach.language.meaning import Meaning, Question, Reading, Scene

NOT_TO_BE_MISSED = frozenset({"stop", "mistake", "lost", "restart-run", "back"})
"""Commands of which a learner is asked, even in the pause after a call, whether they were meant."""

_PLAIN = ("yes", "no")
"""Whether that was meant is asked by asking again: "no: is that it?" is hard to answer."""

Outcome = Literal["done", "stopped", "unsolvable"]


@dataclass(frozen=True)
class Say:
    """The coach says `text`. `act` is what the words do (turn, rotate, ask, tell, bye), `data` the act's
    own fields as in the session log."""

    text: str
    act: str
    data: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Listen:
    """The coach listens for an answer to `asked`; after `seconds` without one it is silence."""

    asked: Question
    seconds: float
    scene: Scene = field(default_factory=Scene)


@dataclass(frozen=True)
class Adjust:
    """The coach's voice becomes louder or softer by so many steps."""

    volume: int


@dataclass(frozen=True)
class End:
    """The lesson is over; `counts` are of turns, questions and slips."""

    outcome: Outcome
    step: str
    counts: Mapping[str, int]


@dataclass(frozen=True)
class SlipFound:
    """The coach has worked out what went wrong: the turns that were really done in the run, and those that
    put it right, both in WCA notation. For the record; nothing is said or done."""

    explains: str
    repair: str


Act = Say | Listen | Adjust | SlipFound | End


@dataclass(frozen=True)
class Heard:
    """The learner said `text`, which means `meaning` (None: nothing the coach can use). `guesses`: what it may
    have been, likeliest first, where nothing was heard surely enough to act on; `meaning` is None then. What is told
    beside the meaning is `aside`; the text itself is only ever said back."""

    text: str
    meaning: Meaning | None
    confidence: float | None = None
    guesses: tuple[Heard, ...] = ()
    aside: Aside = Aside()

    def says(self, mark: Mark) -> bool:
        """Whether that is plainly said beside the meaning."""
        return mark in self.aside.marks

    def with_asides(self, read: Callable[[str], Aside]) -> Heard:
        """The same with what `read` makes of its text, and of that of its guesses."""
        guesses = tuple(guess.with_asides(read) for guess in self.guesses)
        return replace(self, aside=read(self.text), guesses=guesses)

    @classmethod
    def read(cls, text: str, reading: Reading, asked: Question) -> Heard:
        """What was said, as it was read. In the pause after a call nobody has been asked: there only what must not be
        missed is asked about."""
        guess = cls(text, reading.best, reading.confidence, aside=reading.aside)
        if reading.acts:
            return guess
        command = reading.best.command if reading.best else None
        worth = reading.asks and (command in NOT_TO_BE_MISSED if asked == "turn" else command not in _PLAIN)
        return cls(text, None, reading.confidence, (guess,) if worth else (), reading.aside)


@dataclass(frozen=True)
class Silence:
    """Nothing was said for so long."""

    seconds: float = 0.0


Event = Heard | Silence
