"""The session log: JSON Lines, each written through at once."""

from __future__ import annotations

import json
import sys
import time
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Final, TextIO

from coach.dialogue import Act, Event
from coach.dialogue.lesson import Lesson
from coach.records.entries import Fields, entry

LOG_VERSION: Final = 1


class SessionLog:
    """The session log: JSON Lines, each written through at once, after what the file holds already. A log that can no
    longer be written is given up with one message on stderr; the lesson goes on."""

    def __init__(self, path: Path | None) -> None:
        self._path, self._start = path, time.monotonic()
        self._file: TextIO | None = None
        if path:
            try:
                self._file = path.open("a", encoding="utf-8", buffering=1)
            except OSError as error:
                self._give_up(error)

    def begin(self, lesson: Lesson, learner: str | None) -> None:
        """Add what is known at the start of a lesson."""
        settings = lesson.settings
        self._write({
            "event": "session", "version": LOG_VERSION, "method": lesson.method.name, "step": lesson.step,
            "up": settings.up, "front": settings.front, "date": date.today().isoformat(), "learner": learner,
        })  # fmt: skip

    def add(self, what: Act | Event) -> None:
        """Add what has been said, heard or found out."""
        if fields := entry(what):
            self._write(fields)

    def _write(self, fields: Fields) -> None:
        if not self._file:
            return
        try:
            seconds = round(time.monotonic() - self._start, 3)
            self._file.write(json.dumps({"t": seconds, **fields}, ensure_ascii=False) + "\n")
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
