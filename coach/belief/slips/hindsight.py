"""Which runs on a trail went wrong, by what was said afterwards, or the whole cube as it was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
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
    """The chance that something went wrong in each run, by its number: those from `first` to `last`. Where it is taken
    for certain that the slips found so far were made, other than by what was said, they are `believed`."""

    wrong: Mapping[int, float]
    first: int
    last: int
    failed: Mapping[int, float] = field(default_factory=dict)
    """The chance that more went wrong in a run than a turn of the top besides, which may be no failure."""
    misheld: float = 0.0
    """The chance that the cube was held otherwise than thought meanwhile."""
    believed: bool = False

    def tells_of(self, run: int) -> bool:
        """Whether that run was looked back at."""
        return self.first <= run <= self.last

    def before(self, run: int) -> float:
        """The chance that something went wrong before that run, at most."""
        return sum(chance for number, chance in self.wrong.items() if number < run)

    @classmethod
    def of(cls, suspicion: Suspicion, believed: bool = False) -> Hindsight:
        """What is suspected, by runs."""
        trail = suspicion.trail
        first, failed = trail.begun - len(trail.runs) + 1, suspicion.by_run(besides=False)
        return cls(suspicion.by_run(), first, trail.begun, failed, suspicion.misheld, believed)


def rethink(trail: Trail) -> Hindsight | None:
    """What everything said tells of the runs on the trail as it was before a slip was found; None if that does not
    explain it, or if there is none."""
    suspicion = Suspicion.of(_last(trail.doubted)) if trail.doubted else None
    return Hindsight.of(suspicion) if suspicion and suspicion.explained else None


def look_back(trail: Trail, pattern: str) -> Hindsight | None:
    """What the cube, read whole after the trail in any hold, tells of the runs on it; None if nothing explains it. It
    may be that a slip found earlier was none, or that a row was misread."""
    seen = _in_hold(pattern, turned(trail.origins[0], trail.turns)[4::9])
    for told in (trail.doubted, trail):
        for each in (told, _without_rows(told)) if told else ():
            suspicion = Suspicion.of(_last(each).hearing(seen))
            if seen.chance(suspicion.shown(seen.places)[suspicion.share.argmax()]) == 1.0:
                return Hindsight.of(suspicion, believed=told is trail and trail.doubted is not None)
    return None


def _last(trail: Trail) -> Trail:
    return trail.recent(_LONGEST) if len(trail.turns) > _LONGEST else trail


def _without_rows(trail: Trail) -> Trail:
    """The trail without what was read."""
    for number in reversed(range(len(trail.events))):
        if isinstance(trail.events[number], Stickers):
            trail = trail.without(number)
    return trail


def _in_hold(pattern: str, centres: str) -> Stickers:
    """All stickers of the pattern, seen in the hold with these middles: how it was held does not matter."""
    held = next(after for way in ROTATIONS_TO.values() if (after := turned(pattern, way))[4::9] == centres)
    return Stickers(tuple(enumerate(held)))
