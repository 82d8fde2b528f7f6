"""What is practised, and the outcome of each try: the raw results from which everything else is computed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Literal, get_args

Kind = Literal["do", "recite", "hold"]
"""Do a sequence; say its turns; tell a case described in words and how to hold the cube for it, or what comes next."""
Result = Literal["unaided", "helped", "failed", "unclear"]
"""Right without more help than the level gives; right after asking for help; wrong or given up; not surely heard."""
Origin = Literal["lesson", "practice"]

KINDS: Final[tuple[Kind, ...]] = get_args(Kind)
RESULTS: Final[tuple[Result, ...]] = get_args(Result)
ORIGINS: Final[tuple[Origin, ...]] = get_args(Origin)
MOST_HELP: Final = 4
"""The highest level of help: 4 every turn called, 3 groups of turns, 2 the first turn, 1 the case and the hold, 0 the
name of the step."""


@dataclass(frozen=True, order=True)
class Item:
    """One thing to know by heart. `step` and `case` are ids in the method's file (`case` is empty for the whole step),
    `method` is its name: another method's sequence is a different item."""

    step: str
    case: str
    kind: Kind
    method: str


@dataclass(frozen=True)
class Exercise:
    """One try at an item: when, by the learner's own clock (local, without a time zone), at which level of help it
    began, and how it ended."""

    item: Item
    when: datetime
    help: int
    result: Result
    origin: Origin

    @property
    def day(self) -> date:
        """The local day."""
        return self.when.date()

    @property
    def alone(self) -> bool:
        """Whether the learner succeeded without being told a turn: with the case and the hold at most."""
        return self.result == "unaided" and self.help <= 1


History = Mapping[Item, Sequence[Exercise]]
"""The exercises of each item in chronological order."""


def by_item(exercises: Iterable[Exercise]) -> dict[Item, list[Exercise]]:
    """The history made up by the exercises; unclear ones say nothing about anybody and are left out."""
    history: dict[Item, list[Exercise]] = {}
    for exercise in exercises:
        if exercise.result != "unclear":
            history.setdefault(exercise.item, []).append(exercise)
    return history
