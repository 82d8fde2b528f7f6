"""Who is in: each learner's lesson, in a thread of its own."""

from __future__ import annotations

import secrets
import sys
import traceback
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from hmac import compare_digest
from threading import Lock, Thread
from typing import Final

from coach.app.advice import know_room
from coach.app.remembering import keep_exercise, keep_step, profile_at, remember, settings_of
from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.voice import VoiceShell
from coach.dialogue.lesson import Lesson
from coach.learning.learned import Learned
from coach.method import Method
from coach.records.keeping import Records
from coach.records.log import SessionLog
from coach.records.nickname import plain
from coach.records.profile import Profile, ProfileError, default_path, learner_path
from coach.speech.errors import AudioError
from coach.speech.turns.driver import Driver, Typed
from coach.speech.turns.inbox import Inbox
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.turns import Turns
from coach.speech.voice.synthesis import Voice
from coach.web.line import Line, LineLost, Screen
from coach.web.protocol import Hello, Notice
from coach.web.written import WrittenShell

MOST: Final = 60
"""This many learners at once."""
_FULL: Final = "All places are taken. Try again when somebody has finished, or ask your teacher."
_TWICE: Final = "{name} is having a lesson already. End it there, wait half a minute, or take another name."
_BROKEN: Final = "Something in the coach went wrong, and this lesson is over. Begin again, or tell your teacher."


@dataclass
class Attendance:
    """One learner who is in."""

    name: str
    line: Line = field(default_factory=Line)
    word: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    """What the page shows to come back after a lost connection."""


class Lessons:
    """The lessons that go on. Thread-safe."""

    def __init__(self, runtime: Runtime, method: Callable[[Profile], Method], most: int = MOST) -> None:
        """`method`: what is taught to a learner with these choices."""
        self._runtime, self._method, self._most = runtime, method, most
        self._lock = Lock()
        self._here: list[Attendance] = []

    def enter(self, hello: Hello) -> Attendance | str:
        """Let a learner in, or back in, or say in a sentence why not."""
        with self._lock:
            for there in self._here:
                if compare_digest(there.word.encode(), hello.resume.encode()):
                    return there
            if len(self._here) >= self._most:
                return _FULL
            try:
                known = plain(hello.name) if hello.name else ""
            except ValueError as error:
                return str(error)
            if known and any(plain(there.name) == known for there in self._here if there.name):
                return _TWICE.format(name=hello.name)
            new = Attendance(hello.name)
            self._here.append(new)
        Thread(target=self._attend, args=(new, hello), name="lesson", daemon=True).start()
        return new

    def close(self) -> None:
        """End all lessons where they are."""
        with self._lock:
            here = list(self._here)
        for there in here:
            there.line.close()

    def _attend(self, there: Attendance, hello: Hello) -> None:
        outcome = "broken"
        try:
            with self._runtime.seat() as seat:
                outcome = self._hold(there, hello, seat)
        except LineLost:
            outcome = "stopped"
        except (AudioError, ProfileError) as error:
            there.line.post(Notice(str(error)))
        except Exception:  # no lesson may take the server with it
            traceback.print_exc(file=sys.stderr)
            there.line.post(Notice(_BROKEN))
        finally:
            with self._lock:
                self._here.remove(there)
            there.line.end(outcome)

    def _hold(self, there: Attendance, hello: Hello, seat: Seat) -> str:
        name, screen = there.name or None, Screen(there.line)
        path = learner_path(name) if name else default_path()
        profile = profile_at(path)
        method, language = self._method(profile), seat.language
        settings = settings_of(profile, name, goes_on=name is not None)
        with closing(Records(name, screen.tell)) as records:
            learned = Learned(method.name, [*records.exercises], date.today())
            learned.fades = name is not None
            lesson = Lesson(method, language.sentences, None, settings, language.offers, language.clashes, learned)
            noted = partial(keep_exercise, records, learned)
            reached = partial(keep_step, path) if name else None
            with closing(_shell(there.line, hello, profile, seat)) as shell:
                shell.prepare(language.sentences.ready_made(profile.style, profile.up))
                try:
                    outcome: str = run(lesson, shell, SessionLog(None), name, reached, noted=noted).outcome
                except LineLost:
                    lesson.stop()  # nobody hears the goodbye, but it knows now where it has ended
                    outcome = "stopped"
        if name:
            remember(profile, lesson, path, screen.tell)
        return outcome


def _shell(line: Line, hello: Hello, profile: Profile, seat: Seat) -> VoiceShell | WrittenShell:
    narrator = seat.narrator(Voice(profile.voice, profile.rate, profile.pitch, profile.volume))
    if not hello.microphone:
        return WrittenShell(seat.language, line, narrator)
    recognition = seat.recognition()
    recognition.prepare()
    turns = Turns(Listener(recognition))
    turns.duplex = hello.headphones
    driver, screen = _LineDriver(turns, line), Screen(line)
    know_room(driver, seat.language.sentences, screen.tell)
    return VoiceShell(seat.language, driver, narrator, screen, narrator.close)


class _LineDriver(Driver):
    """Drives turns over a line, and tells the page when it is the learner's."""

    def __init__(self, turns: Turns, line: Line) -> None:
        super().__init__(turns, Inbox(line.microphone), line.loudspeaker)
        self.typed, self._line = line.typed, line

    def listen(self, expected: Expectation) -> Utterance | Unanswered | Typed:
        """What the learner says or types."""
        self._line.listen()
        return super().listen(expected)
