"""Which runs on a trail went wrong, by the whole cube as it was read afterwards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from coach.belief.evidence import Stickers
from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.cube import turned
from coach.cube.search import ROTATIONS_TO

_LONGEST: Final = 80
"""Look back at no more calls than this: the last ones."""


@dataclass(frozen=True)
class Hindsight:
    """The chance that something went wrong in each run, by its number: those from `first` to `last`."""

    wrong: Mapping[int, float]
    first: int
    last: int

    def sound_before(self, run: int, doubt: float) -> bool:
        """Whether everything before that run was done as called, but for the chance `doubt`."""
        before = sum(chance for number, chance in self.wrong.items() if number < run)
        return self.first <= run <= self.last and before <= doubt


def look_back(trail: Trail, pattern: str) -> Hindsight | None:
    """What the cube, read whole after the trail in any hold, tells of the runs on it; None if nothing explains it. It
    may be that a slip found earlier was none, or that a row was misread."""
    seen = _in_hold(pattern, turned(trail.origins[0], trail.turns)[4::9])
    for told in _as_told(trail):
        told = told.recent(_LONGEST) if len(told.turns) > _LONGEST else told
        suspicion = Suspicion.of(told.hearing(seen))
        best = suspicion.share.argmax()
        if seen.chance(suspicion.shown(seen.places)[best]) == 1.0:
            return Hindsight(suspicion.by_run(), told.begun - len(told.runs) + 1, told.begun)
    return None


def _in_hold(pattern: str, centres: str) -> Stickers:
    """All stickers of the pattern, seen in the hold with these middles: how it was held does not matter."""
    held = next(after for way in ROTATIONS_TO.values() if (after := turned(pattern, way))[4::9] == centres)
    return Stickers(tuple(enumerate(held)))


def _as_told(trail: Trail) -> Iterator[Trail]:
    """The trail as it is believed to be, as it was before a slip was found on it, and each without the rows read."""
    for each in (trail, trail.doubted):
        if each:
            yield each
            for number in reversed(range(len(each.events))):
                if isinstance(each.events[number], Stickers):
                    each = each.without(number)
            yield replace(each, doubted=None)
