"""Who is in: each learner's lesson, in a thread of its own."""

from __future__ import annotations

import secrets
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from hmac import compare_digest
from threading import Lock, Thread
from typing import Final

from coach.app.advice import know_room
from coach.app.remembering import keep_exercise, keep_step, profile_at, remember, settings_of
from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.voice import VoiceShell
from coach.dialogue import Act, Event
from coach.dialogue.lesson import Lesson
from coach.learning.learned import Learned
from coach.method import Method
from coach.records.keeping import Records
from coach.records.log import SessionLog
from coach.records.nickname import plain
from coach.records.profile import Profile, ProfileError, default_path, learner_path
from coach.records.unfinished import Beginning, Unfinished
from coach.speech.errors import AudioError
from coach.speech.turns.driver import Driver, Typed
from coach.speech.turns.inbox import Inbox
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.turns import Turns
from coach.speech.voice.synthesis import Voice
from coach.web.line import LearnerLine, LineLost, Screen
from coach.web.protocol import Hello, Notice
from coach.web.rebuilding import Rebuilding
from coach.web.written import WrittenShell

MOST: Final = 60
"""This many learners at once."""
_FULL: Final = "All places are taken. Try again when somebody has finished, or ask your teacher."
_TWICE: Final = "{name} is having a lesson already. End it there, wait half a minute, or take another name."
_BROKEN: Final = "Something in the coach went wrong, and this lesson is over. Begin again, or tell your teacher."


@dataclass
class Place:
    """One learner who is in, and how they came in; for a lesson that is rebuilt, how it began and what has happened."""

    name: str
    hello: Hello
    beginning: Beginning | None = None
    past: Sequence[Event] = ()
    line: LearnerLine = field(default_factory=LearnerLine)
    word: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    """What the page shows to come back after a lost connection."""


class Lessons:
    """The lessons that go on. Thread-safe."""

    def __init__(
        self, runtime: Runtime, method: Callable[[Profile], Method], unfinished: Unfinished, most: int = MOST
    ) -> None:
        """`method`: what is taught to a learner with these choices. `unfinished`: outlasts this server."""
        self._runtime, self._method, self._unfinished, self._most = runtime, method, unfinished, most
        self._lock = Lock()
        self._ending = False
        self._here: list[Place] = []

    def back(self, hello: Hello) -> Place | None:
        """The lesson that this page was in, if it is not over; it needs no code, since only this page has its word.
        After a restart of the server it is rebuilt."""
        with self._lock:
            for there in self._here:
                if compare_digest(there.word.encode(), hello.resume.encode()):
                    return there
            kept = self._unfinished.find(hello.resume) if hello.resume and len(self._here) < self._most else None
            if kept is None:
                return None
            beginning, past = kept
            return self._take(Place(beginning.name, hello, beginning, past, word=hello.resume))

    def enter(self, hello: Hello) -> Place | str:
        """Let a learner in, or say in a sentence why not."""
        with self._lock:
            if len(self._here) >= self._most:
                return _FULL
            try:
                known = plain(hello.name) if hello.name else ""
            except ValueError as error:
                return str(error)
            if known and any(plain(there.name) == known for there in self._here if there.name):
                return _TWICE.format(name=hello.name)
            return self._take(Place(hello.name, hello))

    def close(self) -> None:
        """End all lessons where they are; the next server may go on with them."""
        with self._lock:
            self._ending = True
            here = list(self._here)
        for there in here:
            there.line.close()

    def _take(self, place: Place) -> Place:
        self._here.append(place)
        Thread(target=self._attend, args=(place,), name="lesson", daemon=True).start()
        return place

    def _attend(self, there: Place) -> None:
        outcome = "broken"
        try:
            with self._runtime.seat() as seat:
                outcome = self._hold(there, seat, there.beginning or self._begin(there))
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
            if not self._ending:
                self._unfinished.over(there.word)
            there.line.end(outcome)

    def _begin(self, there: Place) -> Beginning:
        profile = profile_at(learner_path(there.name) if there.name else default_path())
        beginning = Beginning(there.name, profile, time.time())
        self._unfinished.begin(there.word, beginning)
        return beginning

    def _hold(self, there: Place, seat: Seat, beginning: Beginning) -> str:
        name, screen, profile = there.name or None, Screen(there.line), beginning.profile
        path = learner_path(name) if name else default_path()
        method, language = self._method(profile), seat.language
        settings = settings_of(profile, name, goes_on=name is not None)
        with closing(Records(name, screen.tell)) as records:
            began = datetime.fromtimestamp(beginning.began)
            before = [exercise for exercise in records.exercises if exercise.when < began]
            learned = Learned(method.name, before, began.date())
            learned.fades = name is not None
            lesson = Lesson(method, language.sentences, None, settings, language.offers, language.clashes, learned)
            reached = partial(keep_step, path) if name else None
            with closing(_shell(there, profile, seat)) as shell:
                shell.prepare(language.sentences.ready_made(profile.style, profile.up))
                whole = Rebuilding(shell, there.past, partial(self._unfinished.add, there.word))

                def noted(act: Act) -> None:
                    if whole.going_on:  # else it is in the records already
                        keep_exercise(records, learned, act)

                try:
                    outcome: str = run(lesson, whole, SessionLog(None), name, reached, noted=noted).outcome
                except LineLost:
                    lesson.stop()  # nobody hears the goodbye, but it knows now where it has ended
                    outcome = "stopped"
        if name:
            remember(profile, lesson, path, screen.tell)
        return outcome


def _shell(there: Place, profile: Profile, seat: Seat) -> VoiceShell | WrittenShell:
    line = there.line
    narrator = seat.narrator(Voice(profile.voice, profile.rate, profile.pitch, profile.volume))
    if not there.hello.microphone:
        return WrittenShell(seat.language, line, narrator)
    recognition = seat.recognition()
    recognition.prepare()
    turns = Turns(Listener(recognition))
    turns.duplex = there.hello.headphones
    driver, screen = _LineDriver(turns, line), Screen(line)
    know_room(driver, seat.language.sentences, screen.tell)
    return VoiceShell(seat.language, driver, narrator, screen, narrator.close)


class _LineDriver(Driver):
    """Drives turns over a line, and tells the page when it is the learner's."""

    def __init__(self, turns: Turns, line: LearnerLine) -> None:
        super().__init__(turns, Inbox(line.microphone), line.loudspeaker)
        self.typed, self._line = line.typed, line

    def listen(self, expected: Expectation) -> Utterance | Unanswered | Typed:
        """What the learner says or types."""
        self._line.listen()
        return super().listen(expected)
