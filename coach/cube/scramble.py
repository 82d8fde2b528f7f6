"""Scrambles: any state that turning can reach, each equally likely, and the turns that lead there from a solved cube.

This is what the WCA Regulations ask of a scramble (4b3). At a competition only the WCA's own program will do (4f).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from random import Random
from typing import Final

from coach.cube.geometry import CORNERS, EDGES, clockwise_stickers
from coach.cube.state import Cube
from coach.cube.turns import Turn, inverse
from coach.cube.two_stages import way_home

_FEWEST: Final = 2
"""A state that is nearer to the solved cube is no scramble (WCA Regulations, 4b3)."""


def scramble(random: Random) -> tuple[Turn, ...]:
    """Turns that scramble the solved cube: 23 in the mean, none of the back. It takes about a second, and three more
    the first time."""
    while True:
        turns = inverse(way_home(random_state(random)))
        if len(turns) >= _FEWEST:
            return turns


def random_state(random: Random) -> Cube:
    """An upright cube drawn by `random`: one of the 43,252,003,274,489,856,000 that turning can reach, each equally
    likely."""
    corners, edges = _shuffled(random, CORNERS), _shuffled(random, EDGES)
    if _odd(corners) != _odd(edges):
        edges[:2] = edges[1::-1]
    stickers = bytearray(Cube().stickers)
    for position, corner, twist in zip(CORNERS, corners, _lying(random, len(corners), 3), strict=True):
        _put(stickers, clockwise_stickers(position), clockwise_stickers(list(CORNERS)[corner]), twist)
    for position, edge, flip in zip(EDGES, edges, _lying(random, len(edges), 2), strict=True):
        _put(stickers, EDGES[position], EDGES[list(EDGES)[edge]], flip)
    return Cube(bytes(stickers))


def _shuffled(random: Random, positions: Mapping[str, object]) -> list[int]:
    return random.sample(range(len(positions)), len(positions))


def _odd(order: Sequence[int]) -> bool:
    return sum(one > other for one, other in combinations(order, 2)) % 2 == 1


def _lying(random: Random, pieces: int, ways: int) -> list[int]:
    """How each of the pieces lies, one of `ways`; the last one follows from the others."""
    drawn = [random.randrange(ways) for _ in range(pieces - 1)]
    return [*drawn, -sum(drawn) % ways]


def _put(stickers: bytearray, places: Sequence[int], homes: Sequence[int], turned: int) -> None:
    """Put a piece, given by the home places of its stickers, at `places`, turned on so many places."""
    for at, home in enumerate(homes):
        stickers[places[(at + turned) % len(places)]] = home
