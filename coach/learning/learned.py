"""What a learner has learned so far, as it grows during a session, and how much help follows from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import Final

from coach.learning.exercise import MOST_HELP, Exercise, Item, Kind, Origin, Result
from coach.learning.levels import Sequences, level_of

_A_FEW: Final = 3
_DAYS: Final = 2
"""Whoever has done so many sequences, on so many days, is used to calls; estimates without a source."""


@dataclass
class Learned:
    """The exercises of one learner with one method, in order. With `fades`, the level of help follows from them;
    otherwise everything is called. `most` limits the help and `least` guarantees some, as the learner wishes for the
    rest of the session. `today` is the learner's local day."""

    method: str = ""
    exercises: list[Exercise] = field(default_factory=list)
    today: date = date.min
    fades: bool = False
    origin: Origin = "lesson"
    most: int = MOST_HELP
    least: int = 0
    sequences: Sequences = field(default_factory=dict)
    """Cases with the same sequence share what is known of it."""

    def item(self, kind: Kind, step: str, case: str = "") -> Item:
        """The thing to know by heart."""
        return Item(step, case, kind, self.method)

    def saying(self, step: str, case: str) -> Item:
        """To say the sequence of a case: one thing for all the cases with that sequence."""
        sequence = self.sequences.get((step, case))
        alike = (each for each, id in self.sequences.items() if id == sequence)
        return self.item("recite", *next(alike, (step, case)))

    def of(self, item: Item) -> Sequence[Exercise]:
        """The exercises of one item, except those that tell nothing."""
        return [each for each in self.exercises if each.item == item and each.result != "unclear"]

    def has_done(self, sequence: str) -> bool:
        """Whether the sequence has been practised on the cube in any case."""
        done = (each.item for each in self.exercises if each.item.kind == "do" and each.result != "unclear")
        return any(self.sequences.get((item.step, item.case)) == sequence for item in done)

    def help(self, step: str, case: str, kind: Kind = "do") -> int:
        """The level of help for the next time, 4 to 0."""
        earned = level_of(self.item(kind, step, case), self.exercises, self.sequences) if self.fades else MOST_HELP
        return max(self.least, min(self.most, earned))

    @property
    def used_to_it(self) -> bool:
        """Whether the learner has by now done a few sequences with not every turn called, on several days before this
        one."""
        done = [
            each for each in self.exercises
            if (each.item.kind, each.result) == ("do", "unaided") and each.help < MOST_HELP and each.day < self.today
        ]  # fmt: skip
        return len(done) >= _A_FEW and len({each.day for each in done}) >= _DAYS

    def add(self, kind: Kind, step: str, case: str, help: int, result: Result) -> None:
        """Add an exercise that has just ended."""
        when = datetime.combine(self.today, time())
        self.exercises.append(Exercise(self.item(kind, step, case), when, help, result, self.origin))
