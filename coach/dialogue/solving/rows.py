"""Rows of stickers: asking for them, remembering those that were read, and which of them an answer is about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from coach.belief.reading.rows import Row
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.cube import PLACE_NAMES, PLACE_NUMBER, Turn
from coach.dialogue.acts import Heard, Silence
from coach.dialogue.doubt import ask_aside
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.wording import row_words
from coach.dialogue.talk import Talk

# Asking


def read_face(talk: Talk, knowledge: Knowledge, face: str) -> Talking[Sequence[str]]:
    """The nine colours of a face, as the faces they belong to, row by row. Who tells only a row, or nothing
    that can be used, is asked for the other rows one at a time."""
    first, second, third = (row_words(talk, face, number)["row"] for number in (1, 2, 3))
    named = talk.phrases.part(f"faces.{face}")
    forms = talk.forms("ask.face", face=named, first=first, second=second, third=third)
    rows = (9, 6, 3)
    letters = yield from talk.ask("face", forms[:2], lambda heard: _letters(knowledge, heard, rows), {"face": face})
    read = list(letters or ())
    while len(read) < 9:
        read += yield from read_row(talk, knowledge, face, len(read) // 3 + 1)
    return read


def read_row(
    talk: Talk,
    knowledge: Knowledge,
    face: str,
    number: int,
    possible: Callable[[Sequence[str]], bool] = lambda letters: True,
) -> Talking[Sequence[str]]:
    """Ask for a row until three colours are heard: the faces they belong to, left to right. One that is not `possible`
    is asked for once more before anything is concluded from it."""
    letters = (yield from ask_row(talk, knowledge, face, number)).letters
    if not possible(letters):
        yield from talk.tell("read.row-again")
        letters = (yield from ask_row(talk, knowledge, face, number)).letters
    return letters


class ToldRow(NamedTuple):
    """Three colours, as the faces that they belong to and in the learner's words; all that was said, and whether at
    once."""

    letters: Sequence[str]
    words: Sequence[str]
    text: str
    at_once: bool


def ask_row(talk: Talk, knowledge: Knowledge, face: str, number: int) -> Talking[ToldRow]:
    """Ask for a row until three colours are heard."""
    example = ", ".join(knowledge.colour(letter) for letter in "DFR")
    forms = talk.forms("ask.row", example=example, **row_words(talk, face, number))
    heard_before: list[Heard] = []

    def take(heard: Heard) -> ToldRow | None:
        letters = _letters(knowledge, heard, (3,))
        heard_before.append(heard)
        if letters is None or heard.meaning is None:
            return None
        return ToldRow(letters, heard.meaning.colours, heard.text, len(heard_before) == 1)

    return (yield from talk.until("row", forms, take, {"face": face, "row": number}))


def _letters(knowledge: Knowledge, heard: Heard, counts: Sequence[int]) -> list[str] | None:
    """The faces that the colours heard belong to, UNKNOWN for one that the learner does not tell from another.

    None unless they are as many as one of `counts`."""
    colours = heard.meaning.colours if heard.meaning else ()
    letters = [letter for colour in colours if (letter := knowledge.face_of(colour))]
    letters = [UNKNOWN if letter in knowledge.alike else letter for letter in letters]
    return letters if len(letters) == len(colours) and len(letters) in counts else None


# Remembering


class Named(NamedTuple):
    """A row by its face and number, as it is or was asked for, and where it is now."""

    name: tuple[str, int]
    places: tuple[str, ...]

    @classmethod
    def of(cls, row: Row) -> Named:
        """A row of the present hold."""
        return cls((row.face, row.number), row.places)


@dataclass(frozen=True)
class PastAnswer:
    """An answer about stickers, with what was known `before`, in the hold of now. Of a row: which one, and the letters
    that were told."""

    before: KnownStickers
    row: Named | None = None
    letters: tuple[str, ...] = ()

    def after(self, turn: Turn) -> PastAnswer:
        """The same once the whole cube has been turned."""
        row = self.row and Named(self.row.name, tuple(_after(turn, place) for place in self.row.places))
        return replace(self, before=self.before.after((turn,)), row=row)


def _after(turn: Turn, place: str) -> str:
    return PLACE_NAMES[turn.permutation.index(PLACE_NUMBER[place])]


@dataclass
class Answers:
    """What was told while the cube is read, the last at the end."""

    given: list[PastAnswer] = field(default_factory=list)

    def add(self, before: KnownStickers, row: Named | None = None, letters: Sequence[str] = ()) -> None:
        """An answer has been given; about `row`, if about one."""
        self.given.append(PastAnswer(before, row, tuple(letters)))

    def moved(self, turn: Turn) -> None:
        """The whole cube has been turned."""
        self.given = [answer.after(turn) for answer in self.given]

    def take_back(self) -> KnownStickers | None:
        """Forget the last answer; what was known before it."""
        return self.given.pop().before if self.given else None

    @property
    def last_row(self) -> Named | None:
        """The row that the last answer was about, if it was about one."""
        return self.given[-1].row if self.given else None


# Which row an answer is about


def meant(talk: Talk, knowledge: Knowledge, answers: Answers, asked: Named, told: ToldRow) -> Talking[Named | None]:
    """The row that an answer is about which was given to `asked`: another one where it names that, the one before where
    it puts that right. None where the learner was asked whether it does and has not said."""
    head, tail = _around(talk.scene.names, told.text)
    corrects = talk.phrases.opens("corrects", head)
    if name := talk.phrases.row_named(head) or talk.phrases.row_named(tail):
        before = [answer.row for answer in answers.given if corrects and answer.row and answer.row.name == name]
        return asked if name == asked.name else [Named.of(Row((), *name)), *before][-1]
    last = answers.last_row
    if last is None or not _fits(knowledge, last, told.letters):
        return asked
    points_back = talk.phrases.holds("row-before", head) or (corrects and talk.phrases.holds("row-before", tail))
    if points_back or (corrects and answers.given[-1].letters[::-1] == tuple(told.letters)):
        return last
    if not (corrects and told.at_once):
        return asked
    event = yield from ask_aside(talk, talk.words("read.row-before", colours=", ".join(told.words)), "heard")
    answer = None if isinstance(event, Silence) else yes_or_no(event)
    return None if answer is None else last if answer else asked


def _fits(knowledge: Knowledge, row: Named, letters: Sequence[str]) -> bool:
    """Whether the letters can be there, as far as the middle of a side tells."""
    pattern = knowledge.reading.pattern
    pairs = zip(row.places, letters, strict=True)
    return all(letter in (UNKNOWN, pattern[PLACE_NUMBER[place]]) for place, letter in pairs if place.endswith("4"))


def _around(names: Sequence[str], text: str) -> tuple[str, str]:
    """What is said before the first colour and after the last one."""
    said = text.lower()
    first = min((at for name in names if (at := said.find(name.lower())) >= 0), default=len(said))
    last = max((at + len(name) for name in names if (at := said.rfind(name.lower())) >= 0), default=len(said))
    return said[:first], said[last:]
