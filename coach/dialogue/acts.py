"""What goes in and out of the conversation: events and acts. Plain data; the shells carry them out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

from coach.cube import Turn
from coach.language.aside import Aside, Mark
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning, Question, Reading, Scene

Outcome = Literal["done", "stopped", "unsolvable"]


class Claimed(NamedTuple):
    """A sticker of the hold that a question claims to be of a colour, in the learner's word for it."""

    face: str
    place: int
    colour: str


@dataclass(frozen=True)
class Query:
    """What is asked, in whatever words. Beside the kind of question stands what belongs to it: the stickers that it
    claims something of, the words of the piece or the side it asks for, the row of that side, and of a question of the
    kind "other" what it is about."""

    asks: Question
    claim: tuple[Claimed, ...] = ()
    piece: tuple[str, ...] = ()
    face: str = ""
    row: int | None = None
    about: str = ""


@dataclass(frozen=True)
class Tell:
    """The coach says what asks and commands nothing."""

    text: str


@dataclass(frozen=True)
class Ask:
    """The coach asks a question."""

    text: str
    query: Query


@dataclass(frozen=True)
class CallTurn:
    """The coach calls a face turn, as seen in the learner's hold: number `n` of the `of` face turns of a sequence, in
    this step and, where the sequence belongs to one, this case."""

    text: str
    turn: Turn
    n: int = 1
    of: int = 1
    step: str = ""
    case: str = ""
    sequence: tuple[Turn, ...] = ()


@dataclass(frozen=True)
class Rotate:
    """The coach has the learner turn the whole cube; in this step and, where it is done for one, this case."""

    text: str
    rotation: Turn
    step: str = ""
    case: str = ""


@dataclass(frozen=True)
class Bye:
    """The coach takes its leave."""

    text: str


Say = Tell | Ask | CallTurn | Rotate | Bye
"""What the coach says: its words, and what they do."""


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
    """The lesson is over, with so many turns called, questions asked and slips found."""

    outcome: Outcome
    step: str
    turns: int = 0
    questions: int = 0
    slips: int = 0


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
    aside: Aside = field(default_factory=Aside)

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
        worth = reading.asks and (has(command, Trait.MISSED) if asked == "turn" else not has(command, Trait.PLAIN))
        return cls(text, None, reading.confidence, (guess,) if worth else (), reading.aside)


@dataclass(frozen=True)
class Silence:
    """Nothing was said for so long."""

    seconds: float = 0.0


Event = Heard | Silence
