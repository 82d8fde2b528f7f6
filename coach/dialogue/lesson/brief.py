"""The brief manner: the cube is known, the plans are short, and little is said."""

from __future__ import annotations

from coach.cube import Turn, from_faces
from coach.dialogue.saying import Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, Leaving, ReadCubeError
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.reading import confirm
from coach.dialogue.solving.running import Run, Slipped, said_of
from coach.dialogue.talk import Talk
from coach.method.brief import Leg, next_leg


class BriefSolve:
    """From a cube that is known to the solved one, leg by leg."""

    def __init__(self, talk: Talk, knowledge: Knowledge) -> None:
        self.talk, self.knowledge = talk, knowledge
        self.run: Run | None = None
        self.step = ""
        self._mending = Mending(talk, knowledge)

    def go(self) -> Talking[None]:
        """Solve it. Raises ReadCubeError where the cube is not as known any more."""
        while True:
            try:
                while self.talk.manner == "brief" and (leg := next_leg(from_faces(self.knowledge.reading.pattern))):
                    yield from self._leg(leg)
                if self.talk.manner != "brief":
                    raise ChangeCourse({})  # the method step by step, from here on
                if not self.talk.turns or (yield from confirm_solved(self.talk, self.knowledge)):
                    return
                yield from self._mending.mend(None)
            except Interrupt as interrupt:
                yield from self._obey(interrupt)

    def _leg(self, leg: Leg) -> Talking[None]:
        if leg.step != self.step:
            self.step = leg.step
            name = self.talk.phrases.part(f"steps.{leg.step}")
            yield from self.talk.tell("lesson.next_step", step=name)
        run = self.run = Run(self.talk, leg.turns, self._moved)
        self.knowledge.begin_run()
        try:
            while True:
                try:
                    yield from self._mending.call(run)
                    return
                except Slipped as slipped:
                    if (yield from self._mending.mend(run, slipped.said)) == "moved":
                        return  # the next leg begins where the cube is now
        except Leaving as why:
            yield from run.leave(why)
        finally:
            self.run = None

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.command in ("correct", "read"):
            raise ReadCubeError("")
        if interrupt.command in ("mistake", "lost", "layers-broken") and self.knowledge.trail.turned:
            yield from self._mending.mend(None, said_of(interrupt.command))
        else:
            yield from self.talk.tell("reply.not-now")


def confirm_solved(talk: Talk, knowledge: Knowledge) -> Talking[bool]:
    """Whether the learner says that the cube is solved."""
    facts = tuple((place, knowledge.reading.centres[place // 9]) for place in range(54))
    return (yield from confirm(talk, knowledge, talk.forms("check.solved"), facts))
