"""How far a learner has come: computed as data from the raw results for one local day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from coach.learning import schedule
from coach.learning.exercise import MOST_HELP, Exercise, Item, Origin, by_item
from coach.learning.levels import Sequences, level, start
from coach.learning.schedule import Schedule


@dataclass(frozen=True)
class ItemProgress:
    """Progress with one item: the level of help for the next time, on how many days it was done alone, whether it is
    known by heart, and the day of its next review. It `began` at that level of help."""

    item: Item
    help: int
    days_alone: int
    known: bool
    due: date
    began: int = MOST_HELP


@dataclass(frozen=True)
class Progress:
    """All of a learner's items on the local day `today`: first those due, the likeliest to be forgotten first, then the
    later ones, by day. `days` are the days with any practice."""

    name: str
    today: date
    exercises: int
    days: Sequence[date]
    items: Sequence[ItemProgress]

    @property
    def known(self) -> int:
        """How many items are known by heart."""
        return sum(each.known for each in self.items)

    @property
    def due(self) -> int:
        """How many items are due for review today."""
        return sum(each.due <= self.today for each in self.items)

    @property
    def next_day(self) -> date | None:
        """The day of the next review, today at the earliest; None without any item."""
        return max(self.today, min(each.due for each in self.items)) if self.items else None


def progress(
    name: str, exercises: Sequence[Exercise], today: date, planner: Schedule, sequences: Sequences
) -> Progress:
    """How far the learner has come by these exercises, which are in chronological order."""
    history = by_item(exercises)
    planned = schedule.reviews(history, today, planner)
    items = [
        _item(item, start(item, exercises, sequences), history[item], review.day)
        for item, review in planned.items()
    ]
    items.sort(key=lambda each: max(each.due, today))  # keeps the order of what is due
    return Progress(name, today, len(exercises), sorted({exercise.day for exercise in exercises}), items)


def _item(item: Item, began: int, exercises: Sequence[Exercise], due: date) -> ItemProgress:
    days = len(schedule.days_alone(exercises))
    return ItemProgress(item, level(exercises, began), days, schedule.known(exercises), due, began)


@dataclass(frozen=True)
class SpokenProgress:
    """A sentence of the coach: its key among a language's phrases, which of its forms, and what fills its gaps."""

    key: str
    form: int = 0
    values: Mapping[str, object] = field(default_factory=dict)


def spoken(
    now: Progress, where: Origin = "practice", kept: bool = True
) -> tuple[SpokenProgress, SpokenProgress]:
    """What the coach says of it in two sentences: what is known, and what comes next. Who asks in a lesson cannot begin
    to practise at once, and nothing can be told where nothing is `kept`."""
    if not kept:
        return SpokenProgress("progress.not-kept"), SpokenProgress("progress.nickname")
    return _known(now), _next(now, where)


def _known(now: Progress) -> SpokenProgress:
    if not now.items:
        return SpokenProgress("progress.nothing", int(now.exercises > 0))
    if now.known == len(now.items):
        return SpokenProgress("progress.known-all")
    alone = sum(each.days_alone > 0 for each in now.items)
    form = 2 if now.known else min(alone, 1)
    return SpokenProgress("progress.known", form, {"n": now.known, "of": len(now.items), "alone": alone})


def _next(now: Progress, where: Origin) -> SpokenProgress:
    if now.next_day is None:
        return SpokenProgress("progress.begin", int(where == "lesson"))
    if now.due:
        return SpokenProgress("progress.due", int(now.due != 1), {"n": now.due})
    days = (now.next_day - now.today).days
    return SpokenProgress("progress.later", int(days != 1), {"n": days})
