"""Follows a sequence that is said aloud, turn by turn, without letting what is expected decide what was heard.

All the ways are kept in which what was heard can be a right recital. A breath may start again from the beginning of
any group so far. So may a learner in mid-breath, but then at least two turns have to be said again, since a single turn
said twice is a mistake, and in the end more than before. A half turn may also be said as two turns of the same layer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from copy import deepcopy
from dataclasses import dataclass
from itertools import accumulate, takewhile
from typing import Final, Literal

from coach.cube import Turn

Verdict = Literal["right", "open", "wrong", "complete"]
"""Right so far; no longer right, but the group has not ended, so that the learner may still notice; a group ended
wrongly; the whole sequence was said."""

_AGAIN: Final = 2
_MOST_LEFT_OUT: Final = 3


@dataclass(frozen=True)
class _Way:
    """How far the recital may have come: the number of turns `said`, and the `quarters` said of a half turn that is not
    complete. Who started again in mid-breath, from turn `start`, has yet to come to turn `owed`."""

    said: int
    quarters: int = 0
    start: int = 0
    owed: int = 0

    def next(self, said: int = 0, quarters: int = 0) -> _Way:
        """The way after another turn, or part of one."""
        return _Way(self.said + said, quarters, self.start, self.owed)

    @property
    def paid(self) -> bool:
        """Whether nothing has to be said again."""
        return self.said >= self.owed

    @property
    def credible(self) -> bool:
        """Whether a breath may end so."""
        return self.paid or self.said - self.start >= _AGAIN


_Ways = frozenset[_Way]


@dataclass(frozen=True)
class Followed:
    """What came of the turns just said. If the verdict is "open" or "wrong": `comes` is the turn that should have come;
    None is the end of the sequence. `right` are the turns of the group that were said rightly before it. `left_out`
    are turns that come before what was said last, which is right from there on for the turns `further`. `group` is the
    number, from 0, of the group that the learner is in, or that went wrong."""

    verdict: Verdict
    group: int
    comes: Turn | None = None
    right: tuple[Turn, ...] = ()
    left_out: tuple[Turn, ...] = ()
    further: tuple[Turn, ...] = ()


class Recital:
    """One recital of a sequence, given as its groups. `mistakes` counts the groups that ended wrongly, `hints` those
    given."""

    def __init__(self, groups: Iterable[Sequence[Turn]]) -> None:
        self._groups = tuple(tuple(group) for group in groups)
        self._turns = tuple(turn for group in self._groups for turn in group)
        self._starts = tuple(accumulate(map(len, self._groups[:-1]), initial=0))
        self._furthest = 0  # how many turns were said rightly, at most
        self._since = 0  # how many turns were said since the group at hand began
        self._astray: tuple[Turn, ...] = ()  # what was said since the recital came furthest
        self._allowed: _Ways = frozenset()  # where the learner may also go on after help
        self._past: list[_Ways] = [frozenset({_Way(0)})]  # the ways before each turn of this group, and now
        self.mistakes = 0
        self.hints = 0

    @property
    def group(self) -> int:
        """The number, from 0, of the group at hand."""
        return max(number for number, start in enumerate(self._starts) if start <= self._furthest)

    def hear(self, turns: Sequence[Turn], corrects: bool = False) -> Followed:
        """Follow turns said in one breath. `corrects`: they take back the last turn, or as many as they are."""
        if not turns:
            return self._followed()
        if corrects:
            self._take_back(len(turns))
        # Without a word of correction, a wrong turn at the beginning of a group is not taken back by going on.
        last = _reach(self._past[-1]) if self._past[-1] else self._furthest - 1
        self._past[-1] |= self._allowed.union(_Way(start) for start in self._starts if start <= last)
        self._allowed = frozenset()
        for at, turn in enumerate(turns):
            self._say(turn, again=at > 0)
            if self._is_over():
                self._astray += tuple(turns[at + 1 :])
                return self._went_wrong()
        self._past[-1] = frozenset(way for way in self._past[-1] if way.credible)
        return self._went_wrong() if self._is_over() else self._followed()

    def is_wrong(self, turns: Sequence[Turn], corrects: bool = False) -> bool:
        """Whether a group would end wrongly with these turns."""
        return deepcopy(self).hear(turns, corrects).verdict == "wrong"

    def give_up_group(self) -> Followed:
        """The learner says no more. A group ends wrongly if it is not right so far, or ends with half of a half turn,
        or if the turns said again break off before the place reached earlier: they were no repetition."""
        fine = any(way.said == self._furthest and way.paid and not way.quarters for way in self._past[-1])
        return self._followed() if fine else self._went_wrong()

    def hint(self) -> tuple[Turn, ...]:
        """The turns still missing from the group at hand, to be told. The learner may say them, or go on after them."""
        self.hints += 1
        at = self._furthest
        end = self._starts[self.group] + len(self._groups[self.group])
        self._resume(end)
        return self._turns[at:end]

    def _say(self, turn: Turn, again: bool) -> None:
        before = self._past[-1]
        after = frozenset(way for each in before for way in self._after(each, turn))
        if again:  # the learner may have started again just before this turn
            starts = [start for start in self._starts if self._furthest - start >= _AGAIN]
            owed = min(self._furthest + 1, len(self._turns))
            restarts = [_Way(start, 0, start, owed) for start in starts]
            after |= {way for each in restarts for way in self._after(each, turn)}
        self._since += 1
        self._past.append(after)
        self._astray += (turn,)
        self._advance(_reach(after))

    def _after(self, way: _Way, turn: Turn) -> Iterable[_Way]:
        if way.said == len(self._turns):
            return ()
        expected = self._turns[way.said]
        if turn == (Turn(expected.face, way.quarters, expected.layers) if way.quarters else expected):
            return (way.next(said=1),)
        half = expected.quarters == 2 and (turn.face, turn.layers) == (expected.face, expected.layers)
        return (way.next(quarters=turn.quarters),) if half and not way.quarters else ()

    def _advance(self, reached: int) -> None:
        """Note how far the recital has come, and where a group begins."""
        entered = [start for start in self._starts if self._furthest < start <= reached]
        self._astray = () if reached > self._furthest else self._astray
        self._furthest = max(self._furthest, reached)
        if entered:
            self._since = reached - entered[-1]

    def _is_over(self) -> bool:
        """Whether the group at hand is not right and has as many turns as it should have, or is right to its end but
        for turns left out, or the sequence goes on after its end."""
        if self._past[-1]:
            return False
        at = self._furthest + sum(map(len, self._skipped()))
        to_its_end = at > self._furthest and at in (*self._starts, len(self._turns))
        whole = self._furthest == len(self._turns)
        return whole or to_its_end or self._since >= len(self._groups[self.group])

    def _take_back(self, turns: int) -> None:
        last = len(self._past) - 1
        kept = {max(last - 1, 0), max(last - turns, 0)}
        before = frozenset(way for each in kept for way in self._past[each])
        self._past = [*self._past[: min(kept)], before]
        self._astray = self._astray[: max(len(self._astray) - turns, 0)]
        if before:
            self._furthest = min(self._furthest, _reach(before))
            self._since = self._furthest - self._starts[self.group]

    def _resume(self, *ends: int) -> None:
        """The turns up to the `ends` are told. The learner may go on with the turn before, with those, or after
        them."""
        self._past, self._astray = [frozenset({_Way(self._furthest)})], ()
        self._allowed = frozenset(
            _Way(place) for place in (self._furthest - 1, *ends) if 0 <= place <= len(self._turns)
        )
        self._since = self._furthest - self._starts[self.group]

    def _went_wrong(self) -> Followed:
        """The group at hand ended wrongly."""
        self.mistakes += 1
        told = self._told("wrong")
        missing = len(told.left_out) or 1
        self._resume(self._furthest + missing, self._furthest + missing + len(told.further))
        return told

    def _followed(self) -> Followed:
        if any(way.said == len(self._turns) and way.paid for way in self._past[-1]):
            return Followed("complete", self.group)
        right = any(way.paid for way in self._past[-1])
        return Followed("right", self.group) if right else self._told("open")

    def _told(self, verdict: Verdict) -> Followed:
        at, start = self._furthest, self._starts[self.group]
        comes = self._turns[at] if at < len(self._turns) else None
        return Followed(verdict, self.group, comes, self._turns[start:at], *self._skipped())

    def _skipped(self) -> tuple[tuple[Turn, ...], tuple[Turn, ...]]:
        """The turns left out before what was said since the recital came furthest, if that fits from some later turn
        on; and how far it does."""
        at = self._furthest
        for later in range(at + 1, at + 1 + _MOST_LEFT_OUT):
            pairs = zip(self._astray, self._turns[later:], strict=False)
            fits = tuple(said for said, _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
            if len(fits) >= _AGAIN:
                return self._turns[at:later], fits
        return (), ()


def _reach(ways: _Ways) -> int:
    return max((way.said for way in ways), default=0)
