"""The top corners and the top edges: upper rows are read, then these steps work like the earlier ones."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, log2
from typing import Final

from coach.belief.evidence import Stickers
from coach.belief.reading.stickers import UNKNOWN
from coach.belief.top import Belief
from coach.cube import FACE_PLACES, PLACE_NAMES, PLACE_NUMBER, Turn, parse, turned
from coach.dialogue.lesson.brief import confirm_solved
from coach.dialogue.lesson.top_steps import TopStep
from coach.dialogue.reached import Anew, Back, PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.solving.looking import TO_FRONT, ask_front, compare, confirm
from coach.dialogue.solving.rows import read_row
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.wording import row_words
from coach.language.meaning import Meaning
from coach.method import Case

_LOOKED_AT: Final = ("F", "R", "L")
_TOP_TURNS: Final = ((), (Turn("U"),), (Turn("U", 3),), (Turn("U", 2),))
_MOST_ROWS: Final = 4


class OrderStep(TopStep):
    """One of the two last steps."""

    _step_back = 50.0
    _thought_in_front = "F"
    """The face that was taken to be in front before the learner said."""

    def _ask_more(self) -> Talking[None]:
        if self.looks >= _MOST_ROWS:
            raise PartOver(Back())
        if not self.knowledge.hold_known:
            front = yield from ask_front(self.talk, self.knowledge)
            self._thought_in_front = self.knowledge.reading.centre("F")
            self._face(front)
        self.looks += 1
        face = max(_LOOKED_AT, key=self._worth)
        if not self._worth(face):
            yield from self._tell_apart()
            return
        if self.talk.touch and face != "F":
            yield from self.talk.rotate(parse(TO_FRONT[face]), self._moved)
            face = "F"
        start = PLACE_NUMBER[f"{face}0"]

        def fitting(letters: Sequence[str]) -> frozenset[str]:
            seen = [(start + i, self.knowledge.alike if face == UNKNOWN else face) for i, face in enumerate(letters)]
            return frozenset(p for p in self.belief.patterns if all(p[place] in faces for place, faces in seen))

        letters = yield from read_row(self.talk, self.knowledge, face, 1, lambda read: bool(fitting(read)))
        if "D" in letters:  # what belongs to the bottom is on top
            raise PartOver(Reread("read.why-below"))
        self._before_answer = self.belief
        told = [(start + i, letter) for i, letter in enumerate(letters) if letter != UNKNOWN]
        self.knowledge.hear(Stickers(tuple(told)))
        self.belief = Belief(fitting(letters))

    def _tell_apart(self) -> Talking[None]:
        """Compare one sticker with the middle of a side: the patterns left differ only in colours that look the same to
        the learner."""
        patterns = sorted(self.belief.patterns)
        letters = list(map(set, zip(*patterns, strict=True)))
        place = next((place for face in _LOOKED_AT for place in FACE_PLACES[face] if len(letters[place]) > 1), None)
        if place is None:
            raise PartOver(Back())
        letter = patterns[0][place]
        side = self.knowledge.reading.side(letter)
        same = yield from compare(self.talk, self.knowledge, PLACE_NAMES[place], side)
        self.belief = Belief(frozenset(p for p in patterns if (p[place] == letter) == same))

    def _worth(self, face: str) -> float:
        start = PLACE_NUMBER[f"{face}0"]
        one = str.maketrans(dict.fromkeys(self.knowledge.alike, UNKNOWN))
        rows = [pattern[start : start + 3].translate(one) for pattern in self.belief.patterns]
        shares = [rows.count(row) / len(rows) for row in set(rows)]
        return -fsum(share * log2(share) for share in shares)  # exact, so that equally telling rows are equal

    def _contradiction(self) -> Talking[None]:
        if self.knowledge.trail.turned:
            yield from self._mend(None)
        yield from self.talk.tell("odd.other")
        raise PartOver(Back())

    def _take_back(self, instead: Meaning | None) -> None:
        if self._before_answer == self.belief:  # no row has been told, so the answer was about the front side
            self._face(self._thought_in_front)
            self.knowledge.hold_known = False
        super()._take_back(instead)

    def _done(self, case: Case) -> Talking[None]:
        """Turn the top into place if it is still off by a turn."""
        if not self.step.align:
            return
        while not (turns := self._aligning()):
            yield from self._ask_more()
        if turns[0]:
            yield from self.talk.tell("hold.align")
            if not (yield from self._call(Run(self.talk, turns[0], self._moved))):
                raise PartOver(Anew())
        if self.talk.turns:
            self.knowledge.open_top(ordered=True)
            if (yield from confirm_solved(self.talk, self.knowledge)):
                yield from self.talk.attempts.confirmed()
            else:
                yield from self._mend(None)

    def _aligning(self) -> list[tuple[Turn, ...]]:
        """The turns of the top that solve every pattern still possible (one, or none while unsure)."""
        return [turns for turns in _TOP_TURNS if all(_one_colour(turned(p, turns)) for p in self.belief.patterns)]

    def _check_in(self, run: Run) -> Talking[None]:
        """Have a row confirmed once the step is done, because the result follows from the rows that were read. The last
        step has its own check at the end; there, and between two runs, a row is confirmed only if something has gone
        wrong. A learner who has passed every check of a long lesson is spared this one."""
        self._fresh_turn()
        between = self.step.align or not all(map(self.step.done, self.belief.patterns))
        if self.talk.record.steady or (between and not self.talk.record.any):
            return
        pattern = self.knowledge.known.pattern
        row = tuple((place, pattern[place]) for place in range(PLACE_NUMBER["F0"], PLACE_NUMBER["F3"]))
        if any(letter in (UNKNOWN, *self.knowledge.alike) for _, letter in row):
            return
        colours = [self.knowledge.colour(letter) for _, letter in row]
        words = row_words(self.talk, "F", 1)
        forms = self.talk.forms_less("check.row-all", colours=", ".join(colours), **words)
        facts = (*row, *self._lower_layers())
        while not (yield from confirm(self.talk, self.knowledge, forms, facts)):
            yield from self._mend(run, denied=facts)
        yield from self.talk.attempts.confirmed(but_now=True)


def _one_colour(pattern: str) -> bool:
    return all(len(set(pattern[start : start + 9])) == 1 for start in range(0, 54, 9))
