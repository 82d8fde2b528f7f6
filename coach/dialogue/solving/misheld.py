"""Rows that were told of a cube held another way than thought: noticing it, and putting them where they belong."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from coach.belief.reading.holds import Held, ReadRow, can_be_held, held_otherwise, held_right, odd_middles
from coach.belief.reading.stickers import KnownStickers, ways
from coach.dialogue.solving.rows import Answers


def rows_read(answers: Answers) -> list[ReadRow]:
    """The rows that were told."""
    named = ((answer, answer.row) for answer in answers.rows if answer.row)
    return [
        ReadRow(answer.before, dict(zip(row.places, answer.letters, strict=True)), answer.turned)
        for answer, row in named
    ]


def seems_misheld(answers: Answers, reading: KnownStickers, confirmed: Collection[str]) -> bool:
    """Whether the middle of a side is another one than thought; or what was read does not fit, and it is likelier that
    the cube is held another way than that stickers were misread."""
    rows = rows_read(answers)
    if any(odd_middles(row.told, reading) for row in rows):
        return True
    if not rows or ways(reading):
        return False
    return sum(held.weight for held in held_otherwise(rows)) > held_right(reading, confirmed)


def doubtful_middle(told: Mapping[str, str], reading: KnownStickers, again: Collection[str]) -> str | None:
    """The middle that may have been misread: the only odd one, or one of those that cannot be there together. None if
    there is none, or all of them have been read `again`."""
    odd = odd_middles(told, reading)
    doubted = len(odd) == 1 or not can_be_held(told, reading)
    return next((place for place in odd[::-1] if place not in again), None) if doubted else None


def hold_told(answers: Answers) -> Held | None:
    """The other hold in which the middles told last are where they should be; None if there is none."""
    rows = rows_read(answers)
    return next(iter(held_otherwise(rows) or held_otherwise(rows, misread=True)), None)
