"""Where to stop in the midst of a long run to find out by hands who has gone wrong, while little can have happened."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, chain, combinations, pairwise
from typing import Final

from coach.belief.classroom.mishaps import Aftermath
from coach.belief.classroom.sights import FEW, Sight, Sights
from coach.cube import Turn

_PART: Final = 5
"""A run has a stop for so many turns."""
_SHORTEST: Final = 2
"""A part of a run has so many turns."""
_TELLING: Final = 0.9
"""The check must show so much of what one slip can have done by then."""
_ONE_LESS: Final = 0.02
"""A sticker is left out where it shows no more than this."""


@dataclass(frozen=True)
class Halfway:
    """After `begun`, where it was found out who had gone wrong, and `turns`, everybody to whom nothing happened has
    what `sight` says, in the hold of the run only; who rests, with whole lower layers, has not."""

    begun: tuple[Turn, ...]
    turns: tuple[Turn, ...]
    sight: Sight

    @property
    def done(self) -> int:
        """How many turns of the run are done."""
        return len(self.begun) + len(self.turns)

    @property
    def aftermath(self) -> Aftermath:
        """What may have happened to the others."""
        return Aftermath.of_part(self.turns, self.begun)


@lru_cache(maxsize=50)
def stops(groups: tuple[tuple[Turn, ...], ...], most: int) -> tuple[Halfway, ...]:
    """The best stops in a run, at most so many, between two of its groups if possible; fewer, or none, where it is
    short or no few stickers tell enough."""
    turns = tuple(chain.from_iterable(groups))
    between = {*accumulate(map(len, groups))}
    sights = {at: sight for at in range(_SHORTEST, len(turns) - 1)
              if (sight := _sight(Sights(Aftermath.of_part(turns[:at]), free=True)))}  # fmt: skip
    number = min(most, len(turns) // _PART, len(sights))

    def longest(places: tuple[int, ...]) -> tuple[int, int]:
        parts = [then - at for at, then in pairwise((0, *places, len(turns)))]
        return max(parts), -len(between.intersection(places))

    places = min(combinations(sights, number), key=longest)
    return tuple(Halfway(turns[:at], turns[at:then], sights[then]) for at, then in pairwise((0, *places)))


def _sight(sights: Sights) -> Sight | None:
    """The few stickers that tell most, if they tell enough."""
    seen = sights.of_well
    claims = [claim for size in range(1, FEW + 1) for claim in combinations(seen, size)]
    claims = [claim for claim in claims if sights.only_in_hold(claim)]
    found = [sights.share_shown(claim) for claim in claims]
    best = max(range(len(claims)), key=lambda n: found[n] - _ONE_LESS * len(claims[n]), default=None)
    return None if best is None or found[best] < _TELLING else sights.sight(claims[best])
