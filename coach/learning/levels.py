"""How much help a learner gets with an item: computed from its results, never stored.

One level less after success, one more after failure: contingent help (Wood 2001, International Journal of Artificial
Intelligence in Education 12:280).
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate

from coach.learning.exercise import MOST_HELP, Exercise


def level(exercises: Iterable[Exercise]) -> int:
    """The level of help, 4 to 0, for the next time, after these exercises of one item in order."""
    return list(levels(exercises))[-1]


def levels(exercises: Iterable[Exercise]) -> Iterable[int]:
    """The level before the first of these exercises, and after each of them."""
    return accumulate(exercises, after, initial=MOST_HELP)


def after(before: int, exercise: Exercise) -> int:
    """The level after one exercise, which may have been done at another level than `before`: success with more help
    does not show that less is needed, and failure with less does not show that more is needed."""
    if exercise.result == "unaided" and exercise.help <= before:
        return max(before - 1, 0)
    if exercise.result == "failed" and exercise.help >= before:
        return min(before + 1, MOST_HELP)
    return before
