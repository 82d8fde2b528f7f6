"""Pieces of the two lower layers brought home again, a few at a time by the shortest way."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Final

from coach.belief.reading import Reading
from coach.belief.whereabouts import home, whereabouts
from coach.cube import Turn
from coach.cube.search import AT_HAND, EFFORT, Cost, cheapest_moves, effort

_CROSS: Final = ("DF", "DR", "DB", "DL")
_PAIRS: Final = (("DFR", "FR"), ("DBR", "BR"), ("DBL", "BL"), ("DFL", "FL"))
_SEARCHES: Final = ((EFFORT, 7), (EFFORT, 8), (AT_HAND, 10))
"""Seven turns are mostly enough and found several times as fast; the last search always finds a way."""


def away(reading: Reading, pieces: Collection[str]) -> list[tuple[str, ...]]:
    """What has to be done to bring `pieces` (by the colours of their homes) home: those of the bottom cross at
    once, of the others each corner with its edge; only groups of which something is not at home."""
    groups = (tuple(piece for piece in group if piece in pieces) for group in (_CROSS, *_PAIRS))
    return [group for group in groups if any(whereabouts(reading, p) != home(reading, p) for p in group)]


def next_leg(reading: Reading, pieces: Collection[str]) -> tuple[Turn, ...] | None:
    """The turns for the first group that is away: the cross, then whatever takes the least effort; nothing that is
    at home is left elsewhere. None where all are at home, or where it is not known how the pieces lie."""
    groups = away(reading, pieces)
    if any(whereabouts(reading, piece) is None for piece in pieces) or not groups:
        return None
    if set(groups[0]) <= set(_CROSS):
        groups = groups[:1]
    missing = {piece for group in away(reading, pieces) for piece in group}
    kept = [piece for piece in pieces if piece not in missing]
    for cost, most in _SEARCHES:
        ways = [_way(reading, (*kept, *group), cost, most) for group in groups]
        found = [way for way in ways if way is not None]
        if found:
            return min(found, key=effort)
    return None


def _way(reading: Reading, pieces: Sequence[str], cost: Cost, most: int) -> tuple[Turn, ...] | None:
    ordered = sorted(pieces)
    start = [placement[0] for piece in ordered if (placement := whereabouts(reading, piece))]
    return cheapest_moves(tuple(start), tuple(home(reading, piece)[0] for piece in ordered), cost, most)
