"""Pieces of the two lower layers brought home again, a few at a time by the shortest way."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from coach.belief.reading.stickers import KnownStickers
from coach.belief.whereabouts import home, whereabouts
from coach.cube import Turn
from coach.cube.search import AT_HAND, EFFORT, cheapest_moves, effort

_CROSS: Final = ("DF", "DR", "DB", "DL")
_PAIRS: Final = (("DFR", "FR"), ("DBR", "BR"), ("DBL", "BL"), ("DFL", "FL"))
_SEARCHES: Final = ((EFFORT, 7), (EFFORT, 8), (AT_HAND, 10))
"""Seven turns are usually enough and found several times as fast; the last search always finds a way."""


def away(reading: KnownStickers, pieces: Collection[str]) -> list[tuple[str, ...]]:
    """The groups in which to bring `pieces` (by the colours of their homes) home: the bottom cross all at once, then
    each corner with its edge. Groups that are entirely at home are left out."""
    groups = (tuple(piece for piece in group if piece in pieces) for group in (_CROSS, *_PAIRS))
    return [group for group in groups if not all(at_home(reading, piece) for piece in group)]


def at_home(reading: KnownStickers, piece: str) -> bool:
    """Whether the piece is known to be at home."""
    return all(reading.pattern[place] == face for place, face in zip(home(reading, piece), piece, strict=True))


def next_leg(reading: KnownStickers, pieces: Collection[str]) -> tuple[Turn, ...] | None:
    """The turns for the next group that is away: the cross first, then whatever takes the least effort. They keep at
    home what is there. None if all are at home, or if it is not known how the pieces lie."""
    groups = away(reading, pieces)
    missing = {piece for group in groups for piece in group}
    lying = {piece: whereabouts(reading, piece) for piece in missing}
    start = {piece: placement[0] for piece, placement in lying.items() if placement}
    if not groups or len(start) < len(missing):
        return None
    goal = {piece: home(reading, piece)[0] for piece in pieces}
    kept = [piece for piece in pieces if piece not in missing]
    start |= {piece: goal[piece] for piece in kept}
    if set(groups[0]) <= set(_CROSS):
        groups = groups[:1]
    for cost, most in _SEARCHES:
        orders = [sorted((*kept, *group)) for group in groups]
        ways = [cheapest_moves(tuple(start[p] for p in o), tuple(goal[p] for p in o), cost, most) for o in orders]
        found = [way for way in ways if way is not None]
        if found:
            return min(found, key=effort)
    return None

