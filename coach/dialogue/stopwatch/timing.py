"""One attempt, from the inspection to the stop (WCA Regulations, Articles A3, A4 and A6)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from coach.dialogue.acts import Ask, Event, Heard, Listen, Query, Silence, Tell, When
from coach.dialogue.doubt import ask_aside, says_stop
from coach.dialogue.replies import command_of
from coach.dialogue.saying import Talking
from coach.dialogue.signals import StopLessonError
from coach.dialogue.talk import Talk
from coach.learning.times import INSPECTION_CALLS, LATEST_START, Penalty, measured, start_penalty

_STILL_SECONDS: Final = 600.0
"""After so many seconds without a word, tell the learner that the time is being taken."""
_MOST_SILENCES: Final = 3
"""End after so many of these."""


_STARTS: Final = ("ready", "next", "resume")
"""Commands that start the solve; a yes may be said to somebody else."""


@dataclass(frozen=True)
class Taken:
    """The time of an attempt in centiseconds, before the penalty."""

    centiseconds: int
    penalty: Penalty


class AttemptClock:
    """Takes the time of one attempt."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self._begun: float | None = None  # when the inspection began
        self._inspected = 0.0  # so many seconds of it have surely elapsed

    def go(self) -> Talking[Taken]:
        """Give the inspection, and take the time from the learner's "start" to their "stop"."""
        yield Ask(self.talk.words("stopwatch.inspect"), Query("other", about="inspection"))
        start = yield from self._inspect()
        if start is None:
            return Taken(0, "DNF")
        yield Ask(self.talk.words("stopwatch.go"), Query("other", about="solve"))
        stop, solved = yield from self._solve()
        return Taken(measured(stop - start), start_penalty(self._inspected) if solved else "DNF")

    # The inspection

    def _inspect(self) -> Talking[float | None]:
        """When the solve starts; None if it has not started in time."""
        for seconds in (*INSPECTION_CALLS, LATEST_START):
            start = yield from self._start_until(seconds)
            if start is not None:
                return start
            if seconds in INSPECTION_CALLS:
                yield Tell(self.talk.words("stopwatch.elapsed", seconds=seconds))
        return None

    def _start_until(self, seconds: int) -> Talking[float | None]:
        """When the solve starts, if it does before so many seconds of inspection have elapsed."""
        while self._inspected < seconds:
            event = yield from self._listen("inspection", seconds - self._inspected, seconds)
            when = event.when or When(0.0, self._inspected)
            self._begun = when.listening if self._begun is None else self._begun
            elapsed = max(self._inspected, when.at - self._begun)
            if isinstance(event, Silence):  # whoever types an empty line lets the time run out
                self._inspected = max(elapsed, float(seconds))
            elif command_of(event) in _STARTS or (yield from self._denies_stop(event)):
                self._inspected = elapsed
                return when.at
        return None

    def _denies_stop(self, event: Heard) -> Talking[bool]:
        """Whether "stop" was heard although the learner does not want to: then it was "start", which sounds much the
        same. Raises StopLessonError if they do."""
        if command_of(event) != "stop":
            return False
        answer = yield from ask_aside(self.talk, self.talk.words("ask.stop"), "stop")
        if says_stop(answer):
            raise StopLessonError
        return True

    # The solve

    def _solve(self) -> Talking[tuple[float, bool]]:
        """When the learner stops, and whether they say that it is solved."""
        silences = 0
        while True:
            event = yield from self._listen("solve", _STILL_SECONDS)
            at = event.when.at if event.when else 0.0
            if isinstance(event, Silence):
                silences += 1
                if silences == _MOST_SILENCES:
                    raise StopLessonError("lesson.silent")
                yield Tell(self.talk.words("stopwatch.still"))
            elif command_of(event) == "stop" or (yield from self._has_stopped(event)):
                return at, True
            elif event.meaning and event.meaning.case == "dnf":
                return at, False

    def _has_stopped(self, event: Heard) -> Talking[bool]:
        """Whether it was "stop" that was not surely heard. The time is that of the first one."""
        if not any(command_of(guess) == "stop" for guess in event.guesses):
            return False
        answer = yield from ask_aside(self.talk, self.talk.words("stopwatch.did-you-stop"), "stopped")
        return says_stop(answer)

    def _listen(self, about: str, seconds: float, until: float | None = None) -> Talking[Event]:
        """Listen for an answer and when it began; `until` so many seconds of inspection."""
        at = None if self._begun is None or until is None else self._begun + until
        event = yield Listen("other", seconds, replace(self.talk.scene, about=about), timed=True, until=at)
        assert event is not None
        return event
