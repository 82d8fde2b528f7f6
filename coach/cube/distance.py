"""How many turns a few pieces are from home: exact tables by breadth-first search.

A piece has 24 placements, identified by where its first sticker is (first in the letters of its home
position): one of the 24 sticker places of edges, or of corners.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.cube.geometry import CORNERS, EDGES, POSITIONS
from coach.cube.state import Cube
from coach.cube.turns import FACE_TURNS, Turn

CROSS: Final = ("DF", "DL", "DB", "DR")
"""The edges of the bottom cross."""
UNREACHED: Final = 255


def places(cube: Cube, pieces: Iterable[str]) -> tuple[int, ...]:
    """The place (0..53) where the first sticker of each of `pieces` (by home position) is now."""
    now = cube.inverse.stickers
    return tuple(now[POSITIONS[piece][0]] for piece in pieces)


def _numbering() -> NDArray[np.intp]:
    """Each place's number among the places of its kind of piece, 0..23 (0 at the centres)."""
    number = np.zeros(54, np.intp)
    for kind in (EDGES, CORNERS):
        for i, place in enumerate(sorted(place for spots in kind.values() for place in spots)):
            number[place] = i
    return number


_NUMBER: Final = _numbering()


@cache
def _moves(piece_size: int, turn: Turn) -> NDArray[np.intp]:
    """Where `turn` takes each of the 24 placements of an edge (2) or a corner (3)."""
    moves = np.zeros(24, np.intp)
    for spots in (EDGES if piece_size == 2 else CORNERS).values():
        for place in spots:
            moves[_NUMBER[place]] = _NUMBER[turn.permutation.index(place)]
    return moves


@dataclass(frozen=True, eq=False)
class DistanceTable:
    """The fewest `turns` that bring `pieces` home from each of their placements (centres at home).

    `distances` has one axis of 24 entries for each piece; it is UNREACHED where two pieces would collide.
    """

    pieces: tuple[str, ...]
    turns: tuple[Turn, ...]
    distances: NDArray[np.uint8]

    def distance(self, where: Iterable[int]) -> int:
        """The fewest turns from placement `where`, as `places` gives it."""
        return self._at([int(_NUMBER[place]) for place in where])

    def _at(self, numbers: list[int]) -> int:
        distance = int(self.distances[tuple(numbers)])
        if distance == UNREACHED:
            raise ValueError("from there no turns lead home: two pieces in one position?")
        return distance

    def solve(self, where: Iterable[int]) -> tuple[Turn, ...]:
        """One shortest solution from placement `where`."""
        numbers = [int(_NUMBER[place]) for place in where]
        solution = []
        while left := self._at(numbers):
            for turn in self.turns:
                after = self._after(numbers, turn)
                if self._at(after) < left:
                    numbers = after
                    solution.append(turn)
                    break
        return tuple(solution)

    def _after(self, numbers: list[int], turn: Turn) -> list[int]:
        return [
            int(_moves(len(piece), turn)[number]) for piece, number in zip(self.pieces, numbers, strict=True)
        ]

    def counts(self) -> tuple[int, ...]:
        """How many placements are 0, 1, 2 ... turns from home."""
        return tuple(np.bincount(self.distances[self.distances != UNREACHED]).tolist())


@cache
def distance_table(pieces: tuple[str, ...] = CROSS, turns: tuple[Turn, ...] = FACE_TURNS) -> DistanceTable:
    """The table for up to five `pieces`; built once (0.2 s for four), then cached.

    `turns` must contain the inverse of each of its turns.
    """
    if not 1 <= len(pieces) <= 5:
        raise ValueError(f"a distance table is for 1 to 5 pieces, not {len(pieces)}")
    shape = (24,) * len(pieces)
    flat = np.full(24 ** len(pieces), UNREACHED, np.uint8)
    frontier = np.ravel_multi_index([np.array([_NUMBER[POSITIONS[piece][0]]]) for piece in pieces], shape)
    distance = 0
    flat[frontier] = distance
    while frontier.size:
        distance += 1
        numbers = np.unravel_index(frontier, shape)
        for turn in turns:
            moved = [_moves(len(piece), turn)[at] for piece, at in zip(pieces, numbers, strict=True)]
            reached = np.ravel_multi_index(moved, shape)
            flat[reached[flat[reached] == UNREACHED]] = distance
        frontier = np.flatnonzero(flat == distance)
    flat.flags.writeable = False
    return DistanceTable(pieces, turns, flat.reshape(shape))
