"""Lessons that are not over, in one SQLite file: enough to rebuild each of them after the server has been killed.

A lesson is known by a word that only its learner's page has; the file has its hash. It goes when the lesson is over,
and after a day at the latest.
"""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Final

from platformdirs import user_data_path

from coach.dialogue import Event
from coach.records.events import read, written
from coach.records.profile import Profile

_KEPT_SECONDS: Final = 24 * 3600.0
_TABLES: Final = """
CREATE TABLE IF NOT EXISTS lesson (
    word TEXT PRIMARY KEY, began REAL NOT NULL, name TEXT NOT NULL, profile TEXT NOT NULL
);
CREATE TABLE IF NOT EXISTS event (
    id INTEGER PRIMARY KEY, word TEXT NOT NULL REFERENCES lesson (word) ON DELETE CASCADE, event TEXT NOT NULL
);
CREATE INDEX IF NOT EXISTS event_word ON event (word);
"""


@dataclass(frozen=True)
class Beginning:
    """What a lesson began with."""

    name: str
    profile: Profile
    began: float
    """Seconds since the epoch."""


class Unfinished:
    """The file. Thread-safe; a file that cannot be used is told once, and the lessons go on without it."""

    def __init__(self, tell: Callable[[str], None], path: Path | None = None) -> None:
        self._tell, self._lock = tell, Lock()
        self._connection: sqlite3.Connection | None = None
        self.path = path or user_data_path("turncaller") / "unfinished.sqlite"
        with self._told():
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self.path.touch(mode=0o600)  # private to the user
            self._connection = sqlite3.connect(self.path, check_same_thread=False, isolation_level=None)
            self._connection.executescript("PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON;" + _TABLES)
            self._connection.execute("DELETE FROM lesson WHERE began < ?", (time.time() - _KEPT_SECONDS,))

    def begin(self, word: str, beginning: Beginning) -> None:
        """A lesson has begun."""
        row = (_hash(word), beginning.began, beginning.name, json.dumps(asdict(beginning.profile)))
        self._write("INSERT OR REPLACE INTO lesson VALUES (?, ?, ?, ?)", row)

    def add(self, word: str, event: Event) -> None:
        """Something has happened in it."""
        self._write("INSERT INTO event (word, event) VALUES (?, ?)", (_hash(word), written(event)))

    def over(self, word: str) -> None:
        """It is over."""
        self._write("DELETE FROM lesson WHERE word = ?", (_hash(word),))

    def find(self, word: str) -> tuple[Beginning, Sequence[Event]] | None:
        """How that lesson began and what has happened in it; None if it is not there, or from another version."""
        with self._told():
            if self._connection:
                ask, key = self._connection.execute, (_hash(word),)
                found = ask("SELECT name, profile, began FROM lesson WHERE word = ?", key).fetchone()
                rows = ask("SELECT event FROM event WHERE word = ? ORDER BY id", key).fetchall()
                with suppress(ValueError, TypeError, KeyError):
                    if found:
                        return Beginning(found[0], _profile(found[1]), found[2]), [read(text) for (text,) in rows]
        return None

    def close(self) -> None:
        """Close the file."""
        with self._told():
            if self._connection:
                self._connection.close()
                self._connection = None

    def _write(self, statement: str, row: Sequence[object]) -> None:
        with self._told():
            if self._connection:
                self._connection.execute(statement, row)

    def _told(self) -> _Told:
        return _Told(self._lock, self._give_up)

    def _give_up(self, error: Exception) -> None:
        self._connection = None
        self._tell(f"{self.path} cannot be used ({error}). Lessons go on, but none outlasts this server.")


class _Told:
    """One at a time, and what goes wrong with the file is told."""

    def __init__(self, lock: Lock, give_up: Callable[[Exception], None]) -> None:
        self._lock, self._give_up = lock, give_up

    def __enter__(self) -> None:
        self._lock.acquire()

    def __exit__(self, _kind: object, error: BaseException | None, _where: object) -> bool:
        try:
            if isinstance(error, sqlite3.Error | OSError):
                self._give_up(error)
                return True
            return False
        finally:
            self._lock.release()


def _profile(text: str) -> Profile:
    choices = json.loads(text)
    return Profile(**{**choices, "confuse": tuple(choices["confuse"])})


def _hash(word: str) -> str:
    return sha256(word.encode()).hexdigest()
