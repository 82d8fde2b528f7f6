"""Reading the whole cube: rows of stickers, the row that tells most each time, until the rest follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.belief.correction import likelihoods, most_probable
from coach.belief.reading import UNKNOWN, forced, solution, ways
from coach.belief.rows import Row, next_row
from coach.cube import FACES, PLACE_NUMBER, find_problems
from coach.cube.problems import explain
from coach.dialogue.acts import Heard, Say
from coach.dialogue.knowledge import Knowledge
from coach.dialogue.talk import Interrupt, Talk, Talking, UnsolvableError

_MOST_CHECKS: Final = 12
"""So many single stickers are asked again where the reading cannot be, before the cube itself is doubted."""


class Reader:
    """Has the learner read the cube."""

    def __init__(self, talk: Talk, knowledge: Knowledge) -> None:
        self.talk, self.knowledge = talk, knowledge
        self._confirmed: set[str] = set()

    def go(self) -> Talking[None]:
        """Read until the whole cube is known. Raises UnsolvableError for one that cannot be solved."""
        yield from self.talk.tell("read.begin")
        colour = self.knowledge.colour
        centres = self.knowledge.reading.centres
        yield from self.talk.tell("read.hold", up=colour(centres[0]), front=colour(centres[2]))
        while not self.knowledge.complete:
            try:
                yield from self._more()
            except Interrupt as interrupt:
                if interrupt.command == "correct":
                    yield from self.talk.tell("reply.correct")
                    self.knowledge.reading = self._before
                else:
                    yield from self.talk.tell("reply.not-now")
        yield from self.talk.tell("read.enough")

    def _more(self) -> Talking[None]:
        """One more row; or, where the rest follows, all of it."""
        reading = self.knowledge.reading
        self._before = reading
        if not ways(reading):
            yield from self._mend()
            return
        cube = solution(reading)
        if cube:
            self.knowledge.reading = reading.seeing(forced(reading))
            return
        row = next_row(reading)
        if row is None:
            raise AssertionError("a legal reading that is not the whole cube leaves something to read")
        yield from self._read(row)

    def _read(self, row: Row) -> Talking[None]:
        yield from self.talk.rotate(row.rotation, lambda turn: self.knowledge.move((turn,)))
        letters = yield from read_row(self.talk, self.knowledge, row.face, row.number)
        stickers = {place: letter for place, letter in zip(row.places, letters, strict=True) if not place.endswith("4")}
        self._confirmed.clear()
        self.knowledge.reading = self.knowledge.reading.seeing(stickers)

    # What cannot be

    def _mend(self) -> Talking[None]:
        """Ask about exactly the doubtful stickers until the reading can be."""
        yield from self.talk.tell("read.again")
        for _ in range(_MOST_CHECKS):
            reading = self.knowledge.reading
            if ways(reading):
                return
            correction = most_probable(
                reading, likelihoods(reading, confirmed=self._confirmed, colours=self.knowledge.colours)
            )
            doubtful = [*correction.changed, *correction.doubtful]
            place = next((p for p in doubtful if p not in self._confirmed), None)
            if place is None:
                break
            yield from self._ask_sticker(place)
        if not ways(self.knowledge.reading):
            yield from self._impossible()

    def _ask_sticker(self, place: str) -> Talking[None]:
        talk = self.talk
        face, where = talk.words(f"faces.{place[0]}").lower(), talk.words(f"grid.{place[1]}").lower()
        said = self.knowledge.reading.pattern[PLACE_NUMBER[place]]
        forms = talk.phrases.forms("ask.sticker", face=face, place=where, colour=self.knowledge.colour(said))

        def take(heard: Heard) -> str | None:
            colours = heard.meaning.colours if heard.meaning else ()
            if len(colours) == 1:
                return self.knowledge.face_of(colours[0])
            return said if heard.meaning and heard.meaning.command == "yes" else None

        answer = yield from talk.ask(
            "other", forms, take, {"about": "sticker", "face": place[0], "place": int(place[1])}
        )
        self._confirmed.add(place)
        if answer:
            self.knowledge.reading = self.knowledge.reading.seeing({place: answer})

    def _impossible(self) -> Talking[None]:
        """Say why the cube cannot be solved: read what is left, then name the fault."""
        while UNKNOWN in self.knowledge.reading.pattern:
            place = self.knowledge.reading.pattern.index(UNKNOWN)
            face, number = FACES[place // 9], place % 9 // 3 + 1
            letters = yield from read_row(self.talk, self.knowledge, face, number)
            places = [f"{face}{3 * (number - 1) + i}" for i in range(3)]
            known = {p: x for p, x in zip(places, letters, strict=True) if not p.endswith("4")}
            self.knowledge.reading = self.knowledge.reading.seeing(known)
        for problem in find_problems(self.knowledge.reading.pattern):
            yield from self.talk.say(Say(explain(problem, self.knowledge.colours), "tell"))
        raise UnsolvableError


def read_row(talk: Talk, knowledge: Knowledge, face: str, number: int) -> Talking[Sequence[str]]:
    """Ask for a row until three colours are heard: the faces they belong to, left to right."""
    example = ", ".join(knowledge.colour(letter) for letter in "DFR")
    forms = talk.phrases.forms(
        "ask.row",
        face=talk.words(f"faces.{face}").lower(),
        row=talk.words(f"read.row-{number}").lower(),
        example=example,
    )

    def take(heard: Heard) -> list[str] | None:
        colours = heard.meaning.colours if heard.meaning else ()
        letters = [letter for colour in colours if (letter := knowledge.face_of(colour))]
        return letters if len(letters) == len(colours) == 3 else None

    while True:
        letters = yield from talk.ask("row", forms, take, {"face": face, "row": number})
        if letters:
            return letters
        yield from talk.wait()
