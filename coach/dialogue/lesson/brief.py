"""The brief manner: the cube is known, the plans are short, and little is said."""

from __future__ import annotations

from coach.cube import Turn, from_faces
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.saying import Talking
from coach.dialogue.signals import ChangeCourse
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.looking import confirm
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.talk import Talk
from coach.language.meaning import Change
from coach.method.brief import Leg, next_leg


class BriefSolve(LessonPart):
    """From a known cube to the solved one, leg by leg."""

    def __init__(self, talk: Talk, knowledge: Knowledge) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge))
        self.step = ""

    def _attempt(self) -> Talking[None]:
        while True:
            while self.talk.manner == "brief" and (leg := next_leg(from_faces(self.knowledge.reading.pattern))):
                yield from self._leg(leg)
            if self.talk.manner != "brief":
                raise ChangeCourse(Change())  # the method step by step, from here on
            if not self.talk.turns or (yield from confirm_solved(self.talk, self.knowledge)):
                return
            yield from self._mending.mend(None)

    def _leg(self, leg: Leg) -> Talking[None]:
        if leg.step != self.step:
            self.step = leg.step
            name = self.talk.phrases.part(f"steps.{leg.step}")
            yield from self.talk.tell("lesson.next_step", step=name)
        yield from self._call(Run(self.talk, leg.turns, self._moved))  # the next leg begins wherever the cube is then

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))


def confirm_solved(talk: Talk, knowledge: Knowledge) -> Talking[bool]:
    """Whether the learner says that the cube is solved."""
    facts = tuple((place, knowledge.reading.centres[place // 9]) for place in range(54))
    return (yield from confirm(talk, knowledge, talk.forms("check.solved"), facts))
