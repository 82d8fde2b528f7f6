"""How much help a learner gets with an item: worked out from its results, never kept.

One level less after success, one more after failure: contingent help (Wood 2001, International Journal of Artificial
Intelligence in Education 12:280).
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate

from coach.records.exercise import MOST_HELP, Exercise


def level(exercises: Iterable[Exercise]) -> int:
    """The level of help, 4 to 0, for the next time, after these exercises of one item in their order."""
    return list(levels(exercises))[-1]


def levels(exercises: Iterable[Exercise]) -> Iterable[int]:
    """The level before the first of these exercises, and after each of them."""
    return accumulate(exercises, after, initial=MOST_HELP)


def after(before: int, exercise: Exercise) -> int:
    """The level after one exercise, which need not have been done at the level `before` it: whoever was told more has
    not shown that they need less, and whoever tried with less has not shown that they need more."""
    if exercise.result == "unaided" and exercise.help <= before:
        return max(before - 1, 0)
    if exercise.result == "failed" and exercise.help >= before:
        return min(before + 1, MOST_HELP)
    return before
