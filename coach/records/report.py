"""Progress in words for the terminal: plain lines that work well with a screen reader, each a whole statement."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Final

from coach.learning.exercise import MOST_HELP
from coach.learning.progress import ItemProgress, Progress
from coach.learning.times import FIVE, THREE, Standing
from coach.learning.times import written as result
from coach.records.naming import Names

_HELP: Final = (
    f"Help {MOST_HELP}: every turn is called; 3: groups of turns; 2: the first turn; 1: the case and the hold; 0: the "
    "name of the step.",
    "Known by heart: done with help 1 or 0 on three days, the last of them at least a week after the first.",
)


def of_learner(now: Progress, names: Names) -> list[str]:
    """A line for each item, under a summary; then where sequences serve that do so in several cases."""
    lines = [f"{now.name}, {written(now.today)}: {_sum(now)}."]
    if now.days:
        lines.append(f"{_times(now)}, the last on {written(now.days[-1])}.")
    if not now.items:
        return lines
    several = len({each.item.method for each in now.items}) > 1
    rows = [
        (names.of(each.item, several), f"next with help {each.help}", standing(each), due(each, now.today))
        for each in now.items
    ]
    serving = list(names.serving(each.item for each in now.items))
    return [*lines, "", *_table(rows), "", *serving, *([""] if serving else []), *_HELP]


def of_times(stands: Standing) -> list[str]:
    """Lines about timed solves; none without any. The averages are those of the WCA Regulations, Article 9f."""
    if not stands.count:
        return []
    lines = [f"{_count(stands.count, 'timed solve')}, the best {result(stands.best)}."]
    if stands.count >= FIVE:
        average, best = result(stands.average), result(stands.best_average)
        lines.append(f"The average of the last five: {average}; the best average of five in a row: {best}.")
    if stands.count >= THREE:
        lines.append(f"The mean of the last three: {result(stands.mean)}.")
    return lines


def of_class(learners: Iterable[tuple[Progress, Standing]]) -> list[str]:
    """A line for each learner."""
    rows = []
    for now, stands in learners:
        last = f"the last on {written(now.days[-1])}" if now.days else "none yet"
        timed = [f"{_count(stands.count, 'timed solve')}, the best {result(stands.best)}"] if stands.count else []
        rows.append((now.name, _sum(now), _times(now), ", ".join((last, *timed))))
    return _table(rows)


def standing(each: ItemProgress) -> str:
    """Whether it is known, else how near that is."""
    return "known" if each.known else f"alone on {_count(each.days_alone, 'day')}"


def due(each: ItemProgress, today: date) -> str:
    """When it is due for review."""
    if each.due < today:
        return f"due since {written(each.due)}"
    words = {today: "due today", today + timedelta(days=1): "due tomorrow"}
    return words.get(each.due, f"due on {written(each.due)}")


def written(day: date) -> str:
    """A day in the form 3 December 2026."""
    return f"{day.day} {day:%B %Y}"


def _sum(now: Progress) -> str:
    if not now.items:
        return "nothing practised yet"
    return f"{now.known} of {len(now.items)} known by heart, {now.due} due today"


def _times(now: Progress) -> str:
    return f"{_count(now.exercises, 'exercise')} on {_count(len(now.days), 'day')}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    """Aligned columns, with commas at which a screen reader pauses."""
    widths = [max(map(len, column)) + 1 for column in zip(*rows, strict=True)]
    return [
        "  ".join(f"{cell},".ljust(width) for cell, width in zip(row[:-1], widths, strict=False)) + f"  {row[-1]}"
        for row in rows
    ]
