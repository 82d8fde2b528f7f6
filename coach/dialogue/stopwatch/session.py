"""A session of timed solves: a scramble, the inspection, the solve, the result, and another one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from coach.belief.reading.stickers import KnownStickers
from coach.cube import Cube, Turn, write
from coach.dialogue.acts import Act, Bye, End, Heard, Outcome, Query, Tell, Timed
from coach.dialogue.lesson.colours import Clashes
from coach.dialogue.lesson.course import Lesson
from coach.dialogue.lesson.opening import LastTime
from coach.dialogue.lesson.scrambling import Scrambling
from coach.dialogue.lesson.settings import Settings
from coach.dialogue.reached import Done
from coach.dialogue.replies import command_of, yes_or_no
from coach.dialogue.saying import T, Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, StopLessonError
from coach.dialogue.stopwatch.timing import AttemptClock
from coach.dialogue.stopwatch.wording import how, spoken
from coach.language.meaning import Question, Scene
from coach.language.phrases import Phrases
from coach.learning.times import FIVE, Penalty, Result, average_of_five, with_penalty
from coach.method import Method

_JUDGED: Final[dict[str, Penalty]] = {"dnf": "DNF", "plus-two": "+2", "no-penalty": ""}
"""The penalty by what the learner says of the last attempt (A7a)."""


class Stopwatch(Lesson):
    """Timed solves, each after the next of `scrambles`. `results` are those of earlier sessions."""

    def __init__(
        self,
        method: Method,
        phrases: Phrases,
        scrambles: Iterator[tuple[Turn, ...]],
        results: Sequence[Result] = (),
        settings: Settings | None = None,
        offers: Callable[[Question, Scene], Sequence[str]] = lambda asked, scene: (),
        clashes: Clashes = lambda words: (),
    ) -> None:
        super().__init__(method, phrases, None, settings, offers, clashes)
        self._scrambles, self._results = scrambles, [*results]
        self._today = self._last = 0
        self.talk.why = self.talk.words("stopwatch.why")

    @property
    def choices(self) -> Settings:
        """The learner's present choices; where their last lesson ended stays as it was."""
        return replace(super().choices, last_time=self.settings.last_time)

    # The course of the session

    def _greet(self) -> Talking[None]:
        name = self.settings.learner
        yield from self.talk.tell("stopwatch.greet-name" if name else "stopwatch.greet", learner=name)
        if not self.settings.ask_colours:
            yield from self.talk.tell("lesson.hold", front=self.settings.front)
        yield from self.talk.tell("stopwatch.how")

    def _course(self) -> Talking[None]:
        if self.settings.ask_colours:
            yield from self._obeying(self._ask_colours)
        while True:
            self.knowledge.reading = KnownStickers.of(Cube())
            self._scrambling = Scrambling(self.talk, self.knowledge, next(self._scrambles))
            turns = self._scrambling.to_call
            if self._today:
                yield from self.talk.tell("stopwatch.next", front=self.settings.front)
            known = yield from self._obeying(self._scrambled)
            yield from self._obeying(self._ready)
            yield from self._attempt(write(turns) if known else "")
            if not (yield from self._another()):
                raise StopLessonError("stopwatch.bye", outcome="done")

    def _scrambled(self) -> Talking[bool]:
        """Have the cube scrambled; the result is whether the coach's turns were done, all of them and as called."""
        self._now, slips, begun = self._scrambling, self.talk.slips, self._scrambling.begun
        try:
            if not (yield from self._scrambling.wanted()):
                return False
            over = yield from self._scrambling.go()
        finally:
            self._now, self.talk.why = None, self.talk.words("stopwatch.why")
        return isinstance(over, Done) and self.talk.slips == slips and not begun

    def _ready(self) -> Talking[None]:
        query = Query("ready")
        if not (yield from self.talk.until(query, self.talk.forms("stopwatch.ready"), yes_or_no)):
            yield from self.talk.wait("stopwatch.waiting")

    def _attempt(self, scramble: str) -> Talking[None]:
        """Take the time, tell it and keep it."""
        taken = yield from AttemptClock(self.talk).go()
        result = with_penalty(taken.centiseconds, taken.penalty)
        self._results.append(result)
        self._today += 1
        yield Timed(taken.centiseconds, taken.penalty, scramble)
        time = spoken(self.talk, with_penalty(taken.centiseconds, ""))
        if result is None:
            yield from self.talk.tell("stopwatch.dnf" if taken.centiseconds else "stopwatch.too-late")
        else:
            key = "stopwatch.time-plus" if taken.penalty else "stopwatch.time"
            yield from self.talk.tell(key, time=time, result=spoken(self.talk, result))
        self._last = taken.centiseconds

    def _another(self) -> Talking[bool]:
        """Whether another one is timed, once the learner has judged this one, and heard how they are doing."""
        if self._today % FIVE == 0:
            yield from self.talk.tell("stopwatch.round", average=self._average())
        while True:
            answer = yield from self._obeying(self._ask_another)
            if answer in _JUDGED:
                yield from self._judge(_JUDGED[answer])
            elif answer == "how":
                yield Tell(how(self.talk, self._results))
            else:
                return answer == "another"

    def _judge(self, said: Penalty) -> Talking[None]:
        """Take the learner's word for how the last attempt ended; one that never started has no time."""
        penalty: Penalty = said if self._last else "DNF"
        self._results[-1] = with_penalty(self._last, penalty)
        yield Timed(self._last, penalty, judged=True)
        yield from self.talk.tell("stopwatch.judged", result=spoken(self.talk, self._results[-1]))

    def _average(self) -> str:
        return spoken(self.talk, average_of_five(self._results[-FIVE:]))

    def _ask_another(self) -> Talking[str]:
        """What comes next: "another", "end", "how", or how the last attempt is judged."""
        forms = self.talk.forms("stopwatch.another")
        return (yield from self.talk.until(Query("other", about="another"), forms, _after))

    def _obeying(self, work: Callable[[], Talking[T]]) -> Talking[T]:
        """Do the work, and again after whatever the learner wants meanwhile."""
        while True:
            try:
                return (yield from work())
            except Interrupt:
                yield from self.talk.tell("reply.not-now")
            except ChangeCourse as change:
                if change.open:
                    self._scrambling.to_call = ()
                if change.wish.colours:
                    yield from self._obeying(self._ask_colours)
                elif change.wish.step:
                    yield from self.talk.tell("stopwatch.no-lesson")

    # What is told of the session as a whole

    def _where(self) -> str:
        if self._now is self._scrambling:
            return self._scrambling.where()
        return self.talk.words("stopwatch.where", min(self._today, 2), n=self._today)

    def _ended_at(self, unread: bool) -> LastTime | None:
        return None

    def _end(self, outcome: Outcome) -> End:
        return replace(super()._end(outcome), step="")

    def fail(self) -> list[Act]:
        """Say goodbye after an unforeseen error."""
        said = not self.ended
        self.ended = self.failed = True
        end = self._end("stopped")
        return [Bye(self.talk.words("stopwatch.failed")), end] if said else [end]


def _after(heard: Heard) -> str | None:
    meaning = heard.meaning
    if meaning and meaning.case in _JUDGED:
        return meaning.case
    if command_of(heard) == "how-am-i-doing":
        return "how"
    answer = yes_or_no(heard)
    return None if answer is None else "another" if answer else "end"
