"""Reading the whole cube row by row, always the row that tells most, until the rest follows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Final

import numpy as np

from coach.belief.reading.correction import likelihoods, most_probable
from coach.belief.reading.diagnosis import diagnose
from coach.belief.reading.holds import can_be_held, odd_middles
from coach.belief.reading.rows import LOOK, Row, check_row, next_row, row_at, telling_place
from coach.belief.reading.stickers import UNKNOWN, KnownStickers, completions, forced, solution, ways
from coach.cube import FACES, PLACE_NAMES, PLACE_NUMBER, Turn, find_problems
from coach.dialogue.acts import Query, Tell
from coach.dialogue.reached import Anew, PartOver
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, StopLessonError
from coach.dialogue.solving.impossible import explained
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.looking import ask_sticker, bring_to_front, compare, confirm
from coach.dialogue.solving.misheld import doubtful_middle, hold_told, rows_read, seems_misheld
from coach.dialogue.solving.rows import Answers, Named, PastAnswer, ask_row, is_meant, meant, say_now, with_row
from coach.dialogue.solving.told_rows import ToldSoFar, in_words, of_all_layers, of_this_row, put_right
from coach.dialogue.solving.wording import row_words
from coach.dialogue.talk import Talk
from coach.language.aside import RowPutRight

_CHECKS: Final = {False: (0.75, 1), True: (0.999, 6)}
"""How sure the look of every row has to be, and the most rows checked to get there; by whether the cube is read again
because something did not fit."""
_BY_TOUCH: Final = {"F": 0.0, "U": 0.05}
"""The faces on which fingers can tell left from right, as in LOOK."""
_FEW: Final = 2
"""Ask for one sticker that decides if this many cubes are left. This saves a row in half of all readings."""
_ANEW: Final = ("restart-run", "read")
"""Commands that start the reading again."""
_MUCH: Final = 3
"""Ask before forgetting this many answers or more."""
_FIRST_CHECKS: Final = 4
"""Ask about up to this many doubtful stickers before more of the cube is read."""
_MOST_CHECKS: Final = 36
"""Ask at most this many questions about an impossible reading before it is started again."""


class Reader:
    """Has the learner read the cube."""

    def __init__(self, talk: Talk, knowledge: Knowledge, again: bool = False) -> None:
        self.talk, self.knowledge = talk, knowledge
        self._sure, self._most_checked = _CHECKS[again]
        self._answers = Answers()
        """What was told, kept up to date with every turn since."""
        self._confirmed: set[str] = set()
        self._checks = 0
        self._hold_seen = False
        """Whether two middles have told the hold since the whole cube was turned last."""
        self._owed: PastAnswer | None = None
        """The row that has to be read again, if any."""
        self._anew = False
        self._asked: Named | None = None
        """The row that was asked for last."""
        self._assumed = bool(knowledge.reading.read)
        """Whether some stickers were not read but taken to be at home."""

    def go(self) -> Talking[None]:
        """Read until the whole cube is known. Ends the lesson if it cannot be solved."""
        yield from self.talk.tell("read.begin")
        held = self.knowledge.held
        yield from self.talk.tell("read.hold", up=held["U"], front=held["F"])
        self.talk.rows = ToldSoFar(self.talk, self.knowledge, lambda: self._answers)
        try:
            yield from self._all()
        finally:
            self.talk.rows = None
        self.knowledge.begin_trail()
        self.knowledge.hold_known = True
        yield from self.talk.tell("read.enough")

    def _all(self) -> Talking[None]:
        interrupt: Interrupt | None = None
        while interrupt or not (self.knowledge.complete and ways(self.knowledge.reading)):
            try:
                if interrupt:
                    said, interrupt = interrupt, None
                    yield from self._obey(said)
                else:
                    yield from self._more()
            except PartOver:  # an answer was about another row and has been put there
                continue
            except Interrupt as said:
                interrupt = said

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.row:
            right = yield from self._put_right(interrupt.row, None if interrupt.turning else self._asked)
            if interrupt.turning:
                yield from (self.talk.turn_again() if right else self.talk.tell_hold())
        elif interrupt.command == "held":
            yield from self._look_at_hold()
        elif interrupt.command == "turned" or (interrupt.command == "fell" and not (yield from self._still_so())):
            yield from self._from_start()
        elif interrupt.command == "correct" and (before := self._answers.take_back()):
            yield from self.talk.tell("reply.correct")
            self.knowledge.reading = before
            self._confirmed.clear()
        elif interrupt.command in _ANEW and self._answers.given and (yield from self._is_to_begin_anew()):
            yield from self._from_start()
        else:
            yield from self.talk.tell("read.go-on")

    def _from_start(self) -> Talking[None]:
        self._forget()
        yield from self.talk.tell("read.from-start")
        yield from self.talk.tell_hold()

    def _put_right(self, said: RowPutRight, asked: Named | None) -> Talking[bool]:
        """Put right a row that was told, while `asked` is asked for, if any row is; it is read again if the correction
        is impossible or not known. False if nothing was meant to be put right."""
        right = put_right(self.knowledge, self._answers, said, asked)
        wrong, letters = right or (None, ())
        row, colours = wrong and wrong.row, in_words(self.talk, self.knowledge, letters)
        if not (wrong and row) or not (said.sure or not letters or (yield from is_meant(self.talk, row, colours))):
            yield from self.talk.tell("read.go-on")
            return False
        self._answers, self.knowledge.reading = self._answers.with_right(wrong, letters)
        self._confirmed.clear()
        if letters:
            yield from say_now(self.talk, row, colours)
        else:
            self._owed = wrong
            yield from self.talk.tell("read.row-again" if said.colours or said.exchanged else "read.that-row-again")
        return True

    def _still_so(self) -> Talking[bool]:
        """Whether told rows that cover all six layers still look as they did."""
        for number in of_all_layers(self._answers):
            row = row_at(self._row_told(number), self._look)
            yield from self.talk.rotate(row.rotation, self._moved)
            told = self._row_told(number)
            if not (yield from self._confirm(row, [told[place] for place in row.places])):
                return False
        return True

    def _row_told(self, number: int) -> Mapping[str, str]:
        """The stickers of that row, by place."""
        answer = self._answers.rows[number]
        return dict(zip(answer.row.places, answer.letters, strict=True)) if answer.row else {}

    def _is_to_begin_anew(self) -> Talking[bool]:
        """Whether to forget everything that was read; if that is much, the learner is asked."""
        if len(self._answers.given) < _MUCH:
            return True
        try:
            return (yield from self.talk.insist(Query("other", about="anew"), self.talk.forms("read.whether-anew")))
        except Interrupt as interrupt:
            return interrupt.command in _ANEW

    def _forget(self) -> None:
        self._assumed, self._checks = False, 0
        self._confirmed.clear()
        self.knowledge.forget_all()
        self._answers, self._owed = Answers(), None

    def _more(self) -> Talking[None]:
        """Take one more step: read or check a row or ask about a sticker, or fill in the rest once it follows."""
        reading = self.knowledge.reading
        if self._owed and self._owed.row:
            yield from self._read(row_at(self._owed.row.places, self._look))
            return
        if self._misheld:
            yield from self._look_at_hold()
            return
        if not ways(reading):
            yield from self._mend()
            return
        if solution(reading):
            likelihood = likelihoods(reading, confirmed=self._confirmed)
            row = check_row(reading, likelihood, sure=self._sure) if self._checks < self._most_checked else None
            if row:
                yield from self._check(row)
            else:
                self.knowledge.reading = reading.seeing(forced(reading))
            return
        row = next_row(reading, look=self._look, seen=self._seen)
        place = telling_place(reading, self.knowledge.alike) if ways(reading) == _FEW else None
        if place is not None:
            yield from self._ask_which(reading, place)
        elif row:
            yield from self._read(row)
        else:
            yield from self._tell_apart(reading)

    @property
    def _seen(self) -> set[int]:
        """The places that were read, for learners who cannot tell some of the colours."""
        rows = rows_read(self._answers) if self.knowledge.alike else ()
        return {PLACE_NUMBER[place] for row in rows for place in row.told}

    @property
    def _look(self) -> Mapping[str, float]:
        return _BY_TOUCH if self.talk.touch else LOOK

    def _ask_which(self, reading: KnownStickers, place: int) -> Talking[None]:
        """Two cubes are left: ask which of two colours the sticker at `place` has."""
        one, other = (reading.centres[i] for i in np.flatnonzero(completions(reading).stickers()[place]))
        self._answers.add(reading)
        name = PLACE_NAMES[place]
        yes = yield from ask_sticker(self.talk, self.knowledge, name, one)
        self.knowledge.reading = reading.seeing({name: one if yes else other})

    def _tell_apart(self, reading: KnownStickers) -> Talking[None]:
        """Everything has been read, but some colours look the same to the learner: compare a sticker with a middle."""
        counts = completions(reading).stickers()
        place = int(np.minimum(counts, ways(reading) - counts).max(axis=1).argmax())
        likeliest, other = np.argsort(-counts[place])[:2].tolist()
        self._answers.add(reading)
        same = yield from compare(self.talk, self.knowledge, PLACE_NAMES[place], FACES[likeliest])
        self.knowledge.reading = reading.seeing({PLACE_NAMES[place]: reading.centres[likeliest if same else other]})

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))
        self._hold_seen = False
        self._answers.moved(turn)
        self._owed = self._owed and self._owed.after(turn)
        self._confirmed = {PLACE_NAMES[turn.permutation.index(PLACE_NUMBER[place])] for place in self._confirmed}

    def _read(self, row: Row) -> Talking[None]:
        yield from self.talk.rotate(row.rotation, self._moved)
        letters = yield from self._ask(row, partial(self._may_be, row))
        self._confirmed.clear()
        self._see(row, letters)

    def _ask(
        self, row: Row, possible: Callable[[Sequence[str]], bool] = lambda letters: True
    ) -> Talking[Sequence[str]]:
        """What is in a row. If it is not `possible`, ask once more before concluding anything from it. Raises
        PartOver if the answer was about another row."""
        letters = yield from self._ask_once(row)
        if possible(letters):
            return letters
        yield from self.talk.tell("read.row-again")
        try:
            return (yield from self._ask_once(row))
        except Interrupt as interrupt:  # what is said of "the first one" now is about this row
            right = interrupt.row and of_this_row(self.knowledge, letters, interrupt.row, (row.face, row.number))
            if not right:
                raise
        yield from say_now(self.talk, Named.of(row), in_words(self.talk, self.knowledge, right))
        return right

    def _ask_once(self, row: Row) -> Talking[Sequence[str]]:
        about: Named | None = None
        asked = self._asked = Named.of(row)
        while about is None:
            told = yield from ask_row(self.talk, self.knowledge, row.face, row.number)
            before = told.heard.aside.row
            if before and before.answers:
                yield from self._put_right(before, asked)
                about = asked
            else:
                about = yield from meant(self.talk, self.knowledge, self._answers, asked, told)
        if about.places == row.places:
            return told.letters
        yield from say_now(self.talk, about, ", ".join(told.words))
        self._confirmed.clear()
        self._see(about, told.letters)
        raise PartOver(Anew())

    def _may_be(self, row: Row, letters: Sequence[str]) -> bool:
        """Whether a cube can look like that in the row, or it is likely to be held another way."""
        known, read = with_row(self.knowledge.reading, row, letters), Answers([*self._answers.given])
        read.add(self.knowledge.reading, Named.of(row), letters)
        return ways(known) > 0 or (not self._hold_seen and seems_misheld(read, known, self._confirmed))

    @property
    def _misheld(self) -> bool:
        """Whether to find out how the cube is held."""
        return not self._hold_seen and seems_misheld(self._answers, self.knowledge.reading, self._confirmed)

    def _look_at_hold(self) -> Talking[None]:
        """Have two middles read, which tell the hold. If it is another one than thought, it is taken over, and the rows
        told since then are put where they belong."""
        yield from self.talk.tell("read.which-hold")
        told = dict(rows_read(self._answers)[-1].told) if self._answers.rows else {}
        for face in "FU":
            if f"{face}4" not in told:
                told |= yield from self._read_middle(face)
        again: list[str] = []
        while place := doubtful_middle(told, self.knowledge.reading, again):
            again.append(place)
            yield from self.talk.tell("read.make-sure")
            told |= yield from self._read_middle(place[0])
        self._hold_seen, reading = True, self.knowledge.reading
        held = hold_told(self._answers) if odd_middles(told, reading) and can_be_held(told, reading) else None
        if held is None:
            self._answers.forget_middles()
            yield from self.talk.tell_hold()
            return
        self._answers, self.knowledge.reading = self._answers.held_since(held.since, held.turns)
        self._confirmed, self._owed = set(), None
        self.knowledge.begin_trail()
        yield from self.talk.tell("read.held", up=self.knowledge.held["U"], front=self.knowledge.held["F"])

    def _read_middle(self, face: str) -> Talking[Mapping[str, str]]:
        """The middle row of a face, by place."""
        row = Row((), face, 2)
        self._see(row, (yield from self._ask_once(row)))
        return rows_read(self._answers)[-1].told

    def _check(self, row: Row) -> Talking[None]:
        """Say what must be in a row that has not been read: so few stickers are read that a misread one may make
        another possible cube."""
        self._checks += 1
        yield from self.talk.rotate(row.rotation, self._moved)
        reading = self.knowledge.reading
        whole = reading.seeing(forced(reading)).pattern
        letters = {place: whole[PLACE_NUMBER[place]] for place in row.places}
        if (yield from self._confirm(row, [*letters.values()])):
            self.knowledge.reading = reading.seeing(letters)
            self._confirmed.update(letters)
        else:
            self._see(row, (yield from self._ask(row)))

    def _confirm(self, row: Row, letters: Sequence[str]) -> Talking[bool]:
        """Whether these stickers are in the row."""
        words = row_words(self.talk, row.face, row.number)
        forms = self.talk.forms_less("check.row", colours=in_words(self.talk, self.knowledge, letters), **words)
        told = zip(row.places, letters, strict=True)
        facts = tuple((PLACE_NUMBER[place], letter) for place, letter in told if letter != UNKNOWN)
        return (yield from confirm(self.talk, self.knowledge, forms, facts))

    def _see(self, row: Row | Named, letters: Sequence[str]) -> None:
        self._answers.add(self.knowledge.reading, Named.of(row) if isinstance(row, Row) else row, letters)
        self.knowledge.reading = with_row(self.knowledge.reading, row, letters)
        if self._owed and self._owed.row and set(self._owed.row.places) == set(row.places):
            self._owed = None

    # Impossible readings

    def _mend(self) -> Talking[None]:
        """Ask about exactly the doubtful stickers until the reading is possible; otherwise doubt the cube itself."""
        yield from self.talk.tell("read.again")
        doubts = 0
        for asked in range(_MOST_CHECKS):
            reading = self.knowledge.reading
            if ways(reading) or self._misheld:
                return
            likelihood = likelihoods(reading, confirmed=self._confirmed)
            found = diagnose(reading, likelihood)
            complete = UNKNOWN not in reading.pattern
            # Before calling a cube impossible, ask about the stickers that would make it possible.
            nearest = found.correction if found.kind == "misread" else most_probable(reading, likelihood)
            doubtful = [*nearest.changed, *(nearest.doubtful if found.kind == "misread" else ())]
            place = next((p for p in doubtful if p not in self._confirmed), None)
            doubts += complete and found.kind != "misread"
            if place and (doubts <= _FIRST_CHECKS if complete else found.kind == "misread" and asked < _FIRST_CHECKS):
                yield from self._ask_sticker(place)
            elif not complete:
                yield from self._read_unknown(reading.pattern.index(UNKNOWN))
            elif found.kind != "misread" and not self._assumed:
                yield from self._impossible()
            else:
                break
        yield from self._start_anew()

    def _read_unknown(self, place: int) -> Talking[None]:
        place = yield from bring_to_front(self.talk, self._moved, place)
        row = Row((), FACES[place // 9], place % 9 // 3 + 1)
        self._see(row, (yield from self._ask(row)))

    def _start_anew(self) -> Talking[None]:
        """What was read leads nowhere: read everything again; the second time it must be the cube itself."""
        if self._anew:
            yield from self._impossible()
        self._anew = True
        self._forget()
        yield from self.talk.tell("read.anew")
        yield from self.talk.tell_hold()

    def _ask_sticker(self, place: str) -> Talking[None]:
        """Ask whether the sticker is as it was heard; if not, read its row again."""
        place = PLACE_NAMES[(yield from bring_to_front(self.talk, self._moved, PLACE_NUMBER[place]))]
        said = self.knowledge.reading.pattern[PLACE_NUMBER[place]]
        if (yield from ask_sticker(self.talk, self.knowledge, place, said)):
            self._confirmed.add(place)
            return
        row = Row((), place[0], int(place[1]) // 3 + 1)
        self._see(row, (yield from self._ask(row)))
        self._confirmed.update(row.places)

    def _impossible(self) -> Talking[None]:
        """Say why the cube cannot be solved."""
        while UNKNOWN in self.knowledge.reading.pattern:
            yield from self._read_unknown(self.knowledge.reading.pattern.index(UNKNOWN))
        for problem in find_problems(self.knowledge.reading.pattern):
            yield from self.talk.say(Tell(explained(self.talk.phrases, problem, self.knowledge.colours)))
        raise StopLessonError.unsolvable()
