"""Rows of stickers: asking for them, remembering those that were read, and telling which one an answer is about."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from coach.belief.reading.rows import Row
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.cube import PLACE_NAMES, PLACE_NUMBER, Turn
from coach.dialogue.acts import Heard, Query, Silence
from coach.dialogue.doubt import ask_aside
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.wording import row_words
from coach.dialogue.talk import Talk

# Asking


def read_face(talk: Talk, knowledge: Knowledge, face: str) -> Talking[Sequence[str]]:
    """The nine colours of a face, as the faces they belong to, row by row. A learner who tells only one or two rows,
    or nothing usable, is asked for the others one at a time."""
    first, second, third = (row_words(talk, face, number)["row"] for number in (1, 2, 3))
    named = talk.phrases.part(f"faces.{face}")
    forms = talk.forms("ask.face", face=named, first=first, second=second, third=third)
    rows = (9, 6, 3)
    letters = yield from talk.ask(Query("face", face=face), forms[:2], lambda heard: _letters(knowledge, heard, rows))
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
    """Ask for a row until three colours are heard; the result is the faces they belong to, left to right. If it is not
    `possible`, ask once more before concluding anything from it."""
    letters = (yield from ask_row(talk, knowledge, face, number)).letters
    if not possible(letters):
        yield from talk.tell("read.row-again")
        letters = (yield from ask_row(talk, knowledge, face, number)).letters
    return letters


class ToldRow(NamedTuple):
    """Three colours, as the faces they belong to and in the learner's words; the answer that told them, and whether it
    was the first one."""

    letters: Sequence[str]
    words: Sequence[str]
    heard: Heard
    at_once: bool


def ask_row(talk: Talk, knowledge: Knowledge, face: str, number: int) -> Talking[ToldRow]:
    """Ask for a row until three colours are heard, at once or one after the other."""
    example = ", ".join(knowledge.colour(letter) for letter in "DFR")
    whole = talk.forms("ask.row", example=example, **row_words(talk, face, number))
    so_far: dict[int, str] = {}
    """The words for the stickers told so far, from 0 on the left."""
    answers = 0

    def take(heard: Heard) -> ToldRow | None:
        nonlocal answers, so_far
        answers += 1
        so_far, known = _further(knowledge, heard, so_far), so_far
        if so_far == known:
            return None
        words = [so_far.get(at, UNKNOWN) for at in range(3)]
        return ToldRow(letters_of(knowledge, words), words, heard, answers == 1)

    while True:
        left = [talk.phrases.part(f"columns.{at}") for at in range(3) if at not in so_far]
        forms = whole
        if so_far:
            known = ", ".join(so_far[at] for at in sorted(so_far))
            forms = (*talk.forms("ask.row-on", known=known, where=left[0]), *whole[-1:])
        told = yield from talk.until(Query("row", face=face, row=number), forms, take)
        if len(so_far) < 3:
            continue
        so_far = {}
        if told.heard.aside.side in (None, face):
            return told
        question = talk.words("read.row-asked", 0, colours=", ".join(told.words), **row_words(talk, face, number))
        event = yield from ask_aside(talk, question, "heard")  # another side was spoken of
        if not isinstance(event, Silence) and yes_or_no(event):
            return told


def _further(knowledge: Knowledge, heard: Heard, so_far: Mapping[int, str]) -> dict[int, str]:
    """The words for the stickers of a row once more are told; three at once stand for themselves, and what is corrected
    is the last one. Unchanged if nothing more is told."""
    told = heard.meaning.colours if heard.meaning else ()
    named = {at: word for at, word in enumerate(told) if knowledge.face_of(word)}
    if len(told) == len(named) == 3:
        return named
    free = [at for at in range(3) if at not in so_far]
    if not named or len(told) > 2 or (not so_far and len(named) > 1):  # of three that were said, one may not be heard
        return dict(so_far)
    if so_far and len(told) == 1 and heard.says("corrects"):
        return {**so_far, max(so_far): told[0]}
    if so_far and len(told) == len(named):  # from left to right
        return {**so_far, **dict(zip(free, told, strict=False))} if len(told) <= len(free) else dict(so_far)
    return {**so_far, **named}


def row_meant(words: Sequence[str]) -> Callable[[Heard], Sequence[str] | None]:
    """Takes an answer to whether a row was read with these words: they, those that it is put right with, or none."""

    def take(heard: Heard) -> Sequence[str] | None:
        right, answer = heard.aside.row, yes_or_no(heard)
        if right and set(right.colours) == {0, 1, 2}:
            return [right.colours[at] for at in range(3)]
        return None if answer is None else words if answer else ()

    return take


def letters_of(knowledge: Knowledge, words: Sequence[str]) -> list[str]:
    """The faces that the words of a row belong to."""
    return [_letter(knowledge, word) for word in words]


def _letter(knowledge: Knowledge, word: str) -> str:
    """The face that a word belongs to, UNKNOWN for one that the learner cannot tell from another."""
    letter = knowledge.face_of(word) or UNKNOWN
    return UNKNOWN if letter in knowledge.alike else letter


def _letters(knowledge: Knowledge, heard: Heard, counts: Sequence[int]) -> list[str] | None:
    """The faces that the colours heard belong to, UNKNOWN for one that the learner cannot tell from another.

    None unless their number is one of `counts`."""
    colours = heard.meaning.colours if heard.meaning else ()
    letters = [letter for colour in colours if (letter := knowledge.face_of(colour))]
    letters = [UNKNOWN if letter in knowledge.alike else letter for letter in letters]
    return letters if len(letters) == len(colours) and len(letters) in counts else None


# Remembering


class Named(NamedTuple):
    """A row: its face and number when it was asked for, and where it is now."""

    name: tuple[str, int]
    places: tuple[str, ...]

    @classmethod
    def of(cls, row: Row) -> Named:
        """A row in the present hold."""
        return cls((row.face, row.number), row.places)


@dataclass(frozen=True)
class PastAnswer:
    """An answer about stickers, with what was known `before` it, in the present hold. If it was about a row: which row,
    and the letters told. `turned`: the whole cube was to be turned since the answer before."""

    before: KnownStickers
    row: Named | None = None
    letters: tuple[str, ...] = ()
    turned: bool = False

    def after(self, turn: Turn) -> PastAnswer:
        """The same answer once the whole cube has been turned."""
        row = self.row and Named(self.row.name, tuple(_after(turn, place) for place in self.row.places))
        return replace(self, before=self.before.after((turn,)), row=row)

    def without_middle(self) -> PastAnswer:
        """The same answer with the middle of the side not told."""
        pairs = zip(self.row.places, self.letters, strict=True) if self.row else ()
        return replace(self, letters=tuple(UNKNOWN if place.endswith("4") else letter for place, letter in pairs))


def with_row(reading: KnownStickers, row: Row | Named, letters: Sequence[str]) -> KnownStickers:
    """What is known once `row` has been read."""
    stickers = zip(row.places, letters, strict=True)
    return reading.seeing({place: face for place, face in stickers if not place.endswith("4")})


def _after(turn: Turn, place: str) -> str:
    return PLACE_NAMES[turn.permutation.index(PLACE_NUMBER[place])]


@dataclass
class Answers:
    """What has been told while the cube is read, latest last."""

    given: list[PastAnswer] = field(default_factory=list)
    _turned: bool = False

    def add(self, before: KnownStickers, row: Named | None = None, letters: Sequence[str] = ()) -> None:
        """Record an answer; `row` is the row it is about, if any."""
        self.given.append(PastAnswer(before, row, tuple(letters), self._turned))
        self._turned = False

    def moved(self, turn: Turn) -> None:
        """Follow a turn of the whole cube."""
        self.given = [answer.after(turn) for answer in self.given]
        self._turned = True

    def take_back(self) -> KnownStickers | None:
        """Forget the last answer; the result is what was known before it."""
        return self.given.pop().before if self.given else None

    @property
    def rows(self) -> list[PastAnswer]:
        """The answers that told a row."""
        return [answer for answer in self.given if answer.row]

    def with_right(self, wrong: PastAnswer, letters: Sequence[str]) -> tuple[Answers, KnownStickers]:
        """The answers with `letters` told instead of `wrong` (or nothing, if there are none), and what is known then.
        Of what was answered since, only rows are kept: the rest was asked because of what was known."""
        at, known, right = self.given.index(wrong), wrong.before, Answers()
        later = [answer for answer in self.given[at + 1 :] if answer.row]
        right.given = self.given[:at]
        for answer in (*([replace(wrong, letters=tuple(letters))] if letters else []), *later):
            if answer.row:
                right.add(known, answer.row, answer.letters)
                known = with_row(known, answer.row, answer.letters)
        return right, known

    def named(self, name: tuple[str, int], asked: Named | None) -> list[PastAnswer]:
        """The row told last by that name, if any. Without a face it is a row of the side `asked` about, or of the last
        one told."""
        face, number = name
        last = self.rows[-1].row if self.rows else None
        for side in [face] if face else [row.name[0] for row in (asked, last) if row]:
            places = set(Row((), side, number).places)
            for told in self.rows[::-1]:
                if told.row and (told.row.name == (side, number) or set(told.row.places) == places):
                    return [told]
        return []

    def held_since(self, row: int, turns: Iterable[Turn]) -> tuple[Answers, KnownStickers]:
        """The answers if the cube has been held as after these `turns` since row number `row` was told, and what is
        known then. Of later answers only rows are kept."""
        first = self.rows[row]
        right, later = Answers(self.given[: self.given.index(first)]), self.rows[row:]
        known = first.before
        for turn in turns:
            right.moved(turn)
            known = known.after((turn,))
        for answer in later:
            right._turned = answer.turned
            right.add(known, answer.row, answer.letters)
            known = with_row(known, answer.row, answer.letters) if answer.row else known
        return right, known

    def forget_middles(self) -> None:
        """Take the middles that were told for misread ones."""
        self.given = [answer.without_middle() for answer in self.given]

    @property
    def last_row(self) -> Named | None:
        """The row that the last answer was about, if any."""
        return self.given[-1].row if self.given else None


# Which row an answer is about


def meant(talk: Talk, knowledge: Knowledge, answers: Answers, asked: Named, told: ToldRow) -> Talking[Named | None]:
    """The row that an answer to `asked` is really about: another one if it names that, or the previous one if it puts
    that right. None if the learner was asked whether it does and did not say."""
    corrects, name = told.heard.says("corrects"), told.heard.aside.row_named
    if name:
        return _of_name(answers, name, asked, corrects)
    last = answers.last_row
    if last is None or not fits(knowledge, last, told.letters):
        return asked
    before = answers.given[-1].letters
    if told.heard.says("row-before") or (corrects and before[::-1] == tuple(told.letters)):
        return last
    if not (told.at_once and (corrects or (told.heard.says("past") and _nearly(before, told.letters)))):
        return asked
    answer = yield from is_meant(talk, last, ", ".join(told.words))
    return None if answer is None else last if answer else asked


def _of_name(answers: Answers, name: tuple[str, int], asked: Named, corrects: bool) -> Named:
    """The row of that name: one told before, if that is put right or no side is named; otherwise as the cube lies."""
    if name == asked.name:
        return asked
    before = answers.named(name, asked) if corrects or not name[0] else []
    if before and before[0].row and (name[0] or name[1] != asked.name[1]):
        return before[0].row
    return Named.of(Row((), *name)) if name[0] else asked


def _nearly(one: Sequence[str], other: Sequence[str]) -> bool:
    """Whether they differ in one sticker only, or in their order."""
    differing = sum(a != b for a, b in zip(one, other, strict=True))
    return differing == 1 or (differing > 1 and sorted(one) == sorted(other))


def is_meant(talk: Talk, row: Named, colours: str) -> Talking[bool | None]:
    """Whether the learner means that row, which they told before, to be of these `colours`; None if they do not say."""
    question = talk.words("read.row-before", 0, colours=colours, **row_words(talk, *row.name))
    event = yield from ask_aside(talk, question, "heard")
    return None if isinstance(event, Silence) else yes_or_no(event)


def say_now(talk: Talk, row: Named, colours: str) -> Talking[None]:
    """Say what a row that was told is now, by the name that it was asked for."""
    key = "read.put-right" if row == Named.of(Row((), *row.name)) else "read.put-right-then"
    yield from talk.tell(key, 0, colours=colours, **row_words(talk, *row.name))


def fits(knowledge: Knowledge, row: Named, letters: Sequence[str]) -> bool:
    """Whether the letters can be in the row, as far as the middle of a side tells."""
    pattern = knowledge.reading.pattern
    pairs = zip(row.places, letters, strict=True)
    return all(letter in (UNKNOWN, pattern[PLACE_NUMBER[place]]) for place, letter in pairs if place.endswith("4"))
