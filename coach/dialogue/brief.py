"""The brief manner: the cube is known, the plans are short, and little is said."""

from __future__ import annotations

from coach.belief.evidence import Answered
from coach.belief.suspicion import Said
from coach.cube import PLACE_NAMES, Turn, from_faces
from coach.dialogue.knowledge import Knowledge
from coach.dialogue.lower_steps import ReadCubeError
from coach.dialogue.mending import Mending, Outcome, UnexplainedError
from coach.dialogue.running import Run, Slipped
from coach.dialogue.talk import Interrupt, Talk, Talking
from coach.method.brief import Leg, next_leg


class BriefSolve:
    """From a cube that is known to the solved one, leg by leg."""

    def __init__(self, talk: Talk, knowledge: Knowledge) -> None:
        self.talk, self.knowledge = talk, knowledge
        self.run: Run | None = None
        self.step = ""
        self._mending = Mending(talk, knowledge, near_the_end=True)

    def go(self) -> Talking[None]:
        """Solve it. Raises ReadCubeError where the cube is not as known any more."""
        while True:
            try:
                while leg := next_leg(from_faces(self.knowledge.reading.pattern)):
                    yield from self._leg(leg)
                if not self.talk.turns or (yield from confirm_solved(self.talk, self.knowledge)):
                    return
                yield from self._mend(None)
            except Interrupt as interrupt:
                yield from self._obey(interrupt)

    def _leg(self, leg: Leg) -> Talking[None]:
        if leg.step != self.step:
            self.step = leg.step
            name = self.talk.words(f"steps.{leg.step}").lower()
            yield from self.talk.tell("lesson.next_step", step=name)
        run = self.run = Run(self.talk, leg.turns, self._moved)
        self.knowledge.begin_run()
        try:
            while True:
                try:
                    yield from self._mending.call(run)
                    return
                except Slipped as slipped:
                    if (yield from self._mend(run, slipped.said)) == "moved":
                        return  # the next leg begins where the cube is now
        finally:
            self.run = None

    def _mend(self, run: Run | None, said: Said = "") -> Talking[Outcome]:
        try:
            return (yield from self._mending.mend(run, said))
        except UnexplainedError:
            raise ReadCubeError from None

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.command in ("correct", "read"):
            raise ReadCubeError
        if interrupt.command in ("mistake", "lost", "layers-broken") and self.knowledge.trail.turned:
            yield from self._mend(None, "lost" if interrupt.command == "lost" else "mistake")
        else:
            yield from self.talk.tell("reply.not-now")


def confirm_solved(talk: Talk, knowledge: Knowledge) -> Talking[bool]:
    """Whether the learner says that the cube is solved."""
    facts = tuple((place, knowledge.reading.centres[place // 9]) for place in range(54))
    claim = [[PLACE_NAMES[place][0], place % 9, knowledge.colour(face)] for place, face in facts]
    yes = yield from talk.insist("claim", talk.phrases.forms("check.solved"), {"claim": claim})
    knowledge.hear(Answered(facts, yes))
    return yes
