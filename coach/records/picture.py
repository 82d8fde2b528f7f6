"""Progress as a picture: a lane for each item of a learner, or for each learner of a class, with the days from left to
right. It is black on white, and everything is also in words beside the lines and in the file's own description."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from io import StringIO
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final
from xml.sax.saxutils import escape

from coach.learning.exercise import MOST_HELP, Exercise, by_item
from coach.learning.levels import after
from coach.learning.progress import Progress
from coach.records import report
from coach.records.naming import Names

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

FORMATS: Final = (".png", ".svg")
_LANE: Final = 0.45
"""Height of a lane in inches."""


@dataclass(frozen=True)
class Lane:
    """A line over days: its name, the value (0 to `most`) at the end of each day with practice, the day of the next
    review, and the status in words."""

    name: str
    most: int
    values: Sequence[tuple[date, int]]
    due: date | None
    stands: str


def of_learner(now: Progress, exercises: Sequence[Exercise], names: Names) -> list[Lane]:
    """The level of help of each item."""
    history, lanes = by_item(exercises), []
    for each in now.items:
        values, level = [], each.began
        for day, done in groupby(history[each.item], key=lambda exercise: exercise.day):
            for exercise in done:
                level = after(level, exercise)
            values.append((day, level))
        stands = f"help {level}, {report.standing(each)}, {report.due(each, now.today)}"
        lanes.append(Lane(names.of(each.item), MOST_HELP, values, each.due, stands))
    return lanes


def of_class(learners: Sequence[tuple[Progress, Sequence[Exercise]]]) -> list[Lane]:
    """How many items each learner has done alone: it takes a week at least until one is known by heart."""
    most = max((len(now.items) for now, _ in learners), default=0)
    return [
        Lane(
            now.name, max(most, 1), [(day, _done_alone(exercises, day)) for day in now.days], now.next_day,
            f"{_done_alone(exercises, now.today)} of {len(now.items)} alone, {now.known} known, {now.due} due today",
        )
        for now, exercises in learners
    ]  # fmt: skip


def _done_alone(exercises: Sequence[Exercise], until: date) -> int:
    return len({each.item for each in exercises if each.day <= until and each.alone})


def draw(path: Path, title: str, lanes: Sequence[Lane], today: date) -> None:
    """Write the picture in the format given by the ending of `path`. Raises OSError; ImportError without matplotlib."""
    from matplotlib import rc_context

    description = "\n".join(f"{lane.name}: {lane.stands}." for lane in lanes)
    # Text stays text in an SVG, and a nickname with dollar signs is no formula.
    style = rc_context({"svg.fonttype": "none", "text.parse_math": False, "font.size": 9.0})
    with style, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about letters missing from the font
        figure = _figure(title, lanes, today)
        if path.suffix.lower() == ".png":
            figure.savefig(path, format="png", dpi=150, metadata={"Title": title, "Description": description})
            return
        file = StringIO()
        figure.savefig(file, format="svg", metadata={"Date": None})
    svg = file.getvalue()
    start = svg.index(">", svg.index("<svg ")) + 1
    told = f"<title>{escape(title)}</title>\n<desc>{escape(description)}</desc>"  # what a screen reader reads
    path.write_text(f"{svg[:start]}\n{told}{svg[start:]}", "utf-8")


def _figure(title: str, lanes: Sequence[Lane], today: date) -> Figure:
    from matplotlib.figure import Figure

    figure = Figure(figsize=(11, 1.2 + _LANE * len(lanes)), layout="constrained")
    axes = figure.add_subplot()
    for place, lane in enumerate(lanes):
        _lane(axes, place, lane, today)
    axes.axvline(today.toordinal(), color="black", linewidth=0.8, linestyle="--")
    days = [day for lane in lanes for day in (*(day for day, _ in lane.values), lane.due or today)] + [today]
    _frame(axes, lanes, min(days), max(days))
    axes.set_title(f"{title}\ndashed: {report.written(today)}; dotted to a diamond: the next review", loc="left")
    return figure


def _lane(axes: Axes, place: int, lane: Lane, today: date) -> None:
    """Draw a lane; each is 1 high, the first one on top, and the line stays clear of its edges."""
    if place % 2:
        axes.axhspan(place - 0.5, place + 0.5, color="0.94", linewidth=0)
    days = [day.toordinal() for day, _ in lane.values]
    heights = [place + 0.35 - 0.7 * value / lane.most for _, value in lane.values]
    if not days:
        return
    until = max(days[-1], today.toordinal())
    axes.step([*days, until], [*heights, heights[-1]], where="post", color="black", linewidth=1.2)
    axes.plot(days, heights, "o", color="black", markersize=3.5)
    if lane.due:
        due = max(lane.due, today).toordinal()
        axes.plot([until, due], [heights[-1]] * 2, ":", color="black", linewidth=1.2)
        axes.plot([due], [heights[-1]], "D", color="black", markerfacecolor="white", markersize=5.5)


def _frame(axes: Axes, lanes: Sequence[Lane], first: date, last: date) -> None:
    """The names of the lanes on the left, their status on the right, at most about ten days below."""
    every = 1 + (last - first).days // 10
    ticks = [first + timedelta(days=days) for days in range(0, (last - first).days + 1, every)]
    axes.set_xticks([day.toordinal() for day in ticks], [f"{day.day} {day:%b}" for day in ticks])
    axes.set_xlim(first.toordinal() - 0.5, last.toordinal() + 0.5)
    places = range(len(lanes))
    axes.set_yticks(places, [lane.name for lane in lanes])
    axes.set_ylim(len(lanes) - 0.5, -0.5)
    right = axes.secondary_yaxis("right")
    right.set_yticks(places, [lane.stands for lane in lanes])
    for side in (axes, right):
        side.tick_params(axis="y", length=0)
