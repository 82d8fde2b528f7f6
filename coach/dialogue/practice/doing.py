"""Doing: the cube is brought into a case, the learner does its sequence at their level of help, and a row is checked.

A success waits for the check of the next exercise, which finds out if it was none. It does not matter where a slip has
led, since the next case is reached from anywhere: it is explained, and put right only where the lower layers are
broken.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coach.cube import Cube, Turn, from_faces
from coach.cube.last_layer_plan import as_held
from coach.dialogue.acts import Tell
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.practice.lower_routes import next_move
from coach.dialogue.practice.setups import Setups
from coach.dialogue.reached import Anew, PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving import wording
from coach.dialogue.solving.breaths import SetUpRun
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.led import ALONE, BY_GROUPS, LedRun
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import Slipped
from coach.dialogue.talk import Talk
from coach.learning.exercise import Item
from coach.method import Case, PlacingCase, Step, cases_of

_MOST_SETUPS: Final = 3
"""Have the cube read if it has not come into the case after so many tries."""
_MOST_AT_LAST: Final = 3
"""Have so many rows read out at most after the last exercise."""


@dataclass(frozen=True)
class _Ready:
    """The cube in the case: the turns of the whole cube and of the top that bring it into the hold for the sequence,
    whether other holds would do as well, and what is said of it."""

    whole: tuple[Turn, ...]
    top: tuple[Turn, ...]
    several: bool
    name: str
    hold: str
    why: str
    piece: str = ""


class Doing(LessonPart):
    """One exercise: the case `item` at the level of help `help`, on a known cube."""

    def __init__(self, talk: Talk, knowledge: Knowledge, setups: Setups, item: Item, help: int) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge, explains=True))
        self.item, self.help, self._setups = item, help, setups
        self.step = setups.method.step(item.step)
        self.case: Case | PlacingCase = next(case for case in cases_of(self.step) if case.id == item.case)
        self._tried = False

    def _attempt(self) -> Talking[None]:
        if self._tried:
            return
        yield from self._set_up()
        if self.talk.attempts.wish not in (None, "do"):  # said meanwhile; this can wait
            return
        ready, named = self._ready(), self.case.named
        assert named
        self.talk.why = ready.why or named.say(self.talk.phrases.code, "why")
        self.talk.attempts.sequence = named
        if self.help > ALONE:
            yield from self._bring(ready)
            yield from self._announce(named, self.item.case, self.help, ready.why)
            before: tuple[Turn, ...] = ()
        else:
            yield from self._leave(ready)
            before = ready.whole + ready.top
        self._tried = True
        run = LedRun(self.talk, named, self._moved, self.item.step, self.item.case, self.help, before)
        run.attempt.any_hold = ready.several
        attempts = self.talk.attempts
        through = yield from self._lead(run, self._checked)
        tried = attempts.now or run.attempt
        if through:
            yield from self.talk.tell("practice.wrong" if tried.wrong else "practice.right")
        if before:
            yield from self.talk.tell_hold()

    def _moved(self, *turns: Turn) -> None:
        self.knowledge.move(turns)

    def _anew(self) -> None:
        """Go on from what is known now."""

    def _checked(self, run: Run) -> Talking[Slipped | None]:
        """Have a row confirmed. That confirms what was done before, unless something was found wrong since; the present
        try is confirmed by the next check."""
        try:
            slipped = yield from self._mending.confirm_row(1, len(run.turns) if self.help < BY_GROUPS else 0)
        except Interrupt as interrupt:
            return (yield from run.obey(interrupt))
        if not slipped:
            yield from self.talk.attempts.confirmed(but_now=True, doubts=self._mending.doubts())
        return slipped

    def make_sure(self) -> Talking[None]:
        """Have more rows read out while it is not sure whether the last tries were right, as nothing follows that would
        show it."""
        attempts = self.talk.attempts
        try:
            for _ in range(_MOST_AT_LAST):
                slipped = yield from self._mending.confirm_row(0, 0)
                if slipped and (yield from self._mending.mend(None, slipped.said)) not in ("nothing", "withdrawn"):
                    yield from attempts.doubted()
                elif not slipped:
                    yield from attempts.confirmed(doubts=self._mending.doubts())
                if not attempts.open:
                    return
        except (Interrupt, PartOver):
            yield from attempts.doubted()

    # Into the case

    @property
    def _cube(self) -> Cube:
        return from_faces(self.knowledge.reading.pattern)

    def _set_up(self) -> Talking[None]:
        for _ in range(_MOST_SETUPS):
            turns = self._setups.turns(self._cube, self.item.step, self.case) if self.knowledge.complete else None
            if turns == ():
                return
            if turns is None:
                break
            run = SetUpRun(self.talk, turns, self._moved)
            yield from self.talk.tell_less("practice.set-up-few" if run.in_breaths else "practice.set-up", n=run.count)
            yield from self._call(run)
        raise PartOver(Reread("read.why-slip" if self.talk.record.any else "read.why"))

    def _ready(self) -> _Ready:
        reading, gaps = self.knowledge.reading, dict(self.talk.gaps)
        top: tuple[Turn, ...] = ()
        several, piece = False, ""
        if isinstance(self.step, Step):
            assert isinstance(self.case, Case)
            holds = self.case.holds(reading.pattern)
            whole, several = holds[0], len(holds) > 1
        else:
            there = next_move(self._setups.method, self.step, as_held(self._cube))
            assert there, "the cube is in the case"
            place, move = there
            whole, top = move.rotation, move.top
            piece = wording.piece_name(self.talk, [self.knowledge.colour(reading.centre(face)) for face in place])
            gaps["piece"] = piece
        code = self.talk.phrases.code
        name, hold, why = (self.case.say(code, what).format(**gaps) for what in ("name", "hold", "why"))
        return _Ready(whole, top, several, name, hold, why, piece)

    def _bring(self, ready: _Ready) -> Talking[None]:
        """Bring the cube into the hold for the sequence, and say what it looks like then."""
        talk = self.talk
        placing = isinstance(self.case, PlacingCase)  # then it tells where the piece is once it has been brought there
        if not placing:
            yield from talk.say(Tell(ready.name))
        yield from talk.rotate(ready.whole, self._moved, self.item.case)
        if ready.top:
            assert isinstance(self.case, PlacingCase)
            spot = wording.at_sides(talk, self.case.at)
            yield from talk.tell_less("lower.line-up", piece=ready.piece, spot=spot)
            if not (yield from self._call(Run(talk, ready.top, self._moved, self.item.case))):
                raise PartOver(Anew())
        if placing:
            yield from talk.say(Tell(ready.name))
        yield from talk.tell("hold.then" if ready.whole + ready.top else "hold.keep", statement=ready.hold)

    def _leave(self, ready: _Ready) -> Talking[None]:
        """Leave the hold to the learner: tell them the case and the hold, or only the step."""
        talk, turned = self.talk, bool(ready.whole + ready.top)
        new = not talk.attempts.learned.of(self.item)  # only by the learner's wish it is tried alone at once
        front = self.knowledge.colour(self.knowledge.reading.after(ready.whole).centre("F"))
        if self.help:
            yield from talk.say(Tell(ready.name))
            if new and self.case.named:
                yield from talk.tell_also("by-heart.takes", name=self.case.named.say(talk.phrases.code, "name"))
            key = "hold.keep" if not turned else "hold.alone-front" if ready.several else "hold.alone"
            yield from talk.tell_also(key, statement=ready.hold, front=front)
            return
        yield from talk.tell("practice.step", step=talk.phrases.part(f"steps.{self.item.step}"))
        if ready.several:
            yield from talk.tell_also("hold.facing" if turned else "hold.facing-now", front=front)
