"""When an item is to be reviewed, replayed from its raw results, so that the scheduler behind it can be replaced.

Reciting and doing are different items. The date is passed in, as a local day.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Final, Protocol

from fsrs import Card, Rating, Scheduler

from coach.learning.exercise import Exercise, History, Item

KNOWN_DAYS: Final = 3
"""An item is known once it was done alone on this many different days."""
KNOWN_SPAN: Final = timedelta(days=7)
"""The last of these days must be at least this long after the first."""
LONGEST_UNTIL_KNOWN: Final = 4
"""The longest interval in days until the item is known: two of them make more than the week."""
LONGEST: Final = 30
"""The longest interval in days from then on."""
_HOUR: Final = time(12, tzinfo=UTC)
"""A day of fsrs is 24 hours in UTC, so a fixed hour of every local day gives exactly that day."""


@dataclass(frozen=True)
class Review:
    """The local day of the next review of an item, and the probability that it would be recalled today."""

    day: date
    recall: float


class Schedule(Protocol):
    """Computes when an item comes next."""

    def review(self, exercises: Sequence[Exercise], today: date) -> Review | None:
        """The next review after these exercises of one item; None if none of them tells anything."""


def known(exercises: Sequence[Exercise]) -> bool:
    """Whether these exercises of one item show that it is known."""
    days = days_alone(exercises)
    return len(days) >= KNOWN_DAYS and days[-1] - days[0] >= KNOWN_SPAN


def days_alone(exercises: Sequence[Exercise]) -> Sequence[date]:
    """The local days, in order, on which the item was done alone."""
    return sorted({exercise.day for exercise in exercises if exercise.alone})


def reviews(history: History, today: date, schedule: Schedule) -> dict[Item, Review]:
    """The next review of each item that has been practised, the likeliest to be forgotten first."""
    found = {item: schedule.review(exercises, today) for item, exercises in history.items()}
    planned = [(item, review) for item, review in found.items() if review]
    return dict(sorted(planned, key=lambda each: (each[1].recall, each[0])))


def due(planned: Mapping[Item, Review], today: date) -> tuple[Item, ...]:
    """The items to be reviewed today, in the order of `reviews`."""
    return tuple(item for item, review in planned.items() if review.day <= today)


def next_day(planned: Mapping[Item, Review], today: date) -> date | None:
    """The day of the next review, today at the earliest; None if nothing was practised."""
    return max(today, min(review.day for review in planned.values())) if planned else None


class Fsrs:
    """The schedule of the package fsrs (MIT), with its own parameters. These were fitted to flashcards, which says
    little about sequences of turns: hence the limits, in days."""

    def __init__(self, until_known: int = LONGEST_UNTIL_KNOWN, longest: int = LONGEST) -> None:
        self._learning, self._keeping = _scheduler(until_known), _scheduler(longest)

    def review(self, exercises: Sequence[Exercise], today: date) -> Review | None:
        """The next review, the day after the last exercise at the earliest."""
        rated = [(exercise.day, _rating(exercise)) for exercise in exercises if exercise.result != "unclear"]
        if not rated:
            return None
        scheduler = self._keeping if known(exercises) else self._learning
        card = Card(card_id=0, due=_moment(rated[0][0]))  # without these arguments it reads the clock and sleeps
        for day, rating in rated:
            card, _ = scheduler.review_card(card, rating, _moment(day))
        return Review(card.due.date(), scheduler.get_card_retrievability(card, _moment(today)))


def _scheduler(longest: int) -> Scheduler:
    """No steps within a day, which are up to the session, and no randomness."""
    return Scheduler(learning_steps=(), relearning_steps=(), maximum_interval=longest, enable_fuzzing=False)


def _rating(exercise: Exercise) -> Rating:
    """If turns were told or help was needed, the item was recalled with difficulty."""
    if exercise.result == "failed":
        return Rating.Again
    return Rating.Good if exercise.alone else Rating.Hard


def _moment(day: date) -> datetime:
    return datetime.combine(day, _HOUR)
