"""How much help a learner gets with an item: computed from its results, never stored.

One level less after success, one more after failure: contingent help (Wood 2001, International Journal of Artificial
Intelligence in Education 12:280).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from typing import Final

from coach.learning.exercise import MOST_HELP, Exercise, Item

Sequences = Mapping[tuple[str, str], str]
"""By the ids of step and case, the id of the sequence that is done there: the method knows that."""
_IN_A_NEW_CASE: Final = 2
"""The least help with a known sequence in a case not tried before: so that the case and the hold are told."""


def level(exercises: Iterable[Exercise], start: int = MOST_HELP) -> int:
    """The level of help, 4 to 0, for the next time, after these exercises of one item in order."""
    return list(levels(exercises, start))[-1]


def levels(exercises: Iterable[Exercise], start: int = MOST_HELP) -> Iterable[int]:
    """The level before the first of these exercises, and after each of them."""
    return accumulate(exercises, after, initial=start)


def level_of(item: Item, exercises: Sequence[Exercise], sequences: Sequences) -> int:
    """The level of help for the next time with `item`, after all exercises of a learner in order. It began where the
    same sequence was known best then, with one level more."""
    own = [each for each in exercises if each.item == item and each.result != "unclear"]
    return level(own, start(item, exercises, sequences))


def start(item: Item, exercises: Sequence[Exercise], sequences: Sequences) -> int:
    """The level of help before the first of the exercises with `item`, after the other ones before it."""
    first = (at for at, each in enumerate(exercises) if each.item == item and each.result != "unclear")
    before = exercises[: next(first, None)]
    sequence = sequences.get((item.step, item.case))
    if item.kind != "do" or sequence is None:
        return MOST_HELP
    alike = {
        other for other in {each.item for each in before if each.result != "unclear"} - {item}
        if (other.kind, other.method) == ("do", item.method) and sequences.get((other.step, other.case)) == sequence
    }  # fmt: skip
    best = min((level_of(other, before, sequences) for other in alike), default=MOST_HELP)
    return min(MOST_HELP, max(_IN_A_NEW_CASE, best + 1))


def after(before: int, exercise: Exercise) -> int:
    """The level after one exercise, which may have been done at another level than `before`: success with more help
    does not show that less is needed, and failure with less does not show that more is needed."""
    if exercise.result == "unaided" and exercise.help <= before:
        return max(before - 1, 0)
    if exercise.result == "failed" and exercise.help >= before:
        return min(before + 1, MOST_HELP)
    return before
