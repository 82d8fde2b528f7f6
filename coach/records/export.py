"""The raw results as comma-separated values, for analysis elsewhere."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from coach.learning.exercise import Exercise

COLUMNS: Final = ("learner", "day", "time", "origin", "method", "step", "case", "kind", "help", "result")


def write_csv(path: Path, learners: Iterable[tuple[str, Sequence[Exercise]]]) -> None:
    """Write a line per exercise under a header with COLUMNS; dates and times are local (ISO 8601). Raises OSError."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(COLUMNS)
        for name, exercises in learners:
            table.writerows(_row(name, exercise) for exercise in exercises)


def _row(name: str, exercise: Exercise) -> Sequence[object]:
    item, when = exercise.item, exercise.when
    return (
        name, when.date().isoformat(), when.time().isoformat("seconds"), exercise.origin, item.method, item.step,
        item.case, item.kind, exercise.help, exercise.result,
    )  # fmt: skip
