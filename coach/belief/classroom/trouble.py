"""Some of a class are not where a run should have brought them: questions to all, and turns for those whom they help.

Every one of them is taken to have made one slip, independently of the others. A question is a claim for a show of hands
and splits a group of them into those who see it and those who do not; it is put so that nobody else's hand goes up
unforeseen. Once one repair serves nearly all that may have happened to a group, whoever sees what it is for does it in
unison while the others rest. Whoever is still not there when there is nothing more to do works with their own coach.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.classroom.counts import Misfit
from coach.belief.classroom.mishaps import Aftermath, Repair
from coach.belief.classroom.sights import Sight, Sights, Truth
from coach.cube import Turn

QUESTIONS: Final = 6
"""So many questions are asked about one trouble at most."""
TURNS: Final = 12
"""So many turns may a repair have, and all repairs of one trouble together, before the others have waited too long."""
_SURE: Final = 0.8
"""A repair is done once it serves so much of what may have happened."""
_WORTH_A_TRY: Final = 0.3
"""The same when there is nothing more to ask."""
_NEVER: Final = 1e-9
_UNLIKELY: Final = 2e-3
"""What is less likely is left out where repairs are weighed up."""
_TRIED: Final = 6
"""The number of mishaps, the likeliest ones, whose repairs are tried on a group."""
_LEAST: Final = 0.1
"""A question is worth asking if it tells so many bits."""
_SIGHTS: Final = 3
"""A repair may be for whoever sees one of so many claims."""
_HARDER: Final = 0.9
"""What a question about two stickers is worth, as a share of one about one."""
_NOBODY: Final = np.zeros(0, np.bool_)
Weights: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Ask:
    """All of the class turn the whole cube until they see it, if they can: how many can?"""

    sight: Sight


@dataclass(frozen=True)
class Mend:
    """Whoever can see one of `sights` turns the whole cube until they see it, and does `turns`. `again`: for them the
    step has to be gone through again after that."""

    sights: tuple[Sight, ...]
    turns: tuple[Turn, ...]
    again: bool


@dataclass(frozen=True, eq=False)
class _Group:
    """`number` pupils who gave the same answers, and the chance of each mishap for each of them."""

    number: int
    chances: Weights


@dataclass(frozen=True, eq=False)
class Trouble:
    """What is known of the pupils to whom something has happened. `asked` and `turned` are spent."""

    aftermath: Aftermath
    sights: Sights
    size: int
    groups: tuple[_Group, ...]
    asked: int = 0
    turned: int = 0

    @classmethod
    def of(cls, aftermath: Aftermath, size: int, missing: int, free: bool = True) -> Trouble:
        """A class of `size` with `missing` not there. `free`: nobody knows which side of a cube is in front."""
        weights = np.array([mishap.weight for mishap in aftermath.mishaps])
        group = _Group(missing, weights / weights.sum())
        return cls(aftermath, Sights(aftermath, free), size, (group,) if missing else ())

    @cached_property
    def next(self) -> Ask | Mend | None:
        """What to do next; None if nothing is left that would be worth the others' time."""
        return self._next[0] if self._next else None

    @cached_property
    def _next(self) -> tuple[Ask | Mend, int, Truth] | None:
        """What to do next, the number of the group that it is about, and whose hands go up."""
        mends = [(*found, number) for number in range(len(self.groups)) if (found := self._mend(number))]
        share, mend, number = max(mends, key=lambda found: found[0], default=(0.0, None, 0))
        if mend and share >= _SURE:
            return mend, number, _NOBODY
        if question := self._question():
            return question
        return (mend, number, _NOBODY) if mend and share >= _WORTH_A_TRY else None

    def _question(self) -> tuple[Ask, int, Truth] | None:
        """The claim that tells most about a group, if nobody's hand of the others is in doubt."""
        if not self.groups or self.asked >= QUESTIONS:
            return None
        shares = np.stack([self.sights.true @ group.chances for group in self.groups])
        bits = np.array([group.number for group in self.groups])[:, None] * _entropy(shares)
        others = bits.sum(axis=0) - bits
        ease = [1.0 if len(claim) == 1 else _HARDER for claim in self.sights.claims]
        worth = np.where(others > _NEVER, 0.0, bits) * ease
        number, claim = np.unravel_index(worth.argmax(), worth.shape)
        if worth[number, claim] < _LEAST:
            return None
        return Ask(self.sights.sight(self.sights.claims[int(claim)])), int(number), self.sights.true[claim]

    def _mend(self, number: int) -> tuple[float, Mend] | None:
        """The repair that does most for a group, and how much of what may have happened to it that puts right."""
        chances = self.groups[number].chances
        likely = np.flatnonzero(chances > _UNLIKELY)
        found: dict[Repair, tuple[float, Mend]] = {}
        for mishap in chances.argsort(kind="stable")[::-1][:_TRIED].tolist():
            repair = self.aftermath.repair(mishap, TURNS - self.turned) if chances[mishap] > _UNLIKELY else None
            if repair and repair not in found:
                served = np.zeros(len(chances), np.bool_)
                served[[each for each in likely.tolist() if self.aftermath.served(each, repair)]] = True
                sights, share = self._sights(number, served)
                found[repair] = (share, Mend(sights, repair.turns, repair.again))
        return max(found.values(), key=lambda option: option[0], default=None)

    def _sights(self, number: int, served: Truth) -> tuple[tuple[Sight, ...], float]:
        """Claims of which one is true, in the hold of the run alone, of as many as can be of the mishaps `served`, and none
        of anybody in another group; and the chance that a pupil of the group is one of these."""
        chances = self.groups[number].chances
        elsewhere = [group.chances > _NEVER for group in self.groups if group is not self.groups[number]]
        others = np.any([np.zeros(len(chances), np.bool_), *elsewhere], axis=0)
        left, harm = np.where(served, chances, 0.0), np.where(served, 0.0, chances)
        sights: list[Sight] = []
        share, tried = 0.0, left.copy()
        while len(sights) < _SIGHTS and tried.max() > _UNLIKELY:
            first = int(tried.argmax())
            best: tuple[float, tuple[int, ...], Truth] = (0.0, (), _NOBODY)
            for claim in self.sights.telling(first):
                true = self.sights.of(claim)
                seen, wrongly = np.asarray(true.any(axis=0)), true[1:].any(axis=0)
                gain = left[seen & ~wrongly].sum() - left[wrongly].sum() - harm[seen].sum()
                if gain > best[0] + _NEVER and not (seen & others).any():
                    best = (float(gain), claim, seen)
            tried[first] = 0.0
            if best[1]:
                gain, chosen, seen = best
                sights.append(self.sights.sight(chosen))
                share += gain
                for weights in (left, tried, harm):
                    weights[seen] = 0.0
        return tuple(sights), share

    def misfit(self, number: int) -> Misfit | None:
        """Why so many hands cannot have gone up for the question that is `next`; None if it may be."""
        least, most = self._hands
        return None if least <= number <= most else Misfit(number, self.size, least, most)

    @property
    def _hands(self) -> tuple[int, int]:
        """The fewest and the most hands for the next question."""
        assert self._next
        _, about, true = self._next
        sure = sum(group.number for group in self.groups if group.chances @ true > 1 - _NEVER)
        return sure, sure + self.groups[about].number

    def told(self, number: int) -> Trouble:
        """What is known once `number` hands have gone up for the question that is `next`. Raises ValueError where
        `misfit` says that this cannot be."""
        if misfit := self.misfit(number):
            raise ValueError(f"so many hands cannot have gone up: {misfit}")
        assert self._next
        _, about, true = self._next
        group, up = self.groups[about], number - self._hands[0]
        parts = ((up, group.chances * true), (group.number - up, group.chances * ~true))
        split = (_Group(size, chances / chances.sum()) for size, chances in parts if size)
        groups = (*self.groups[:about], *split, *self.groups[about + 1 :])
        return replace(self, groups=groups, asked=self.asked + 1)

    def mended(self) -> Trouble:
        """What is known once the repair that is `next` has been done: those are taken to be where they should be."""
        assert self._next
        mend, about, _ = self._next
        assert isinstance(mend, Mend)
        groups = (*self.groups[:about], *self.groups[about + 1 :])
        return replace(self, groups=groups, turned=self.turned + len(mend.turns))


def _entropy(shares: Weights) -> Weights:
    """[...] the bits that an answer tells which is yes with these chances."""
    inside = shares.clip(_NEVER, 1 - _NEVER)
    bits = -inside * np.log2(inside) - (1 - inside) * np.log2(1 - inside)
    return np.asarray(np.where((shares > _NEVER) & (shares < 1 - _NEVER), bits, 0.0))
