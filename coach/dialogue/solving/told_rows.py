"""Rows told while the cube is read: summing them up, putting one right, having them looked at again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.belief.reading.rows import most_rows
from coach.belief.reading.stickers import UNKNOWN, ways
from coach.cube import FACES, PLACE_NUMBER, Turn
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.rows import Answers, Named, PastAnswer, fits
from coach.dialogue.solving.wording import row_words
from coach.dialogue.talk import Talk
from coach.language.aside import RowPutRight

_SIZE: Final = 3
"""The number of stickers in a row."""


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
        latest = {frozenset(told.row.places): at for at, told in enumerate(self.answers().rows) if told.row}
        rows = [self.answers().rows[at] for at in sorted(latest.values())]
        last = [self._named(told) for told in rows[:-3:-1]]
        words = dict(zip(("last", "before"), (*last, "", ""), strict=False))
        heard = self.talk.words("read.so-far", min(len(rows), 2), n=len(rows), **words)
        return f"{heard} {self.to_come()}"

    def _named(self, told: PastAnswer) -> str:
        """A row that was told, by the name that it was asked for."""
        places = told.row.places if told.row else ()
        middles = {place: self.knowledge.reading.centre(place[0]) for place in places if place.endswith("4")}
        letters = [middles.get(place, letter) for place, letter in zip(places, told.letters, strict=True)]
        colours = in_words(self.talk, self.knowledge, letters)
        words = row_words(self.talk, *told.row.name) if told.row else {}
        return self.talk.part("read.told-row", 0, colours=colours, **words)

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
    knowledge: Knowledge, answers: Answers, said: RowPutRight, asked: Named | None
) -> tuple[PastAnswer, tuple[str, ...]] | None:
    """The row that is put right and the letters in it, or no letters if it has to be read again. `asked` is the row
    that is asked for, if one is. None if the learner names a row that has not been told."""
    said = _of_one_row(said, answers)
    rows = _spoken_of(answers, said, asked)
    if not rows:
        return None
    right = {id(row): replaced(knowledge, row.letters, said) for row in rows}
    new = [row for row in rows if right[id(row)] != row.letters]
    for row in new:
        known = answers.with_right(row, right[id(row)])[1]
        if row.row and fits(knowledge, row.row, right[id(row)]) and ways(known):
            return row, right[id(row)]
    same = [row for row in rows if (said.colours or said.exchanged) and row not in new]
    return (same[0], same[0].letters) if same else (rows[0], ())


def replaced(knowledge: Knowledge, letters: Sequence[str], said: RowPutRight) -> tuple[str, ...]:
    """The letters of a row as it is put right; as they were where that cannot be told."""
    size = len(letters)

    def face(colour: str) -> str:
        found = knowledge.face_of(colour)
        return UNKNOWN if found is None or found in knowledge.alike else found

    match said.exchanged:
        case (int(one), int(other)) if max(one, other) < size:
            swapped = list(letters)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            return tuple(swapped)
        case (str(one), str(other)):
            pair = {face(one): face(other), face(other): face(one)}
            return tuple(pair.get(letter, letter) for letter in letters)
    if said.instead and not said.colours:
        wrong, right = map(face, said.instead)
        if letters.count(wrong) == 1:
            return tuple(right if letter == wrong else letter for letter in letters)
    told = {at % size: face(colour) for at, colour in said.colours.items() if at < size}
    return tuple(told.get(at, letter) for at, letter in enumerate(letters))


def put_right_on_side(
    knowledge: Knowledge, letters: Sequence[str], said: RowPutRight, first: tuple[str, int]
) -> list[str]:
    """The letters of one row or of all three of a side, the first of which is the row `first`, as they are put right;
    unchanged where it is not told which row is meant."""
    side, number = first
    start, end = 0, len(letters)
    if said.named:
        start = _SIZE * (said.named[1] - number)
        end = start + _SIZE
    of_row = said.exchanged or len(said.colours) == _SIZE
    known = said.named is None or (said.named[0] in ("", side) and 0 <= start < len(letters))
    if not known or said.before or (of_row and end - start != _SIZE):
        return [*letters]
    return [*letters[:start], *replaced(knowledge, letters[start:end], said), *letters[end:]]


def of_this_row(
    knowledge: Knowledge, letters: Sequence[str], said: RowPutRight, row: tuple[str, int]
) -> tuple[str, ...]:
    """The `letters` of the `row` that was told last as they are put right; none if they stay as they were."""
    right = tuple(put_right_on_side(knowledge, letters, said, row))
    return right if right != tuple(letters) else ()


def _of_one_row(said: RowPutRight, answers: Answers) -> RowPutRight:
    """The same; a place beyond the first row of a side, as a place in the row that it is in."""
    rows = {at // _SIZE for at in said.colours if at >= 0}
    if said.named or not answers.rows or len(rows) != 1 or not any(rows):
        return said
    number = rows.pop()
    colours = {at - _SIZE * number: colour for at, colour in said.colours.items()}
    return replace(said, colours=colours, named=("", number + 1))


def _spoken_of(answers: Answers, said: RowPutRight, asked: Named | None) -> list[PastAnswer]:
    """The rows that may be meant, likeliest first. While another row is `asked` for, "the one before" is usually the
    one told last."""
    if said.named and ((named := answers.named(said.named, asked)) or said.named[0]):
        return named
    last = answers.rows[:-3:-1]
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
