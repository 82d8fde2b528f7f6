"""One of the steps on top of cubes that are all alike: nothing is asked about them but hands."""

from __future__ import annotations

from typing import Final

from coach.belief.top import Settled
from coach.cube import FACE_PLACES, Turn
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.alike import Alike
from coach.dialogue.classroom.chorus import Chorus
from coach.dialogue.lesson.top_order import OrderStep
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving.led import LedRun
from coach.dialogue.solving.running import Run
from coach.method import Case, Step

_BOTH_LAYERS: Final = frozenset((*FACE_PLACES["U"], *FACE_PLACES["D"]))


class AlikeTop(OrderStep):
    """One of the steps on top, by a class in unison."""

    def __init__(self, alike: Alike, step: Step, chorus: Chorus) -> None:
        super().__init__(alike.talk, step, alike.knowledge)
        self._alike, self._chorus = alike, chorus

    def _do(self, settled: Settled) -> Talking[None]:
        """Have the sequence of the case done."""
        named, attempts = settled.case.named, self.talk.attempts
        assert named
        help = yield from self._chorus.before(named)
        yield from self._hold(settled)
        name = named.say(self.talk.phrases.code, "name")
        yield from self.talk.tell_less("hold.run", sequence=name, n=len(named.turns))
        attempts.sequence = named
        yield from self._call_all(LedRun(self.talk, named, self._moved, self.step.id, settled.case.id, help))
        attempts.again = False
        if attempts.quiz:
            attempts.quiz = None
            yield from self._chorus.say(named)
        self._fresh_turn()

    def _call_all(self, run: Run) -> Talking[None]:
        self.run = run
        yield from self._alike.call(run)
        self.run = None

    def _done(self, case: Case) -> Talking[None]:
        """Turn the top into place if it is still off by a turn, and find out by hands who is there."""
        if self.step.align and (turns := self._aligning()[0]):
            yield from self.talk.tell("hold.align")
            yield from self._call_all(Run(self.talk, turns, self._moved))
        yield from self._alike.compare()
        pattern = self.knowledge.reading.pattern
        if self.step.align:
            yield from self._alike.check(tuple(enumerate(pattern)), self.talk.forms("class.solved"))
            return
        facts = tuple((place, pattern[place]) for place in sorted(_BOTH_LAYERS) if pattern[place] in "UD")
        done = wording.words(self.talk, self.step, "done")
        yield from self._alike.check(facts, self.talk.forms("class.done", done=done))

    def _moved(self, *turns: Turn) -> None:
        super()._moved(*turns)
        for turn in turns:
            self._alike.follow(turn)

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        yield from self.talk.tell("class.later")
