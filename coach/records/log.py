"""The session log: JSON Lines, each object with `t` (seconds from the start) and `event`, written through at once.

| event | fields |
|---|---|
| `session` | `version` 1, `method`, `step`, `up`, `front`, `date` (YYYY-MM-DD), `learner` (or null) |
| `say` | `text`, and by `act`: |
| ... `tell`, `bye` | in a class `off` "hand-down": who held up no hand last has their own coach from now on |
| ... `turn` | `turn`, `n`, `of`, `step`, and `case` if there is one |
| ... `rotate` | `rotation`, `step`, and `case` if there is one; in a class `if`: who takes part does the first whose
claim is true of the cube as they hold it, once in a run; all but the first have no text |
| ... `run` | `cases`: who has one of these cases or claims takes part up to the next `run`, the others rest |
| ... `ask` | `asks`, and of `claim`, `piece`, `face`, `row`, `about`, `step`, `case`, `help` what belongs to it |
| ... `ask` `hands` | `about`: "size", a case or a claim: how many have it |
| `listen` | |
| `hear` | `text`, `meaning` (or null), `confidence` (or null) |
| `silence` | `seconds` |
| `exercise` | `kind`, `step`, `case`, `help`, `result` |
| `attempt` | `seconds` before the penalty, `penalty`, `scramble`; `judged`: the last one once more, judged otherwise |
| `slip` | `explains`: the turns really done in the run where it went wrong, up to now, in its hold; `repair` |
| `end` | `outcome`: `done`, `stopped`, `unsolvable`; `step`, `turns`, `questions`, `slips` |

Faces are those of the learner's hold. Places 0 to 8 read a face row by row, left to right, seen straight on: U with the
back at its upper edge, D with the front at its upper edge, the sides with U at their upper edge.
"""

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
from coach.records.entries import Fields, entries

LOG_VERSION: Final = 1


class SessionLog:
    """The session log: JSON Lines, each written through at once and appended to the file. If the log can no longer be
    written, it is abandoned with one message on stderr; the lesson goes on."""

    def __init__(self, path: Path | None) -> None:
        self._path, self._start = path, time.monotonic()
        self._file: TextIO | None = None
        if path:
            try:
                self._file = path.open("a", encoding="utf-8", buffering=1)
            except OSError as error:
                self._give_up(error)

    def begin(self, lesson: Lesson, learner: str | None) -> None:
        """Write what is known at the start of a lesson."""
        settings = lesson.settings
        self._write({
            "event": "session", "version": LOG_VERSION, "method": lesson.method.name, "step": lesson.step,
            "up": settings.up, "front": settings.front, "date": date.today().isoformat(), "learner": learner,
        })  # fmt: skip

    def add(self, what: Act | Event) -> None:
        """Write what has been said, heard or found out."""
        for fields in entries(what):
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
            with suppress(OSError):  # the rest of its buffer cannot be written either
                file.close()

    def close(self) -> None:
        """Close the log."""
        if self._file:
            try:
                self._file.close()
            except OSError as error:
                self._give_up(error)
