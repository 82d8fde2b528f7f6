"""Rows told while the cube is read: summing them up, putting one right, having them looked at again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from coach.belief.reading.rows import Row, most_rows
from coach.belief.reading.stickers import UNKNOWN, ways
from coach.cube import FACES, PLACE_NUMBER, Turn
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.rows import Answers, PastAnswer, fits
from coach.dialogue.talk import Talk
from coach.language.aside import RowPutRight


@dataclass(frozen=True)
class ToldSoFar:
    """The coach's answers about the rows that were told and those still to come."""

    talk: Talk
    knowledge: Knowledge
    answers: Callable[[], Answers]

    @property
    def any_told(self) -> bool:
        """Whether any row has been told that may be put right."""
        return bool(self.answers().rows)

    def so_far(self) -> str:
        """What was heard last, and how many rows are to come."""
        rows = self.answers().rows
        last = [in_words(self.talk, self.knowledge, row.letters) for row in rows[:-3:-1]]
        words = dict(zip(("last", "before"), (*last, "", ""), strict=False))
        heard = self.talk.words("read.so-far", min(len(rows), 2), n=len(rows), **words)
        return f"{heard} {self.to_come()}"

    def to_come(self) -> str:
        """The most rows still to come."""
        if not ways(self.knowledge.reading):
            return self.talk.words("read.to-check")
        n = most_rows(self.knowledge.reading)
        return self.talk.words("read.to-come", int(n > 1), n=n)


def in_words(talk: Talk, knowledge: Knowledge, letters: Sequence[str]) -> str:
    """The stickers of a row in the learner's words."""
    unknown = talk.phrases.part("read.not-told")
    return ", ".join(unknown if letter == UNKNOWN else knowledge.colour(letter) for letter in letters)


def put_right(
    knowledge: Knowledge, answers: Answers, said: RowPutRight, asked: bool
) -> tuple[PastAnswer, tuple[str, ...]] | None:
    """The row that is put right and the letters in it, or no letters if it has to be read again. None if the learner
    names a row that has not been told."""
    rows = _spoken_of(answers, said, asked)
    if not rows:
        return None
    told = {at: knowledge.face_of(colour) or UNKNOWN for at, colour in said.colours.items()}
    told = {at: UNKNOWN if face in knowledge.alike else face for at, face in told.items()}
    right = {id(row): _replaced(knowledge, row, said, told) for row in rows}
    new = [row for row in rows if right[id(row)] != row.letters]
    for row in new:
        known = answers.with_right(row, right[id(row)])[1]
        if row.row and fits(knowledge, row.row, right[id(row)]) and ways(known):
            return row, right[id(row)]
    same = [row for row in rows if told and row not in new]
    return (same[0], same[0].letters) if same else (rows[0], ())


def _replaced(knowledge: Knowledge, row: PastAnswer, said: RowPutRight, told: Mapping[int, str]) -> tuple[str, ...]:
    """The row as it is put right; as it was where that cannot be told."""
    if said.instead and not told:
        faces = [knowledge.face_of(colour) or UNKNOWN for colour in said.instead]
        wrong, right = (UNKNOWN if face in knowledge.alike else face for face in faces)
        if row.letters.count(wrong) == 1:
            return tuple(right if letter == wrong else letter for letter in row.letters)
    return tuple(told.get(at, letter) for at, letter in enumerate(row.letters))


def _spoken_of(answers: Answers, said: RowPutRight, asked: bool) -> list[PastAnswer]:
    """The rows that may be meant, likeliest first. While another row is `asked` for, "the one before" is usually the
    one told last."""
    rows = answers.rows[::-1]
    if said.named:
        places = set(Row((), *said.named).places)
        return [row for row in rows if row.row and (row.row.name == said.named or set(row.row.places) == places)][:1]
    last = rows[:2]
    if said.instead and not said.before:
        return last
    return last[:1] if not said.before else last if asked else last[::-1]


def of_all_layers(answers: Answers) -> list[int]:
    """The numbers of told rows, as few and as late as possible, that together lie in every layer told of: if anything
    has turned, one of them looks different."""
    chosen: list[int] = []
    seen: set[str] = set()
    for number, answer in reversed(list(enumerate(answers.rows))):
        layers = {face for face in FACES for place in _places(answer) if Turn(face).permutation[place] != place}
        if not layers <= seen:
            chosen.append(number)
            seen |= layers
    return chosen


def _places(answer: PastAnswer) -> list[int]:
    return [PLACE_NUMBER[place] for place in answer.row.places] if answer.row else []
