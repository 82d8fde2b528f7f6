"""The raw results as comma-separated values, for analysis elsewhere: exercises, and timed solves beside them."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from coach.learning.exercise import Exercise
from coach.learning.times import Attempt, written

TIMES_COLUMNS: Final = ("learner", "day", "time", "seconds", "penalty", "result", "scramble")
COLUMNS: Final = ("learner", "day", "time", "origin", "method", "step", "case", "kind", "help", "result")


def write_csv(path: Path, learners: Iterable[tuple[str, Sequence[Exercise]]]) -> None:
    """Write a line per exercise under a header with COLUMNS; dates and times are local (ISO 8601). Raises OSError."""
    _write(path, COLUMNS, (_row(name, exercise) for name, exercises in learners for exercise in exercises))


def write_times(path: Path, learners: Iterable[tuple[str, Sequence[Attempt]]]) -> Path | None:
    """Write the timed solves beside the file of the exercises, a line each under a header with TIMES_COLUMNS: the
    seconds before the penalty, and the result after it. The file; None if there are none. Raises OSError."""
    rows = [_times_row(name, attempt) for name, attempts in learners for attempt in attempts]
    if not rows:
        return None
    beside = path.with_name(f"{path.stem}-times{path.suffix}")
    _write(beside, TIMES_COLUMNS, rows)
    return beside


def _write(path: Path, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(columns)
        table.writerows(rows)


def _row(name: str, exercise: Exercise) -> Sequence[object]:
    item, when = exercise.item, exercise.when
    return (
        name, when.date().isoformat(), when.time().isoformat("seconds"), exercise.origin, item.method, item.step,
        item.case, item.kind, exercise.help, exercise.result,
    )  # fmt: skip


def _times_row(name: str, attempt: Attempt) -> Sequence[object]:
    when = attempt.when
    return (
        name, when.date().isoformat(), when.time().isoformat("seconds"), f"{attempt.centiseconds / 100:.2f}",
        attempt.penalty, written(attempt.result), attempt.scramble,
    )  # fmt: skip
