"""The lesson as a state machine: events in, acts out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from coach.belief.reading import Reading
from coach.cube import Cube
from coach.dialogue.acts import Act, End, Event, Heard, Listen, Outcome, Say
from coach.dialogue.brief import BriefSolve
from coach.dialogue.colours import ask_colours
from coach.dialogue.knowledge import DEFAULT_COLOURS, Knowledge
from coach.dialogue.lower_steps import FromTheBottomError, LowerStep, placed_before
from coach.dialogue.pace import Pace
from coach.dialogue.reading import Reader
from coach.dialogue.talk import Interrupt, ReadCubeError, StopLessonError, Talk, Talking, UnsolvableError
from coach.dialogue.top_order import OrderStep
from coach.dialogue.top_steps import StepBack, TopStep
from coach.language.meaning import Question
from coach.language.phrases import Phrases
from coach.method import Method, PlacingStep, PlannedStep, Step

ALL_STEPS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip


@dataclass(frozen=True)
class Settings:
    """What the learner has chosen: the colours of the faces as the cube is held at the start, the style of the
    calls, the pace."""

    colours: Mapping[str, str] = field(default_factory=lambda: dict(DEFAULT_COLOURS))
    style: str = "plain"
    manner: str = "teach"
    ask_colours: bool = False
    pace: Pace = field(default_factory=Pace)

    @property
    def up(self) -> str:
        """The colour on top."""
        return self.colours["U"]

    @property
    def front(self) -> str:
        """The colour in front."""
        return self.colours["F"]


_MOST_BACK: Final = 2
"""So often the lesson goes back to the top cross without a turn in between."""
_READ: Final = "read"


class Lesson:
    """One lesson. `start` and `handle` return the acts up to the next Listen, or to the End.

    The same events always lead to the same acts; nothing here waits, plays, records or reads.
    """

    def __init__(
        self,
        method: Method,
        phrases: Phrases,
        step: str | None = None,
        settings: Settings | None = None,
        offers: Callable[[Question, str], Sequence[str]] = lambda asked, about: (),
    ) -> None:
        self.method, self.settings = method, settings or Settings()
        self.step = step
        self.talk = Talk(
            phrases, colours=self.settings.colours, pace=self.settings.pace, style=self.settings.style, offers=offers,
            where=self._where, hold=self._hold, held=lambda: self.knowledge.held,
        )  # fmt: skip
        self.ended = False
        self._ids = [step.id for step in method.steps]
        self.knowledge = Knowledge(Reading.of(Cube()), dict(self.settings.colours))
        self._now: TopStep | LowerStep | BriefSolve | None = None
        self._flow = self._whole()

    def start(self) -> list[Act]:
        """The acts before anything is heard."""
        return self._advance(None)

    def handle(self, event: Event) -> list[Act]:
        """The acts that answer `event`. Nothing follows once the lesson has ended."""
        return [] if self.ended else self._advance(event)

    def stop(self) -> list[Act]:
        """End the lesson in good order now: the learner has gone. The last act is always the End, also where
        the lesson was interrupted while it took its leave, or in the middle of a thought."""
        if self.ended:
            return [self._end("stopped")]
        try:
            return self._collect([self._flow.throw(StopLessonError())])
        except StopLessonError:
            return self._collect([self._end("stopped")])

    def _advance(self, event: Event | None) -> list[Act]:
        return self._collect([self._flow.send(event)])

    def _collect(self, acts: list[Act]) -> list[Act]:
        while not isinstance(acts[-1], Listen | End):
            acts.append(next(self._flow))
        self.ended = isinstance(acts[-1], End)
        return acts

    # The course of the lesson

    def _whole(self) -> Talking[None]:
        outcome: Outcome = "stopped"
        try:
            yield from self._greet()
            if self.settings.ask_colours:
                self.talk.colours = yield from ask_colours(self.talk)
                self.knowledge.colours = dict(self.talk.colours)
            if self.step is None:
                self.step = yield from self._ask_step()
            yield from self._steps()
            outcome = "done"
            yield from self._bye("lesson.all_done")
        except StopLessonError as stop:
            yield from self._bye(stop.farewell)
        except UnsolvableError:
            outcome = "unsolvable"
            yield from self._bye("lesson.unsolvable")
        yield self._end(outcome)

    def _end(self, outcome: Outcome) -> End:
        counts = {"turns": self.talk.turns, "questions": self.talk.questions, "slips": self.talk.slips}
        return End(outcome, self.step or self._ids[0], counts)

    def _bye(self, key: str) -> Talking[None]:
        step = self._step_name(self.step or self._ids[0])
        yield Say(self.talk.words(key, step=step), "bye")

    def _greet(self) -> Talking[None]:
        keys = ["lesson.greet", "lesson.hold", "lesson.whole", "lesson.rest"]
        if self.settings.ask_colours:
            keys.remove("lesson.hold")
        for key in keys:
            yield from self.talk.tell(key, front=self.settings.front)

    def _ask_step(self) -> Talking[str | None]:
        """The step to begin with; None where the learner does not know and the cube is to be read."""
        while True:
            try:
                step = yield from self.talk.ask(
                    "other", self.talk.forms("ask.step"), self._step_heard, {"about": "step"}
                )
                if not step:
                    yield from self.talk.wait()
                    continue
            except Interrupt as interrupt:
                if interrupt.command in ("lost", "layers-broken", "read"):
                    return None
                yield from self.talk.tell("reply.not-now")
                continue
            return None if step == _READ else step

    def _step_heard(self, heard: Heard) -> str | None:
        said = heard.text.lower()
        if heard.meaning and heard.meaning.command == "unsure":
            return _READ
        named = [i for i in self._ids if all(word.rstrip("s") in said for word in i.split("-"))]
        return named[0] if len(named) == 1 else None

    def _steps(self) -> Talking[None]:
        number = self._begin()
        been: Counter[tuple[str, int, int]] = Counter()
        while number < len(self._ids):
            try:
                if self.step is None:
                    yield from Reader(self.talk, self.knowledge).go()
                    yield from self._upright()
                    number = 0
                if self.settings.manner == "brief":
                    yield from self._brief(self._ids[number])
                    return
                turns = self.talk.turns
                self.step = self._ids[number]
                yield from self._do(self.method.steps[number])
                if self.talk.turns > turns and number + 1 < len(self._ids):
                    yield from self.talk.tell("lesson.step_done", step=self._step_name(self.step))
                number += 1
            except StepBack:
                number = self._ids.index("top-cross")
                if not self.knowledge.top:
                    self.knowledge.forget_top()
                been["back", self.talk.turns, 0] += 1
                if been["back", self.talk.turns, 0] > _MOST_BACK:  # the lower layers cannot be as thought
                    self._forget_all()
                else:
                    yield from self.talk.tell("odd.cross-first")
            except Interrupt:
                continue  # said where there is nothing to take back or to correct
            except FromTheBottomError:
                self.knowledge.close_top()
                number = 0
                been["bottom", self.talk.turns, self.talk.questions] += 1
                if been["bottom", self.talk.turns, self.talk.questions] > 1:  # thinking it over has led nowhere
                    self._forget_all()
            except ReadCubeError:
                self._forget_all()

    def _forget_all(self) -> None:
        """Have the cube read next."""
        self.knowledge.forget_all()
        self.step = None

    def _brief(self, step: str) -> Talking[None]:
        """The rest of the way by the shortest plans, once the whole cube is known."""
        self.step = step
        if not self.knowledge.complete:
            yield from Reader(self.talk, self.knowledge).go()
            yield from self._upright()
        self._now = BriefSolve(self.talk, self.knowledge)
        yield from self._now.go()

    def _upright(self) -> Talking[None]:
        """Have the cube held with the top on top again."""
        yield from self.talk.rotate(self.knowledge.reading.righting, lambda turn: self.knowledge.move((turn,)))

    def _begin(self) -> int:
        """Take what was done before the first step to be there; the number of that step."""
        if self.step is None:
            return 0
        number = self._ids.index(self.step)
        for done in self.method.steps[:number]:
            if not isinstance(done, Step):
                placed_before(self.knowledge, done.pieces)
        first = self.method.steps[number]
        if isinstance(first, Step):
            self.knowledge.open_top(first.permutes)
            self.knowledge.top = self.knowledge.top.meeting(first.needs)
        self.knowledge.begin_trail()
        return number

    def _do(self, step: Step | PlacingStep | PlannedStep) -> Talking[None]:
        if isinstance(step, Step):
            self._now = (OrderStep if step.permutes else TopStep)(self.talk, step, self.knowledge)
        else:
            self._now = LowerStep(self.talk, step, self.knowledge)
        yield from self._now.go()

    # What is known of where we are

    def _step_name(self, step_id: str) -> str:
        return self.talk.words(f"steps.{step_id}").lower()

    def _hold(self) -> str:
        centres, colour = self.knowledge.reading.centres, self.knowledge.colour
        return self.talk.words("lesson.hold", up=colour(centres[0]), front=colour(centres[2]))

    def _where(self) -> str:
        step = self.step or self._ids[0]
        run = self._now.run if self._now else None
        return self.talk.words(
            "reply.where-run" if run else "reply.where",
            step=self._step_name(step),
            n=ALL_STEPS.index(step) + 1,
            of=len(ALL_STEPS),
            turn=run.called if run else 0,
            turns=run.count if run else 0,
        )
