"""The brief manner: the cube is known, the plans are short, and little is said."""

from __future__ import annotations

from coach.cube import PLACE_NAMES, Turn, from_faces
from coach.dialogue.knowledge import Knowledge
from coach.dialogue.lower_steps import ReadCubeError
from coach.dialogue.running import LookAgain, Run
from coach.dialogue.talk import Interrupt, Talk, Talking
from coach.method.brief import Leg, next_leg


class BriefSolve:
    """From a cube that is known to the solved one, leg by leg."""

    def __init__(self, talk: Talk, knowledge: Knowledge) -> None:
        self.talk, self.knowledge = talk, knowledge
        self.run: Run | None = None
        self.step = ""

    def go(self) -> Talking[None]:
        """Solve it. Raises ReadCubeError where the cube is not as known any more."""
        while True:
            try:
                while leg := next_leg(from_faces(self.knowledge.reading.pattern)):
                    yield from self._leg(leg)
                yield from self._confirm()
                return
            except LookAgain:
                raise ReadCubeError from None
            except Interrupt as interrupt:
                yield from self._obey(interrupt)

    def _leg(self, leg: Leg) -> Talking[None]:
        if leg.step != self.step:
            self.step = leg.step
            name = self.talk.words(f"steps.{leg.step}").lower()
            yield from self.talk.tell("lesson.next_step", step=name)
        run = self.run = Run(self.talk, leg.turns, self._moved)
        try:
            yield from run.call_all()
        finally:
            self.run = None

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.command in ("mistake", "lost", "correct", "layers-broken", "read"):
            raise ReadCubeError
        yield from self.talk.tell("reply.not-now")

    def _confirm(self) -> Talking[None]:
        if not self.talk.turns:
            return
        yield from confirm_solved(self.talk, self.knowledge)


def confirm_solved(talk: Talk, knowledge: Knowledge) -> Talking[None]:
    """Have the solved cube confirmed; raises ReadCubeError on a no."""
    sides = [f"{face}{place}" for face in "FRBL" for place in range(3)]
    pattern = dict(zip(PLACE_NAMES, knowledge.reading.pattern, strict=True))
    claim = [[place[0], int(place[1]), knowledge.colour(pattern[place])] for place in sides]
    if not (yield from talk.insist("claim", talk.phrases.forms("check.solved"), {"claim": claim})):
        raise ReadCubeError
