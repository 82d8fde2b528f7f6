"""A lesson carried out: the acts go to a shell, what it hears goes back, and all of it into the log."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any, Final, Protocol, TextIO

from coach.dialogue import Act, Adjust, End, Event, Heard, Lesson, Listen, Say, Silence, Slip

LOG_VERSION: Final = 1


class Shell(Protocol):
    """What carries out the acts: typing, voice, or a simulation."""

    def say(self, say: Say) -> None:
        """Have the learner hear (read) it; returns when it is said."""

    def listen(self, listen: Listen) -> Event | None:
        """What comes next from the learner; None when nothing can come any more."""

    def adjust(self, adjust: Adjust) -> None:
        """Make the voice louder or softer."""


class SessionLog:
    """The session log: JSON Lines, each written through at once. A log that can no longer be written is
    given up with one message on stderr; the lesson goes on."""

    def __init__(self, path: Path | None) -> None:
        self._path, self._start = path, time.monotonic()
        self._file: TextIO | None = None
        if path:
            try:
                self._file = path.open("w", encoding="utf-8", buffering=1)
            except OSError as error:
                self._give_up(error)

    def write(self, event: str, **fields: Any) -> None:
        """Add one object."""
        if not self._file:
            return
        try:
            seconds = round(time.monotonic() - self._start, 3)
            self._file.write(json.dumps({"t": seconds, "event": event, **fields}, ensure_ascii=False) + "\n")
            self._file.flush()
        except OSError as error:
            self._give_up(error)

    def _give_up(self, error: OSError) -> None:
        file, self._file = self._file, None
        reason = error.strerror or str(error)
        print(
            f"The log {self._path} cannot be written: {reason}. The lesson goes on without it.",
            file=sys.stderr,
        )
        if file:
            with suppress(OSError):  # what is left in its buffer cannot be written either
                file.close()

    def close(self) -> None:
        """Finish the log."""
        if self._file:
            try:
                self._file.close()
            except OSError as error:
                self._give_up(error)


def run(lesson: Lesson, shell: Shell, log: SessionLog) -> End:
    """Carry the lesson out. Ctrl-C, or a shell with nothing left to hear, ends it in good order."""
    settings = lesson.settings
    log.write(
        "session", version=LOG_VERSION, method=lesson.method.name, step=lesson.step, up=settings.up,
        front=settings.front,
    )  # fmt: skip
    end = None
    acts: Iterable[Act] = lesson.start()
    while end is None:
        try:
            event: Event | None = None
            for act in acts:
                event = _perform(act, shell, log)
                if isinstance(act, End):
                    end = act
            acts = [] if end else lesson.handle(event) if event else lesson.stop()
        except KeyboardInterrupt:
            acts = lesson.stop()
    return end


def _perform(act: Act, shell: Shell, log: SessionLog) -> Event | None:
    if isinstance(act, Say):
        # What the question for a piece tells beside is not among the fields that were agreed on.
        data = {"asks": "piece", "piece": act.data["piece"]} if act.data.get("asks") == "piece" else act.data
        log.write("say", text=act.text, act=act.act, **data)
        shell.say(act)
    elif isinstance(act, Listen):
        log.write("listen")
        event = shell.listen(act)
        _log_event(event, log)
        return event
    elif isinstance(act, Adjust):
        shell.adjust(act)
    elif isinstance(act, Slip):
        log.write("slip", explains=act.explains, repair=act.repair)
    else:
        log.write("end", outcome=act.outcome, step=act.step, **act.counts)
    return None


def _log_event(event: Event | None, log: SessionLog) -> None:
    if isinstance(event, Heard):
        meaning = event.meaning.to_json() if event.meaning else None
        log.write("hear", text=event.text, meaning=meaning, confidence=event.confidence)
    elif isinstance(event, Silence):
        log.write("silence", seconds=event.seconds)
