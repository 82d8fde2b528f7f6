"""A lesson for a class: one coach leads many cubes in unison, and hands are counted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from coach.cube import Cube, from_faces
from coach.dialogue.acts import Act, Bye
from coach.dialogue.classroom.alike import Alike, AlikeStep
from coach.dialogue.classroom.chorus import Chorus
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.step import UnisonStep
from coach.dialogue.lesson.colours import Clashes
from coach.dialogue.lesson.course import Lesson
from coach.dialogue.lesson.opening import LastTime
from coach.dialogue.lesson.settings import Settings
from coach.dialogue.lesson.standing import in_turns
from coach.dialogue.pupils import Pupils
from coach.dialogue.saying import T, Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, StopLessonError
from coach.language.meaning import Question, Scene
from coach.language.phrases import Phrases
from coach.method import Method, Step
from coach.method.unison import unison

_CAUTIONS: Final = ("class.answers", "class.loud", "class.rest", "class.kept")


class ClassLesson(Lesson):
    """A lesson that a class does in unison, from one of the steps on top; or from the first one, where there is a
    scramble in the settings."""

    def __init__(
        self,
        method: Method,
        phrases: Phrases,
        step: str | None = None,
        settings: Settings | None = None,
        offers: Callable[[Question, Scene], Sequence[str]] = lambda asked, scene: (),
        clashes: Clashes = lambda words: (),
    ) -> None:
        scrambles = bool(settings and settings.scramble)
        first = method.steps[0] if scrambles else method.top_steps[0]
        super().__init__(method, phrases, step or first.id, settings, offers, clashes)
        self.pupils = self.talk.pupils = Pupils()
        self._hands = Hands(self.talk, self.pupils)
        self._leading, self._chorus = Leading(self.talk), Chorus(self.talk)
        self._alike = Alike(self.talk, self.knowledge, self._hands, self._leading) if scrambles else None
        self._over = False
        self._cubes: frozenset[Cube] | None = None
        """What each cube in the class may be; None: anything that the step may begin with."""
        self.knowledge.forget_all()

    # The course

    def _greet(self) -> Talking[None]:
        for key in ("class.greet", *_CAUTIONS):
            yield from self.talk.tell(key)

    def _course(self) -> Talking[None]:
        if self.settings.ask_colours:
            yield from self._obeying(self._ask_colours)
        yield from self.talk.tell("lesson.hold" if self._alike else "class.hold", front=self.settings.front)
        yield from self._obeying(self._hands.size)
        self._began = True
        while True:
            try:
                if self._alike:
                    yield from self._from_solved(self._alike)
                yield from self._led()
                break
            except ChangeCourse as change:
                yield from self._change(change)
        self._over = True
        yield from self._result()
        raise StopLessonError("class.bye", outcome="done")

    def _from_solved(self, alike: Alike) -> Talking[None]:
        """The scramble and the lower steps, for cubes that are all alike."""
        yield from alike.scramble(self.settings.scramble)
        yield from self.talk.tell("class.scrambled")
        for step in self.method.steps:
            if not isinstance(step, Step):
                self.step = step.id
                yield from self.talk.tell("lesson.next_step", step=self._step_name(step.id))
                yield from AlikeStep(alike, step).go()
                self._any_left()
        self.step = self.method.top_steps[0].id
        self._cubes = frozenset({from_faces(self.knowledge.reading.pattern).upright})

    def _any_left(self) -> None:
        """End the lesson where everybody has a coach of their own."""
        if not self.pupils.size:
            raise StopLessonError("class.nobody-left")

    def _led(self) -> Talking[None]:
        """All steps from the present one on."""
        ids = [step.id for step in self.method.top_steps]
        for step in self.method.top_steps[ids.index(self._step) :]:
            self.step = step.id
            yield from self.talk.tell("lesson.next_step", step=self._step_name(step.id))
            led = UnisonStep(self.talk, unison(self.method, step), self._hands, self._leading, self._chorus)
            self._cubes = yield from led.go(self._cubes)
            self._any_left()

    def _change(self, change: ChangeCourse) -> Talking[None]:
        """Go on at another step, or with other words for the colours."""
        if change.wish.colours:
            yield from self._obeying(self._ask_colours)
        self._cubes = None
        if change.wish.step in [step.id for step in self.method.top_steps]:
            self.step = change.wish.step

    def _result(self) -> Talking[None]:
        size, away = self.pupils.size, self.pupils.away
        yield from self.talk.tell("class.result", int(away > 0), n=size, away=away)

    def _obeying(self, work: Callable[[], Talking[T]]) -> Talking[T]:
        """Do the work, and again after whatever else is wanted meanwhile."""
        while True:
            try:
                return (yield from work())
            except Interrupt:
                yield from self.talk.tell("reply.not-now")

    # What is told of the session as a whole

    def _hold(self) -> str:
        return self._leading.hold

    def _where(self) -> str:
        run = self._leading.run
        said = [in_turns(self.talk, run)] if run and run.last else []
        number = self._ids.index(self._step) + 1
        said.append(self.talk.words("where.step", step=self._step_name(self._step), n=number, of=len(self._ids)))
        return " ".join(said)

    def _ended_at(self, unread: bool) -> LastTime | None:
        return LastTime(self._step) if self._began and not self._over else None

    def fail(self) -> list[Act]:
        """Say goodbye after an unforeseen error."""
        said = not self.ended
        self.ended = self.failed = True
        end = self._end("stopped")
        return [Bye(self.talk.words("class.failed", step=self._step_name(self._step))), end] if said else [end]
