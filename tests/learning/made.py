"""Exercises for tests, and any of them for Hypothesis."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from hypothesis import strategies as st

from coach.learning.exercise import RESULTS, Exercise, Item, Result

LINE = Item("top-cross", "line", "do", "layer by layer")
SAY_LINE = Item("top-cross", "line", "recite", "layer by layer")
DAY = date(2026, 11, 2)
"""Day 0."""


def tried(day: int, help: int = 1, result: Result = "unaided", item: Item = LINE, hour: int = 17) -> Exercise:
    """An exercise so many days after DAY."""
    when = datetime(DAY.year, DAY.month, DAY.day, hour) + timedelta(days=day)
    return Exercise(item, when, help, result, "practice")


def later(days: int) -> date:
    """The day so many days after DAY."""
    return DAY + timedelta(days=days)


@st.composite
def exercises(draw: st.DrawFn, least: int = 0) -> Sequence[Exercise]:
    """Any results of one item over some months, in their order, in which the clock may have been put back."""
    tries = st.tuples(st.integers(-2, 20), st.integers(0, 4), st.sampled_from(RESULTS), st.integers(0, 23))
    day, found = 0, []
    for gap, help, result, hour in draw(st.lists(tries, min_size=least, max_size=20)):
        day += gap
        found.append(tried(day, help, result, hour=hour))
    return found
