"""What a simulated learner knows of sequences: a chain of links for each, where every link is a trace in memory.

The links are to tell the case and the hold, and each group of turns after the one before it. A link that is told is
studied; one that is recalled without being told is tested, which strengthens it more (Roediger & Karpicke 2006,
Psychological Science 17:249). Sequences that several cases share share their groups.

Groups that were recalled one after the other on several days are joined: from then on the first brings the next with
it. Joining of chunks takes nights (Blischke & Malangre 2016, Journal of Human Kinetics 51:5). How many nights is a
guess, and so is that turns which are called one by one join nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import prod
from random import Random
from typing import Final

from coach.method.sequences import NamedSequence
from coach.simulation.memory.trace import DAY, Model, Trace

Link = tuple[str, str, int]
"""("case", step and case, 0), or ("group", the id of a sequence, the number of the group)."""

_UNEVEN: Final = 0.5
"""How unevenly hard things are for a learner, in units of the model's noise (from memory: people differ about as much
between things as from day to day)."""
_EASIER: Final = 0.4
"""Slips become rarer as a power of practice (Newell & Rosenbloom 1981; the exponent is from memory)."""


@dataclass(frozen=True)
class Habits:
    """How somebody learns. `study`: what being told counts for, where recalling counts 1. `slips`: the chance to do a
    known turn wrongly at first. `asks`: the chance to ask for a hint when stuck, rather than to try something.
    `notices`: the chance to notice a slip and mend it alone. `joins`: on so many days two groups must have been
    recalled one after the other to be joined."""

    study: float = 0.5
    slips: float = 0.02
    asks: float = 0.6
    notices: float = 0.5
    joins: int = 3


@dataclass
class Mind:
    """The memory of one learner, at a moment that the owner moves: `day`, and `second` of its session."""

    model: Model
    habits: Habits
    random: Random
    day: int = 0
    second: float = 0.0
    _traces: dict[Link, Trace] = field(default_factory=dict)
    _done: dict[Link, int] = field(default_factory=dict)
    _together: dict[tuple[Link, Link], set[int]] = field(default_factory=dict)
    """The days on which two groups were recalled one after the other."""

    @property
    def now(self) -> float:
        """The moment in seconds."""
        return self.day * DAY + self.second

    def recalls(self, link: Link, after: Link | None = None, share: float = 1.0) -> bool:
        """Whether it comes to mind without being told, `after` another that did; if so, it is practised by that."""
        known = self._joined(after, link) or self.random.random() < self._trace(link).recall(self.now)
        if known:
            self._trace(link).practise(self.now, share)
        if known and after and after[0] == link[0]:
            self._together.setdefault((after, link), set()).add(self.day)
        return known

    def told(self, link: Link) -> None:
        """The link is told, and so studied."""
        self._trace(link).practise(self.now, self.habits.study)

    def chance(self, links: Sequence[Link], days: float = 0.0) -> float:
        """The chance to recall all of them after so many days without practice; nothing is learned by the question."""
        then, before = self.now + days * DAY, (None, *links)
        pairs = zip(before, links, strict=False)
        return prod(self._trace(link).recall(then) for last, link in pairs if not self._joined(last, link))

    def slips(self, link: Link, turns: int) -> bool:
        """Whether one of the turns of a known group goes wrong."""
        done = self._done[link] = self._done.get(link, 0) + 1
        slips: float = self.habits.slips * done**-_EASIER
        right: float = (1 - slips) ** turns
        return self.random.random() > right

    def _joined(self, first: Link | None, then: Link) -> bool:
        return first is not None and len(self._together.get((first, then), ())) >= self.habits.joins

    def _trace(self, link: Link) -> Trace:
        if link not in self._traces:
            self._traces[link] = self.model(self.random.gauss(0, _UNEVEN))
        return self._traces[link]


def links(step: str, case: str, sequence: NamedSequence) -> tuple[Link, ...]:
    """What has to be recalled to do the sequence in its case, in order."""
    groups: list[Link] = [("group", sequence.id, number) for number in range(len(sequence.groups))]
    return (("case", f"{step} {case}", 0), *groups)


Maker = Callable[[Random], tuple[Model, Habits]]
"""Somebody of a population."""
