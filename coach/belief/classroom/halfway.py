"""Where to stop in the midst of a long run to find out by hands who has gone wrong, while little can have happened."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, chain, combinations
from typing import Final

from coach.belief.classroom.mishaps import Aftermath
from coach.belief.classroom.sights import Sight, Sights
from coach.cube import Turn

_FEWEST: Final = 6
"""A shorter run is not worth it."""
_TELLING: Final = 0.9
"""The check must show so much of what one slip can have done by then."""
_MOST: Final = 3
"""A claim has so many stickers at most: more cannot be followed by ear."""
_ONE_LESS: Final = 0.02
"""A sticker is left out where it shows no more than this."""


@dataclass(frozen=True)
class Halfway:
    """After the first `turns` everybody to whom nothing happened has what `sight` says, in the hold of the run only;
    who rests, with whole lower layers, has not."""

    turns: tuple[Turn, ...]
    sight: Sight

    @property
    def aftermath(self) -> Aftermath:
        """What may have happened to the others."""
        return Aftermath.of_part(self.turns)


@lru_cache(maxsize=50)
def halfway(groups: tuple[tuple[Turn, ...], ...]) -> Halfway | None:
    """The best stop in a run, between two of its groups if possible; None where it is short, or no few stickers tell
    enough."""
    turns = tuple(chain.from_iterable(groups))
    if len(turns) < _FEWEST:
        return None
    between = {*accumulate(map(len, groups))}
    places = sorted(range(2, len(turns) - 1), key=lambda at: (at not in between, max(at, len(turns) - at)))
    for at in places:
        if sight := _sight(Sights(Aftermath.of_part(turns[:at]), free=True)):
            return Halfway(turns[:at], sight)
    return None


def _sight(sights: Sights) -> Sight | None:
    """The few stickers that tell most, if they tell enough."""
    seen = sights.of_well
    claims = [claim for size in range(1, _MOST + 1) for claim in combinations(seen, size)]
    claims = [claim for claim in claims if sights.only_in_hold(claim)]
    found = [sights.share_shown(claim) for claim in claims]
    best = max(range(len(claims)), key=lambda n: found[n] - _ONE_LESS * len(claims[n]), default=None)
    return None if best is None or found[best] < _TELLING else sights.sight(claims[best])
