"""Doing: the cube is brought into a case, the learner does its sequence at their level of help, and it is checked.

Right is what the cube shows, by whatever turns. Who is only told the step's name takes the hold on their own, so the
coach asks for it afterwards. A success waits for the next check, which finds out if it was none (`Attempts`).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.belief.reading.stickers import KnownStickers
from coach.belief.slips.trail import Trail
from coach.cube import Cube, Turn, from_faces, turned
from coach.cube.last_layer_plan import as_held
from coach.dialogue.acts import Query, Tell
from coach.dialogue.attempts import Attempt
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.practice.lower_routes import next_move
from coach.dialogue.practice.setups import Setups
from coach.dialogue.reached import Anew, PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving import wording
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.led import LedRun
from coach.dialogue.solving.looking import ask_front
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run, Slipped, said_of
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.learning.exercise import Item
from coach.method import TURNS_ABOUT_UP, Case, NamedSequence, PlacingCase, Step, cases_of

_MOST_SETUPS: Final = 3
"""Have the cube read if it has not come into the case after so many tries."""


@dataclass(frozen=True)
class _Ready:
    """The cube in the case: the turns that bring it into the hold for the sequence, and the words for that hold."""

    turns: tuple[Turn, ...]
    name: str
    hold: str


class TriedRun(LedRun):
    """A run of which only the step's name may have been told: the hold is told as soon as turns are, if it has not
    been. `tell_hold` tells it."""

    def __init__(
        self, talk: Talk, sequence: NamedSequence, moved: Callable[[Turn], None], item: Item, help: int,
        tell_hold: Callable[[], Talking[None]],
    ) -> None:  # fmt: skip
        super().__init__(talk, sequence, moved, item.step, item.case, help)
        self.hold_told = help > 0
        self._tell_hold = tell_hold

    def _call_next(self, joined: bool = False) -> Talking[None]:
        yield from self._with_hold()
        yield from super()._call_next(joined)

    def _hint(self) -> Talking[None]:
        if self.hold_told:
            yield from super()._hint()
        else:
            self.attempt.helped = True
            yield from self._with_hold()

    def _with_hold(self) -> Talking[None]:
        if not self.hold_told:
            self.hold_told = True
            yield from self._tell_hold()


class Doing(LessonPart):
    """One exercise: the case `item` at the level of help `help`, on a known cube."""

    def __init__(self, talk: Talk, knowledge: Knowledge, setups: Setups, item: Item, help: int) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge))
        self.item, self.help, self._setups = item, help, setups
        self.step = setups.method.step(item.step)
        self.case: Case | PlacingCase = next(case for case in cases_of(self.step) if case.id == item.case)
        self.attempt: Attempt | None = None
        """The try, once it has begun."""
        self._before: tuple[KnownStickers, Trail] = (knowledge.reading, knowledge.trail)
        """What was known before the learner took the hold on their own."""
        self._should_be = ""
        """The pattern that the sequence leads to."""

    def _attempt(self) -> Talking[None]:
        if self.attempt:  # something has been looked into since
            yield from self.judge()
            return
        yield from self._set_up()
        ready = self._ready()
        yield from self._present(ready)
        named = self.case.named
        assert named
        run = TriedRun(self.talk, named, self._moved, self.item, self.help, lambda: self._tell_hold(ready))
        self.attempt = self.talk.attempts.now = run.attempt
        self._should_be = turned(self.knowledge.reading.pattern, named.turns)
        yield from self._call(run, lambda _: self._checked(run))
        yield from self.judge()

    def judge(self) -> Talking[None]:
        """Say how the try has ended, if there was any, by what is known of the cube now, and note it."""
        attempt = self.attempt
        if attempt is None:
            return
        if not self.knowledge.complete:
            raise PartOver(Reread())
        self.attempt = None
        attempt.wrong = attempt.wrong or not self._is_as_it_should_be()
        yield from self.talk.tell("practice.wrong" if attempt.wrong else "practice.right")
        yield from self.talk.attempts.over(attempt)

    def _is_as_it_should_be(self) -> bool:
        return self._cube.upright == from_faces(self._should_be).upright

    def _moved(self, *turns: Turn) -> None:
        self.knowledge.move(turns)

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.command in ("correct", "read"):
            raise PartOver(Reread(""))
        if has(interrupt.command, Trait.WRONG) and self.knowledge.trail.turned:
            yield from self._mending.mend(None, said_of(interrupt.command))
        else:
            yield from self.talk.tell("reply.not-now")

    # Into the case

    @property
    def _cube(self) -> Cube:
        return from_faces(self.knowledge.reading.pattern)

    def _set_up(self) -> Talking[None]:
        for _ in range(_MOST_SETUPS):
            if not self.knowledge.complete:
                break
            turns = self._setups.turns(self._cube, self.item.step, self.case)
            if turns == ():
                return
            if turns is None:
                break
            yield from self.talk.tell_less("practice.set-up", n=sum(not turn.whole for turn in turns))
            yield from self._call(Run(self.talk, turns, self._moved))
        raise PartOver(Reread())

    def _ready(self) -> _Ready:
        pattern, gaps = self.knowledge.reading.pattern, dict(self.talk.gaps)
        if isinstance(self.step, Step):
            assert isinstance(self.case, Case)
            turns = self.case.holds(pattern)[0]
        else:
            there = next_move(self._setups.method, self.step, as_held(self._cube))
            assert there, "the cube is in the case"
            place, move = there
            turns = move.rotation + move.top
            piece = "".join(self.knowledge.reading.centre(face) for face in place)
            gaps["piece"] = wording.piece_name(self.talk, tuple(map(self.knowledge.colour, piece)))
        name, hold = (self.case.say(self.talk.phrases.code, what).format(**gaps) for what in ("name", "hold"))
        return _Ready(turns, name, hold)

    def _present(self, ready: _Ready) -> Talking[None]:
        """Say what is to be done, as far as the level of help allows, and how to hold the cube for it."""
        talk = self.talk
        if self.help == 0:
            yield from talk.tell("practice.step", step=talk.phrases.part(f"steps.{self.item.step}"))
            self._before = self.knowledge.reading, self.knowledge.trail
            self.knowledge.begin_run()
            self._moved(*ready.turns)
            return
        yield from talk.say(Tell(ready.name))
        whole = tuple(turn for turn in ready.turns if turn.whole)
        yield from talk.rotate(whole, self._moved, self.item.case)
        if top := ready.turns[len(whole) :]:
            yield from talk.tell("practice.line-up")
            if not (yield from self._call(Run(talk, top, self._moved))):
                raise PartOver(Anew())
        yield from talk.tell("hold.then" if ready.turns else "hold.keep", statement=ready.hold)

    def _tell_hold(self, ready: _Ready) -> Talking[None]:
        """Tell a learner who was to find the hold on their own."""
        yield Tell(self.talk.hold())
        yield from self.talk.tell("hold.then", statement=ready.hold)

    # Checking

    def _checked(self, run: TriedRun) -> Talking[Slipped | None]:
        """Have confirmed what must be there now; the hold first, if the learner took it on their own."""
        try:
            if not run.hold_told:
                run.hold_told = True
                yield from self._hold_taken(run.sequence.turns)
            slipped = yield from self._mending.confirm_row(1)
        except Interrupt as interrupt:
            return (yield from run.obey(interrupt))
        if not slipped:
            yield from self.talk.attempts.confirmed()
        return slipped

    def _hold_taken(self, turns: Sequence[Turn]) -> Talking[None]:
        """Find out in which hold the learner has done the turns. Where it is not the one for the case, they have failed,
        and the coach knows what the cube is like now; unless the cube has only been turned since."""
        front = yield from ask_front(self.talk, self.knowledge)
        knowledge, (before, trail) = self.knowledge, self._before
        if front == knowledge.reading.centre("F"):
            return
        hold = _bringing(before, front)
        fits = isinstance(self.case, Case) and hold in self.case.holds(before.pattern)
        forms = self.talk.forms("practice.in-front", colour=knowledge.colour(front))
        if fits or (yield from self.talk.insist(Query("other", about="in-front"), forms)):
            knowledge.reading, knowledge.trail = before, trail
            knowledge.begin_run()
            self._moved(*hold, *turns)
        else:
            self._moved(*_bringing(knowledge.reading, front))
        if fits:
            self._should_be = knowledge.reading.pattern


def _bringing(reading: KnownStickers, front: str) -> tuple[Turn, ...]:
    """The turns of the whole cube about its upright axis that bring the side of `front` to the front."""
    return next(turns for turns in TURNS_ABOUT_UP if reading.after(turns).centre("F") == front)
