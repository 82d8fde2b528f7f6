"""What learners have practised, and their timed solves, in one SQLite file that several processes may share and that
survives a killed one.

Each of them is written through before the method returns. Anything else about a learner, such as their level of help,
is computed from the exercises. Choices, and where and in which hold the last lesson ended, are in the profile.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Final

from platformdirs import user_data_path

from coach.learning.exercise import Exercise, Item
from coach.learning.times import Attempt
from coach.records.nickname import plain, shown
from coach.records.schema import BROKEN, UnusableError, check, migrate, transaction

_PATIENCE: Final = 5.0
"""Wait this many seconds for another process that is writing; it takes milliseconds."""
_SETTINGS: Final = (
    "foreign_keys = ON",
    "synchronous = FULL",  # an exercise survives even a power failure
    "secure_delete = ON",  # deleted data is overwritten
    "temp_store = MEMORY",  # and leaves no copy in the folder for temporary files
)
_ADVICE: Final = {
    sqlite3.SQLITE_FULL: "the disk is full. Make room on it",
    sqlite3.SQLITE_BUSY: "another program holds them. End it",
    sqlite3.SQLITE_LOCKED: "another program holds them. End it",
    sqlite3.SQLITE_CORRUPT: BROKEN,
    sqlite3.SQLITE_NOTADB: BROKEN,
}
"""What happened and what to do, by SQLite's result code (https://www.sqlite.org/rescode.html)."""
_NOT_WRITABLE: Final = "they cannot be read and written there ({why}). See that the folder is yours and has room"


class RecordsError(Exception):
    """The records are unusable; the message says in a sentence what happened and what to do."""


def default_path() -> Path:
    """Where the records are: in the user's data folder."""
    return user_data_path("turncaller") / "records.sqlite"


class Store:
    """The records of all learners. Not thread-safe; every method raises RecordsError if they are unusable, and
    ValueError for an invalid nickname."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = path or default_path()
        with self._told():
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self.path.touch(mode=0o600)  # private to the user
            self._connection = _opened(self.path)

    def add(self, name: str, exercise: Exercise) -> None:
        """Store an exercise of the learner with that nickname."""
        item = exercise.item
        with self._written(name) as learner:
            self._connection.execute(
                """INSERT INTO exercise (learner, at, origin, method, kind, step, "case", help, result)
                VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)""",
                (learner, _at(exercise.when), exercise.origin, item.method, item.kind, item.step, item.case,
                 exercise.help, exercise.result),
            )  # fmt: skip

    def add_attempt(self, name: str, attempt: Attempt) -> None:
        """Store a timed solve of the learner with that nickname."""
        with self._written(name) as learner:
            self._connection.execute(
                "INSERT INTO attempt (learner, at, centiseconds, penalty, scramble) VALUES (?, ?, ?, ?, ?)",
                (learner, _at(attempt.when), attempt.centiseconds, attempt.penalty, attempt.scramble),
            )

    def judge_attempt(self, name: str, attempt: Attempt) -> None:
        """Give the learner's attempt of that time and length the penalty that it has now."""
        with self._written(name) as learner:
            self._connection.execute(
                """UPDATE attempt SET penalty = ? WHERE id =
                (SELECT max(id) FROM attempt WHERE learner = ? AND at = ? AND centiseconds = ?)""",
                (attempt.penalty, learner, _at(attempt.when), attempt.centiseconds),
            )

    def learners(self) -> list[str]:
        """The nicknames as they were typed first, in alphabetical order."""
        with self._told():
            return [name for (name,) in self._connection.execute("SELECT shown FROM learner ORDER BY name")]

    def exercises(self, name: str) -> list[Exercise]:
        """All exercises of that learner in chronological order; none for an unknown nickname."""
        with self._told():
            rows = self._connection.execute(
                """SELECT step, "case", kind, method, at, help, result, origin FROM exercise
                WHERE learner = (SELECT id FROM learner WHERE name = ?) ORDER BY id""",
                (plain(name),),
            )
            return [
                Exercise(Item(step, case, kind, method), datetime.fromisoformat(at), help_, result, origin)
                for step, case, kind, method, at, help_, result, origin in rows
            ]

    def attempts(self, name: str) -> list[Attempt]:
        """All timed solves of that learner in chronological order; none for an unknown nickname."""
        with self._told():
            rows = self._connection.execute(
                """SELECT at, centiseconds, penalty, scramble FROM attempt
                WHERE learner = (SELECT id FROM learner WHERE name = ?) ORDER BY id""",
                (plain(name),),
            )
            return [Attempt(datetime.fromisoformat(at), *others) for at, *others in rows]

    def forget(self, name: str) -> bool:
        """Remove everything about that learner without a trace in the file; return whether there was anything. This
        also removes traces left by an earlier removal that was cut short."""
        with self._told():
            with transaction(self._connection):
                gone = self._connection.execute("DELETE FROM learner WHERE name = ?", (plain(name),)).rowcount > 0
            self._connection.execute("VACUUM")
            (busy, *_), *_ = self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        if busy:
            raise RecordsError(
                f"{shown(name)} is removed, but traces stay in {self.path}-wal while another program uses the records. "
                "End it and do this again."
            )
        return gone

    def close(self) -> None:
        """Close the file."""
        with self._told():
            self._connection.close()

    @contextmanager
    def _written(self, name: str) -> Iterator[int]:
        """A transaction that writes about that learner; gives their number in the file."""
        learner, as_typed = plain(name), shown(name)
        with self._told(), transaction(self._connection):
            self._connection.execute("INSERT OR IGNORE INTO learner (name, shown) VALUES (?, ?)", (learner, as_typed))
            (number,) = self._connection.execute("SELECT id FROM learner WHERE name = ?", (learner,)).fetchone()
            yield number

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turns errors within into readable messages."""
        try:
            yield
        except UnusableError as error:
            happened = str(error)
        except sqlite3.Error as error:
            code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # the higher bits only say where it happened
            happened = _ADVICE.get(code) or _NOT_WRITABLE.format(why=error)
        except OSError as error:
            happened = _NOT_WRITABLE.format(why=error.strerror or error)
        else:
            return
        raise RecordsError(f"The records {self.path} cannot be used: {happened}.")


def _at(when: datetime) -> str:
    return when.isoformat(" ", "seconds")


def _opened(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, timeout=_PATIENCE, isolation_level=None)
    try:
        for setting in _SETTINGS:
            connection.execute(f"PRAGMA {setting}")
        migrate(connection)
        connection.execute("PRAGMA journal_mode = WAL")
        check(connection)
    except BaseException:
        connection.close()
        raise
    return connection
