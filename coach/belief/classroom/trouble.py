"""Some of a class are not where a run should have brought them: questions to all, and turns for those whom they help.

Every one of them is taken to have made one slip, independently of the others. A question is a claim for a show of hands
and splits a group of them into those who see it and those who do not; it is put so that nobody else's hand goes up
unforeseen. A repair is for whoever sees what it is for, while the others rest, so it does no harm to anybody else. It
is done once it serves nearly all that may have happened to a group, or when there is nothing more to ask. Whoever is
still not there when nothing is worth the others' time any more works with their own coach.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.classroom.counts import Misfit
from coach.belief.classroom.mishaps import Aftermath, Repair
from coach.belief.classroom.sights import Sight, Sights, Stickers, Truth
from coach.cube import Turn

QUESTIONS: Final = 6
MORE_QUESTIONS: Final = 2
"""So many questions may be asked about one pupil, and so many more for each other one."""
QUESTIONS_ALIKE: Final = 8
MORE_QUESTIONS_ALIKE: Final = 4
"""The same where all cubes are alike: what happened can be found out for certain then."""
TURNS: Final = 12
TURNS_ALIKE: Final = 16
"""So many turns may a repair have, and so many where all cubes are alike: by taking back what came after a slip."""
ALL_TURNS: Final = 24
MORE_TURNS: Final = 12
"""So many turns may all repairs have that are done for one pupil, and so many more for each other one, before the rest
have waited too long."""
_SURE: Final = 0.8
"""A repair is done at once if it serves so much of what may have happened."""
_WORTH: Final = 0.15
"""When there is nothing more to ask, it is done for so many pupils, as far as can be expected."""
_LEAST: Final = 0.15
"""A question is worth asking if it tells so many bits."""
_HARDER: Final = 0.9
"""What a question about two stickers is worth, as a share of one about one."""
_NEVER: Final = 1e-9
_UNLIKELY: Final = 5e-3
"""What is less likely is left out where repairs are weighed up."""
_TRIED: Final = 6
"""The number of mishaps, the likeliest ones, whose repairs are tried on a group."""
_NARROW: Final = 15
"""Before a repair is looked for, so many mishaps must be likelier together than all others, as `_SURE` says."""
_SIGHTS: Final = 3
"""A repair may be for whoever sees one of so many claims."""
_LONGER: Final = 2
"""So many stickers that match a side may be added to a claim."""
_RIGHT, _LOST = -2, -1
"""After the chances of all mishaps come those of being put right, and of having done a repair that was not meant."""
Weights: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Ask:
    """All of the class turn the whole cube until they see it, if they can: how many do?"""

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
    """`number` pupils who gave the same answers, and for each of them the chance [mishaps + 2] of each mishap, of being
    put right and of being lost."""

    number: int
    chances: Weights

    @property
    def open(self) -> float:
        """The chance that a pupil still has a mishap that can be told."""
        return float(self.chances[:_RIGHT].sum())

    @property
    def narrow(self) -> bool:
        """Whether so few mishaps are likely that it pays to look for a repair that serves most of them."""
        chances = np.sort(self.chances[:_RIGHT])[::-1]
        return bool(chances[:_NARROW].sum() >= _SURE * chances.sum())


@dataclass(frozen=True, eq=False)
class _Plan:
    """What to do next about the group of that number: whose hands go up [mishaps + 2]; or whom it puts right, and who
    does it in vain [mishaps]."""

    action: Ask | Mend
    group: int
    true: Truth
    vain: Truth
    share: float = 0.0


@dataclass(frozen=True, eq=False)
class Trouble:
    """What is known of the pupils to whom something has happened. So many `questions` may still be asked, and all
    repairs together may have so many `turns`."""

    aftermath: Aftermath
    sights: Sights
    size: int
    groups: tuple[_Group, ...]
    questions: int
    turns: int
    longest: int
    """So many turns may one repair have."""

    @classmethod
    def of(
        cls, aftermath: Aftermath, size: int, missing: int, free: bool = True,
        questions: int | None = None, turns: int | None = None,
    ) -> Trouble:  # fmt: skip
        """A class of `size` with `missing` not there. `free`: nobody knows which side of a cube is in front.
        `questions` and `turns` are how much of the others' time may be spent."""
        weights = np.array([*(mishap.weight for mishap in aftermath.mishaps), 0.0, 0.0])
        group = _Group(missing, weights / weights.sum())
        first, more = (QUESTIONS, MORE_QUESTIONS) if free else (QUESTIONS_ALIKE, MORE_QUESTIONS_ALIKE)
        questions = first + more * (missing - 1) if questions is None else questions
        turns = ALL_TURNS + MORE_TURNS * (missing - 1) if turns is None else turns
        return cls(aftermath, Sights(aftermath, free), size, (group,) if missing else (), questions, turns,
                   TURNS if free else TURNS_ALIKE)  # fmt: skip

    @property
    def next(self) -> Ask | Mend | None:
        """What to do next; None if nothing is left that would be worth the others' time."""
        return self._plan.action if self._plan else None

    @cached_property
    def _plan(self) -> _Plan | None:
        mends = [plan for number, group in enumerate(self.groups) if group.narrow and (plan := self._mend(number))]
        sure = [plan for plan in mends if plan.share >= _SURE * self.groups[plan.group].open]
        if plan := max(sure, key=self._served, default=None) or self._question():
            return plan
        mends = [plan for number in range(len(self.groups)) if (plan := self._mend(number))]
        best = max(mends, key=self._served, default=None)
        return best if best and self._served(best) >= _WORTH else None

    def _served(self, plan: _Plan) -> float:
        """The number of pupils whom a repair can be expected to put right."""
        return self.groups[plan.group].number * plan.share

    def _question(self) -> _Plan | None:
        """The claim that tells most about a group, if nobody's hand of the others is in doubt."""
        if not self.groups or self.questions < 1:
            return None
        true = self._true
        shares = np.stack([true @ group.chances for group in self.groups])
        bits = np.array([group.number for group in self.groups])[:, None] * _entropy(shares)
        others = bits.sum(axis=0) - bits
        ease = np.array([_HARDER if len(claim) == 2 else 1.0 for claim in self.sights.claims])
        worth = np.where(others > _NEVER, 0.0, bits * ease)
        number, claim = (int(index) for index in np.unravel_index(worth.argmax(), worth.shape))
        if worth[number, claim] < _LEAST:
            return None
        return _Plan(Ask(self.sights.sight(self.sights.claims[claim])), number, true[claim], _NOBODY)

    @property
    def _true(self) -> Truth:
        """[claims, mishaps + 2] whose hands go up; not of who is lost."""
        return np.pad(self.sights.true, ((0, 0), (0, 1)))

    def _mend(self, number: int) -> _Plan | None:
        """The repair that does most for a group."""
        chances = self.groups[number].chances[:_RIGHT]
        likely = np.flatnonzero(chances > _UNLIKELY)
        found: dict[Repair, _Plan] = {}
        for mishap in chances.argsort(kind="stable")[::-1][:_TRIED].tolist():
            longest = min(self.longest, self.turns)
            repair = self.aftermath.repair(mishap, longest) if chances[mishap] > _UNLIKELY else None
            if repair and repair not in found:
                served = np.zeros(len(chances), np.bool_)
                served[[each for each in likely.tolist() if self.aftermath.served(each, repair)]] = True
                found[repair] = self._for_whom(number, repair, served)
        return max(found.values(), key=lambda plan: plan.share, default=None)

    def _for_whom(self, number: int, repair: Repair, served: Truth) -> _Plan:
        """The repair for as many of those whom it serves as can be told by a few claims, in the right hold."""
        chances = self.groups[number].chances[:_RIGHT]
        elsewhere = [group.chances[:_RIGHT] for group in self.groups if group is not self.groups[number]]
        others = np.sum([np.zeros(len(chances)), *elsewhere], axis=0)
        open_, tried = chances.copy(), np.where(served, chances, 0.0)
        right, seen = np.zeros(len(chances), np.bool_), np.zeros(len(chances), np.bool_)
        chosen: list[Stickers] = []
        while len(chosen) < _SIGHTS and tried.max() > _UNLIKELY:
            first = int(tried.argmax())
            tried[first] = 0.0
            claim = self._claim(first, served, open_, others)
            mine, all_seen = self._takes_part(claim, served)
            known = (others > _NEVER) | right
            harmless = self.sights.of_nobody_well(claim) and not known[all_seen].any()
            if harmless and open_[mine].sum() > open_[all_seen & ~mine].sum():
                chosen.append(claim)
                right, seen = right | (mine & ~seen), seen | all_seen
                open_[all_seen], tried[all_seen] = 0.0, 0.0
        mend = Mend(tuple(map(self.sights.sight, chosen)), repair.turns, repair.again)
        return _Plan(mend, number, right, seen & ~right, float(chances[right].sum()))

    def _claim(self, mishap: int, served: Truth, chances: Weights, others: Weights) -> Stickers:
        """The claim for a repair that is true of a mishap and lets most of those take part whom it serves, and fewest
        of the others."""

        def gain(claim: Stickers) -> float:
            right, seen = self._takes_part(claim, served)
            well = 0.0 if self.sights.of_nobody_well(claim) else float(self.size)
            return float(chances[right].sum() - chances[seen & ~right].sum() - others[seen].sum()) - well

        best = max(self.sights.telling(mishap), key=gain, default=())
        for _ in range(_LONGER):
            best = max((best, *self.sights.longer(mishap, best)), key=gain)
        return best

    def _takes_part(self, claim: Stickers, served: Truth) -> tuple[Truth, Truth]:
        """[mishaps] who does a repair for that claim in the right hold, of those whom it serves, and who may do it."""
        maybe = self.sights.possibly(claim)[:, :-1]
        right = served & self.sights.surely(claim)[0, :-1] & ~maybe[1:].any(axis=0)
        return right, np.asarray(maybe.any(axis=0))

    def misfit(self, number: int) -> Misfit | None:
        """Why so many hands cannot have gone up for the question that is `next`; None if it may be."""
        least, most = self._hands
        return None if least <= number <= most else Misfit(number, self.size, least, most)

    @property
    def _hands(self) -> tuple[int, int]:
        """The fewest and the most hands for the next question."""
        assert self._plan
        plan, well = self._plan, self.size - sum(group.number for group in self.groups)
        sure = sum(group.number for group in self.groups if group.chances @ plan.true > 1 - _NEVER)
        least = sure + well * int(plan.true[_RIGHT])
        return least, least + self.groups[plan.group].number

    def told(self, number: int) -> Trouble:
        """What is known once `number` hands have gone up for the question that is `next`. Raises ValueError where
        `misfit` says that this cannot be."""
        if misfit := self.misfit(number):
            raise ValueError(f"so many hands cannot have gone up: {misfit}")
        assert self._plan
        true, about = self._plan.true, self._plan.group
        group, up = self.groups[about], number - self._hands[0]
        parts = ((up, group.chances * true), (group.number - up, group.chances * ~true))
        split = tuple(_Group(size, chances / chances.sum()) for size, chances in parts if size)
        return replace(self, groups=self._with(about, split), questions=self.questions - 1)

    def mended(self) -> Trouble:
        """What is known once the repair that is `next` has been done."""
        assert self._plan and isinstance(self._plan.action, Mend)
        plan, mend = self._plan, self._plan.action
        group = self.groups[plan.group]
        chances = group.chances.copy()
        for who, now in ((plan.true, _RIGHT), (plan.vain, _LOST)):
            chances[now] += chances[:_RIGHT][who].sum()
            chances[:_RIGHT][who] = 0.0
        after = self._with(plan.group, (_Group(group.number, chances),))
        return replace(self, groups=after, turns=self.turns - len(mend.turns))

    def _with(self, number: int, groups: tuple[_Group, ...]) -> tuple[_Group, ...]:
        """The groups with others in the place of one; not those of whom nothing more can be found out."""
        kept = (*self.groups[:number], *groups, *self.groups[number + 1 :])
        return tuple(group for group in kept if group.open > _UNLIKELY)


_NOBODY: Final = np.zeros(0, np.bool_)


def _entropy(shares: Weights) -> Weights:
    """[...] the bits that an answer tells which is yes with these chances."""
    inside = shares.clip(_NEVER, 1 - _NEVER)
    bits = -inside * np.log2(inside) - (1 - inside) * np.log2(1 - inside)
    return np.asarray(np.where((shares > _NEVER) & (shares < 1 - _NEVER), bits, 0.0))
