"""A lesson for a class: one coach leads many cubes in unison, and hands are counted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from coach.dialogue.acts import Act, Bye
from coach.dialogue.classroom.alike import Alike, AlikeStep
from coach.dialogue.classroom.alike_top import AlikeTop
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
        self._scrambles = scrambles
        self._alike = Alike(self.talk, self.knowledge, self._hands, self._leading, self.settings.scramble)
        self._over = False
        self.knowledge.forget_all()

    # The course

    def _greet(self) -> Talking[None]:
        for key in ("class.greet", *_CAUTIONS):
            yield from self.talk.tell(key)

    def _course(self) -> Talking[None]:
        if self.settings.ask_colours:
            yield from self._obeying(self._ask_colours)
        yield from self.talk.tell("lesson.hold" if self._scrambles else "class.hold", front=self.settings.front)
        yield from self._obeying(self._hands.size)
        self._began = True
        if self._scrambles:
            yield from self._obeying(self._alike.scramble)
            yield from self.talk.tell("class.scrambled")
        yield from self._obeying(self._led)
        self._over = True
        yield from self._result()
        raise StopLessonError("class.bye", outcome="done")

    def _led(self) -> Talking[None]:
        """All steps from the present one on: the lower ones, whose cubes are all alike, and those on top."""
        for step in self.method.steps[self._ids.index(self._step) :]:
            self.step = step.id
            yield from self.talk.tell("lesson.next_step", step=self._step_name(step.id))
            if isinstance(step, Step) and self.knowledge.complete:
                yield from AlikeTop(self._alike, step, self._chorus).go()
            elif isinstance(step, Step):
                joint, first = unison(self.method, step), self._tops[0]
                start = "" if step.id == first else self._step_name(first)
                led = UnisonStep(self.talk, joint, self._hands, self._leading, self._chorus, start)
                yield from led.go()
            else:
                yield from AlikeStep(self._alike, step).go()
            if not self.pupils.size:
                raise StopLessonError("class.nobody-left")

    def _change(self, change: ChangeCourse) -> Talking[None]:
        """Go on at another step on top, or with other words for the colours."""
        if change.open and self._step not in self._tops:  # nobody knows what is on the cubes
            raise StopLessonError
        if change.wish.colours:
            yield from self._ask_colours()
        if change.wish.step in self._tops and self._step in self._tops:
            self.knowledge.forget_all()  # nobody knows how far each of them has come
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
            except ChangeCourse as change:
                yield from self._change(change)

    # What is told of the session as a whole

    def _hold(self) -> str:
        return self._leading.hold()

    def _where(self) -> str:
        run = self._leading.run
        said = [in_turns(self.talk, run)] if run and run.last else []
        number = self._ids.index(self._step) + 1
        said.append(self.talk.words("where.step", step=self._step_name(self._step), n=number, of=len(self._ids)))
        return " ".join(said)

    def _ended_at(self, unread: bool) -> LastTime | None:
        return LastTime(self._step) if self._began and not self._over else None

    def _bye(self, key: str) -> Talking[None]:
        """Say goodbye, and where to go on next time."""
        said = [self.talk.words(key)]
        if self._last_time:
            onward = "return.from" if self._last_time.step in self._tops else "class.next-time-solved"
            said.append(self.talk.words(onward, step=self._step_name(self._last_time.step)))
        yield Bye(" ".join(said))

    @property
    def _tops(self) -> list[str]:
        """The ids of the steps on top."""
        return [step.id for step in self.method.top_steps]

    def fail(self) -> list[Act]:
        """Say goodbye after an unforeseen error."""
        said = not self.ended
        self.ended = self.failed = True
        end = self._end("stopped")
        return [Bye(self.talk.words("class.failed", step=self._step_name(self._step))), end] if said else [end]
