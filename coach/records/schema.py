"""The database schema of the records, and the steps that upgrade an older file."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from typing import Final

from coach.learning.exercise import KINDS, MOST_HELP, ORIGINS, RESULTS
from coach.learning.times import PENALTIES

BROKEN: Final = "the file is broken. Move it away or put a copy back"


class UnusableError(Exception):
    """The program cannot continue with the file; the message says what happened and what to do."""


def _one_of(words: Sequence[str]) -> str:
    return ", ".join(f"'{word}'" for word in words)


MIGRATIONS: Final[tuple[tuple[str, ...], ...]] = (
    (
        # `name` is the nickname in the form used for comparison, `shown` as it was typed first.
        "CREATE TABLE learner (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, shown TEXT NOT NULL)",
        # `at` is the learner's local date and time in ISO 8601, without a zone. No sound, no transcript.
        f"""CREATE TABLE exercise (
            id INTEGER PRIMARY KEY,
            learner INTEGER NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
            at TEXT NOT NULL CHECK (at = datetime(at)),
            origin TEXT NOT NULL CHECK (origin IN ({_one_of(ORIGINS)})),
            method TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ({_one_of(KINDS)})),
            step TEXT NOT NULL,
            "case" TEXT NOT NULL,
            help INTEGER NOT NULL CHECK (help BETWEEN 0 AND {MOST_HELP}),
            result TEXT NOT NULL CHECK (result IN ({_one_of(RESULTS)}))
        )""",
        "CREATE INDEX exercise_learner ON exercise (learner)",
    ),
    (
        # A timed solve: its time before the penalty, and the scramble in WCA notation, empty if it is unknown.
        f"""CREATE TABLE attempt (
            id INTEGER PRIMARY KEY,
            learner INTEGER NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
            at TEXT NOT NULL CHECK (at = datetime(at)),
            centiseconds INTEGER NOT NULL CHECK (centiseconds >= 0),
            penalty TEXT NOT NULL CHECK (penalty IN ({_one_of(PENALTIES)})),
            scramble TEXT NOT NULL
        )""",
        "CREATE INDEX attempt_learner ON attempt (learner)",
    ),
)
"""The steps from version n to version n + 1: append only, never change a released one."""


def migrate(connection: sqlite3.Connection, steps: Sequence[Sequence[str]] = MIGRATIONS) -> None:
    """Upgrade the file to the newest version, all or nothing. Raises UnusableError, leaving the file as it is, if its
    version is newer."""
    if _steps_left(connection, steps):
        with transaction(connection):  # nobody else can write from here on, so check the version again
            for statement in chain.from_iterable(_steps_left(connection, steps)):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {len(steps)}")


def _steps_left(connection: sqlite3.Connection, steps: Sequence[Sequence[str]]) -> Sequence[Sequence[str]]:
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if version > len(steps):
        raise UnusableError("they were made by a newer version of Turncaller. Bring this one up to date")
    return steps[version:]


def check(connection: sqlite3.Connection) -> None:
    """Raise UnusableError if the file is broken, even if nothing has been read yet."""
    (found,) = connection.execute("PRAGMA quick_check(1)").fetchone()
    if found != "ok":
        raise UnusableError(BROKEN)


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """Everything written within is stored together, or none of it."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:  # SQLite itself may have rolled back, as on a full disk
            connection.execute("ROLLBACK")
        raise
