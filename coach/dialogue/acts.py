"""What goes in and out of the conversation: events and acts. Plain data; the shells carry them out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple, TypeAlias

from coach.cube import Turn
from coach.language.aside import Aside, Mark
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning, Question, Reading, Scene
from coach.learning.exercise import Kind, Result
from coach.learning.times import Penalty

Outcome = Literal["done", "stopped", "unsolvable"]


class Claimed(NamedTuple):
    """A sticker in the present hold, and the colour that a question claims it has, in the learner's word."""

    face: str
    place: int
    colour: str


@dataclass(frozen=True)
class Query:
    """What is asked, whatever the wording: the kind of question and its details, namely the stickers it makes a claim
    about, the words of the piece or the side it asks for, the row of that side, and for a question of the kind "other"
    what it is about. An exercise has its step, its case, and the level of help with it, 4 to 0. A show of hands is
    about the "size" of a class, or about who has a case or what a claim says."""

    asks: Question
    claim: tuple[Claimed, ...] = ()
    piece: tuple[str, ...] = ()
    face: str = ""
    row: int | None = None
    about: str = ""
    step: str = ""
    case: str = ""
    help: int | None = None


@dataclass(frozen=True)
class Tell:
    """The coach says something that neither asks nor commands."""

    text: str


@dataclass(frozen=True)
class Ask:
    """The coach asks a question."""

    text: str
    query: Query


@dataclass(frozen=True)
class CallTurn:
    """The coach calls a face turn, as seen in the learner's hold: number `n` of the `of` face turns of a sequence, in
    this step and, if the sequence belongs to one, this case."""

    text: str
    turn: Turn
    n: int = 1
    of: int = 1
    step: str = ""
    case: str = ""
    sequence: tuple[Turn, ...] = ()


@dataclass(frozen=True)
class Rotate:
    """The coach has the learner turn the whole cube, in this step and, if it is done for one, this case."""

    text: str
    rotation: Turn
    step: str = ""
    case: str = ""


Sight: TypeAlias = str | tuple[Claimed, ...]
"""What a pupil of a class may have: a case, by its id, or all that a claim says."""


@dataclass(frozen=True)
class TakePart:
    """Whoever of a class has one of `cases` takes part in all that follows, up to the next of these acts; the others
    rest."""

    text: str
    cases: tuple[Sight, ...]
    step: str = ""


@dataclass(frozen=True)
class TurnIntoHold:
    """Whoever takes part turns the whole cube, once, into the hold for this case: by the rotation of the first of the
    `ways` whose claim is true of the cube as they hold it now. For whom none is true, they hold it right already."""

    text: str
    ways: tuple[tuple[tuple[Claimed, ...], Turn], ...]
    step: str = ""
    case: str = ""


@dataclass(frozen=True)
class SendOff:
    """Whoever of a class held up no hand when hands were asked for last works with their own coach from now on, unless
    they see what is claimed: then they have rested."""

    text: str
    unless: tuple[Claimed, ...] = ()


@dataclass(frozen=True)
class Bye:
    """The coach says goodbye."""

    text: str


Say = Tell | Ask | CallTurn | Rotate | TakePart | TurnIntoHold | SendOff | Bye
"""What the coach says: its words, and what they do."""


@dataclass(frozen=True)
class When:
    """Seconds on the shell's own clock: when the coach began to listen, and when the answer began; for silence, when it
    was over."""

    listening: float
    at: float


@dataclass(frozen=True)
class Listen:
    """The coach listens for an answer to `asked`; `seconds` without one count as silence. If it is `timed`, the shell
    says when the answer began; `until` is when the silence is over, on the same clock."""

    asked: Question
    seconds: float
    scene: Scene = field(default_factory=Scene)
    timed: bool = False
    until: float | None = None


@dataclass(frozen=True)
class Adjust:
    """The coach's voice becomes louder or softer by `volume` steps."""

    volume: int


@dataclass(frozen=True)
class End:
    """The lesson is over, with these numbers of turns called, questions asked and slips found."""

    outcome: Outcome
    step: str
    turns: int = 0
    questions: int = 0
    slips: int = 0


@dataclass(frozen=True)
class SlipFound:
    """The coach has worked out what went wrong: the turns that were really done in the run, and those that put it
    right, both in WCA notation. This is only for the record; nothing is said or done."""

    explains: str
    repair: str


@dataclass(frozen=True)
class Practised:
    """An exercise is over: it began at this level of help and ended with this result. This is only for the record."""

    kind: Kind
    step: str
    case: str
    help: int
    result: Result


@dataclass(frozen=True)
class Timed:
    """A timed solve is over: its centiseconds before the penalty, and its scramble in WCA notation, "" if that is
    unknown. If it is `judged` it is the last one once more, with another penalty. This is only for the record."""

    centiseconds: int
    penalty: Penalty
    scramble: str = ""
    judged: bool = False


Act = Say | Listen | Adjust | SlipFound | Practised | Timed | End


@dataclass(frozen=True)
class Heard:
    """The learner said `text`, which means `meaning` (None: nothing the coach can use). If nothing was heard surely
    enough to act on, `meaning` is None and `guesses` has what it may have been, likeliest first. `aside` is what was
    said besides the meaning; the text itself is only ever repeated to the learner."""

    text: str
    meaning: Meaning | None
    confidence: float | None = None
    guesses: tuple[Heard, ...] = ()
    aside: Aside = field(default_factory=Aside)
    when: When | None = None

    def says(self, mark: Mark) -> bool:
        """Whether `mark` is plainly said besides the meaning."""
        return mark in self.aside.marks

    def with_asides(self, read: Callable[[str], Aside]) -> Heard:
        """The same, with the asides that `read` finds in its text and in those of its guesses."""
        guesses = tuple(guess.with_asides(read) for guess in self.guesses)
        return replace(self, aside=read(self.text), guesses=guesses)

    @classmethod
    def read(cls, text: str, reading: Reading, asked: Question) -> Heard:
        """What was said, according to `reading`. No question is open in the pause after a call, so the coach then asks
        back only about what must not be missed."""
        guess = cls(text, reading.best, reading.confidence, aside=reading.aside)
        if reading.acts:
            return guess
        command = reading.best.command if reading.best else None
        worth = reading.asks and (has(command, Trait.MISSED) if asked == "turn" else not has(command, Trait.PLAIN))
        return cls(text, None, reading.confidence, (guess,) if worth else (), reading.aside)


@dataclass(frozen=True)
class Silence:
    """Nothing was said for this long."""

    seconds: float = 0.0
    when: When | None = None


Event = Heard | Silence
