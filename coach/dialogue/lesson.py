"""The lesson as a state machine: events in, acts out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from coach.belief import any_top
from coach.dialogue.acts import Act, End, Event, Heard, Listen, Outcome, Say
from coach.dialogue.pace import Pace
from coach.dialogue.talk import Interrupt, StopLessonError, Talk, Talking
from coach.dialogue.top_steps import CrossFirst, TopStep, UnsolvableError
from coach.language.meaning import Question
from coach.language.phrases import Phrases
from coach.method import Method

ALL_STEPS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip


@dataclass(frozen=True)
class Settings:
    """What the learner has chosen: the colours of the hold at the start, the style of the calls, the pace."""

    up: str = "yellow"
    front: str = "green"
    style: str = "plain"
    pace: Pace = field(default_factory=Pace)


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
        offers: Callable[[Question], Sequence[str]] = lambda asked: (),
    ) -> None:
        self.method, self.settings = method, settings or Settings()
        self.step = step
        self.talk = Talk(
            phrases, up=self.settings.up, pace=self.settings.pace, style=self.settings.style, offers=offers,
            where=self._where,
        )  # fmt: skip
        self.ended = False
        self._taught = [step for step in method.top_steps if not step.permutes]
        self._top: TopStep | None = None
        self._flow = self._whole()

    def start(self) -> list[Act]:
        """The acts before anything is heard."""
        return self._advance(None)

    def handle(self, event: Event) -> list[Act]:
        """The acts that answer `event`. Nothing follows once the lesson has ended."""
        return [] if self.ended else self._advance(event)

    def stop(self) -> list[Act]:
        """End the lesson in good order now: the learner has gone."""
        return [] if self.ended else self._collect([self._flow.throw(StopLessonError())])

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
            if self.step is None:
                self.step = yield from self._ask_step()
            yield from self._steps()
            outcome = "done"
            yield from self._bye("lesson.all_done")
        except StopLessonError as stop:
            yield from self._bye("lesson.silent" if stop.silent else "lesson.stopped")
        except UnsolvableError:
            outcome = "unsolvable"
            yield from self._bye("lesson.stopped")
        counts = {"turns": self.talk.turns, "questions": self.talk.questions, "slips": self.talk.slips}
        yield End(outcome, self.step or self._taught[0].id, counts)

    def _bye(self, key: str) -> Talking[None]:
        step = self._step_name(self.step or self._taught[0].id)
        yield Say(self.talk.words(key, step=step), "bye")

    def _greet(self) -> Talking[None]:
        for key in ("lesson.greet", "lesson.hold", "lesson.rest"):
            yield from self.talk.tell(key)
        self.talk.about_hold = self.talk.words("lesson.hold")

    def _ask_step(self) -> Talking[str]:
        while True:
            try:
                step = yield from self.talk.ask(
                    "other", self.talk.phrases.forms("ask.step"), self._step_heard, {"about": "step"}
                )
            except Interrupt:
                continue
            if step:
                return step
            yield from self.talk.wait()

    def _step_heard(self, heard: Heard) -> str | None:
        said = heard.text.lower()
        named = [s.id for s in self._taught if s.id.split("-")[1] in said]
        return named[0] if len(named) == 1 else None

    def _steps(self) -> Talking[None]:
        ids = [step.id for step in self._taught]
        number = ids.index(self.step or ids[0])
        belief = any_top().seeing(dict.fromkeys(self._taught[number].needs.shows, True))
        while number < len(ids):
            self.step = ids[number]
            self._top = TopStep(self.talk, self._taught[number], belief, self._colours())
            try:
                belief = yield from self._top.go()
            except CrossFirst:
                yield from self.talk.tell("odd.cross-first")
                belief, number = self._top.belief, 0
                continue
            number += 1
            if number < len(ids):
                yield from self._between(ids[number - 1], ids[number])

    def _between(self, done: str, following: str) -> Talking[None]:
        if not self.talk.turns:  # the learner was further on than thought
            yield from self.talk.tell("lesson.next_step", step=self._step_name(following))
            return
        yield from self.talk.tell("lesson.step_done", step=self._step_name(done))
        forms = self.talk.phrases.forms("ask.continue", step=self._step_name(following))
        try:
            go_on = yield from self.talk.insist("continue", forms)
        except Interrupt:
            go_on = True  # the next step looks at the top anyway
        self.step = following
        if not go_on:
            raise StopLessonError

    # What is known of where we are

    def _step_name(self, step_id: str) -> str:
        return self.talk.words(f"steps.{step_id}").lower()

    def _where(self) -> str:
        step = self.step or self._taught[0].id
        run = self._top.run if self._top else None
        return self.talk.words(
            "reply.where-run" if run else "reply.where",
            step=self._step_name(step),
            n=ALL_STEPS.index(step) + 1,
            of=len(ALL_STEPS),
            turn=run.done if run else 0,
            turns=len(run.turns) if run else 0,
        )

    def _colours(self) -> dict[str, str]:
        return {"U": self.settings.up}
