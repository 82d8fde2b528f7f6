"""Rows that were told of a cube held another way than thought: noticing it, and putting them where they belong."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from coach.belief.reading.holds import Held, ReadRow, held_otherwise, held_right, odd_middles
from coach.belief.reading.stickers import KnownStickers, ways
from coach.dialogue.solving.rows import Answers

_LAST: Final = 2
"""The number of rows whose middles tell the hold."""


def rows_read(answers: Answers) -> list[ReadRow]:
    """The rows that were told."""
    named = ((answer, answer.row) for answer in answers.rows if answer.row)
    return [
        ReadRow(answer.before, dict(zip(row.places, answer.letters, strict=True)), answer.turned)
        for answer, row in named
    ]


def seems_misheld(answers: Answers, reading: KnownStickers, confirmed: Collection[str]) -> bool:
    """Whether what was read does not fit, and it is likelier that the cube is held another way than that stickers were
    misread."""
    rows = rows_read(answers)
    if not rows or (ways(reading) and not any(odd_middles(row.told, reading) for row in rows)):
        return False
    return sum(held.weight for held in held_otherwise(rows)) > held_right(rows, reading, confirmed)


def hold_told(answers: Answers, reading: KnownStickers) -> Held | None:
    """The other hold that was told by the last middles; None if it is the one that is thought, or there is no such."""
    rows = rows_read(answers)
    if not any(odd_middles(row.told, reading) for row in rows[-_LAST:]):
        return None
    return next(iter(held_otherwise(rows) or held_otherwise(rows, misread=True)), None)
