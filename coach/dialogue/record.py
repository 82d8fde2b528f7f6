"""Counts of what has gone wrong so far, so that the coach learns from the learner's own slips."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Final

from coach.belief.slips.explanations import Slip, SlipKind
from coach.cube import Turn, write

_OFTEN: Final = 2
"""Call a turn with care once it has gone wrong this many times."""
_WITH_CARE: Final = 6
"""Call it as usual again after this many careful calls."""
_STEADY: Final = 7
"""Allow a check to be left out once this many have been passed and nothing has ever gone wrong."""
_TRUSTED: Final = 5
"""Forget which turns have gone wrong once this many checks in a row have been passed. The checks themselves do not
become rarer: when they did after 5 or 12 of them, with 3% of turns done wrongly, 7 and 4 of 30 cubes had to be read
instead of 2 (`scripts/bench slips 30 --only solve`, 29 November 2026)."""


@dataclass
class Record:
    """The slips of a session by kind, by the turn called, and by the sequence it belonged to; and the searches for a
    slip, by the number of turns called until then."""

    kinds: Counter[SlipKind] = field(default_factory=Counter)
    turns: Counter[Turn] = field(default_factory=Counter)
    sequences: Counter[str] = field(default_factory=Counter)
    searches: Counter[int] = field(default_factory=Counter)
    careful: Counter[Turn] = field(default_factory=Counter)
    """How often a turn has been called with care."""
    in_a_row: int = 0
    """How many times something was not as it should be since a check was last passed."""
    passed: int = 0
    """How many checks have been passed since the last failure."""
    any: bool = False
    """Whether anything has gone wrong: a slip, or a wrong belief about the cube."""

    def check(self, passed: bool) -> None:
        """Count a check of what was reached; a learner who passes many is no longer warned."""
        self.in_a_row = 0 if passed else self.in_a_row
        self.passed = self.passed + 1 if passed else 0
        if self.passed >= _TRUSTED:
            self.turns.clear()

    @property
    def steady(self) -> bool:
        """Whether enough checks have been passed without anything going wrong that one may be left out."""
        return not self.any and self.passed >= _STEADY

    def add(self, slip: Slip, called: tuple[Turn, ...], at: int) -> None:
        """Count a slip at turn number `at` (0: the first) of the sequence `called`."""
        self.passed = 0
        self.kinds[slip.kind] += 1
        self.sequences[write(called)] += 1
        if at < len(called):
            self.turns[called[at]] += 1

    def called(self, turn: Turn) -> None:
        """Count a careful call of `turn`; after several of them it is a turn like any other."""
        self.careful[turn] += 1
        if self.careful[turn] >= _WITH_CARE:
            del self.careful[turn], self.turns[turn]

    def often(self, turn: Turn) -> bool:
        """Whether `turn` has gone wrong so often that it should be called with more care."""
        return self.turns[turn] >= _OFTEN
