"""Short ways home for a whole cube, without turning the back: each of its turns can be made up of others.

There are two stages. The first untwists the corners, unflips the edges and brings the middle edges into the middle
layer; the second does the rest with turns that leave all of this as it is. A stage has three coordinates, and a table
for two of them together tells how far they are from home: where that is too far, the search goes no further.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations, islice, permutations, product
from typing import Final, TypeAlias

import numpy as np

from coach.cube.geometry import CORNERS, EDGES, opposite
from coach.cube.state import Cube
from coach.cube.turns import FACE_TURNS, Turn

_TURNS: Final = tuple(turn for turn in FACE_TURNS if turn.face != "B")
_KEEPING: Final = tuple(turn for turn in _TURNS if turn.face in "UD" or turn.quarters == 2)
"""The turns of the second stage."""
_MIDDLE: Final = tuple(edge for edge in EDGES if not set(edge) & set("UD"))
_OUTER: Final = tuple(edge for edge in EDGES if edge not in _MIDDLE)
_TRIED: Final = 15
"""Try this many ways through the first stage, the shortest ones, and keep the shortest way home."""
_SHORT: Final = 24
"""Look for nothing shorter than a way of so many turns."""
_LONGEST: Final = 30
"""Longer than any stage."""
_State: TypeAlias = tuple[int, int, int]


def way_home(cube: Cube) -> tuple[Turn, ...]:
    """Turns that solve the upright `cube`, nearly as few as can be."""
    first, second = _stages()
    begun = [(turns, second.of(cube.do(turns))) for turns in islice(first.ways(first.of(cube)), _TRIED)]
    best: tuple[Turn, ...] | None = None
    for turns, state in sorted(begun, key=lambda each: len(each[0]) + second.least(each[1])):
        most = len(best) - len(turns) - 1 if best is not None else _LONGEST
        rest = next(second.ways(state, turns[-1].face if turns else "", most), None)
        best = best if rest is None else (*turns, *rest)
        if best is not None and len(best) <= _SHORT:
            break
    assert best is not None, "the second stage has a way home from each of its states"
    return best


class _Coordinate:
    """What `read` tells of the piece at each of `positions`, as one number. `values` are all that it may be. With
    `modulus` it is how the piece lies, and a turn adds to it."""

    def __init__(
        self,
        positions: Sequence[str],
        values: Iterable[Sequence[int]],
        read: Callable[[Cube, str], int],
        modulus: int = 0,
    ) -> None:
        self._positions, self._read, self._modulus = positions, read, modulus
        self._values = np.array(list(values), np.uint8)
        self._numbers = {value.tobytes(): number for number, value in enumerate(self._values)}

    def __len__(self) -> int:
        return len(self._values)

    def of(self, cube: Cube) -> int:
        """The number for that cube."""
        return self._numbers[bytes(self._read(cube, position) for position in self._positions)]

    def after(self, turn: Turn) -> array[int]:
        """For each number, the one after the turn."""
        turned = Cube().turn(turn)
        come_from = [self._positions.index(turned.piece_at(position)) for position in self._positions]
        values = self._values[:, come_from]
        if self._modulus:
            added = np.array([self._read(turned, position) for position in self._positions], np.uint8)
            values = (values + added) % self._modulus
        return array("H", (self._numbers[value.tobytes()] for value in values))


class _Stage:
    """The search through one stage, with three coordinates."""

    def __init__(self, turns: tuple[Turn, ...], coordinates: tuple[_Coordinate, _Coordinate, _Coordinate]) -> None:
        self._turns, self._coordinates = turns, coordinates
        one, other, shared = coordinates
        self._after = [tuple(coordinate.after(turn) for coordinate in coordinates) for turn in turns]
        self._shared = len(shared)
        home = self.of(Cube())
        self._far = [self._table(at, len(each), home) for at, each in enumerate((one, other))]

    def of(self, cube: Cube) -> _State:
        """The three numbers for that cube."""
        one, other, shared = (coordinate.of(cube) for coordinate in self._coordinates)
        return one, other, shared

    def least(self, state: _State) -> int:
        """No fewer turns lead home from there; 0 only at home."""
        one, other, shared = state
        return max(self._far[0][one * self._shared + shared], self._far[1][other * self._shared + shared])

    def ways(self, start: _State, before: str = "", most: int = _LONGEST) -> Iterator[tuple[Turn, ...]]:
        """Ways home of up to `most` turns, shortest first; the face `before` has been turned last."""
        for length in range(self.least(start), most + 1):
            yield from self._ways(start, before, length)

    def _ways(self, state: _State, before: str, length: int) -> Iterator[tuple[Turn, ...]]:
        if not length:
            yield ()
            return
        one, other, shared = state
        for turn, after in zip(self._turns, self._after, strict=True):
            if _wasted(before, turn.face):
                continue
            reached = after[0][one], after[1][other], after[2][shared]
            if self.least(reached) < length:
                yield from ((turn, *rest) for rest in self._ways(reached, turn.face, length - 1))

    def _table(self, at: int, size: int, home: _State) -> bytes:
        """The fewest turns home of coordinate `at` and the shared one together."""
        after = [(np.array(each[at]), np.array(each[2])) for each in self._after]
        far = np.full(size * self._shared, _LONGEST, np.uint8)
        reached = np.array([home[at] * self._shared + home[2]])
        far[reached] = length = 0
        while reached.size:
            length += 1
            value, shared = np.divmod(reached, self._shared)
            for one, other in after:
                there = one[value].astype(np.int64) * self._shared + other[shared]
                far[there[far[there] == _LONGEST]] = length
            reached = np.flatnonzero(far == length)
        return far.tobytes()


def _wasted(before: str, face: str) -> bool:
    """Whether a turn of `face` is one with the turn of `before`, or could as well come before it."""
    return bool(before) and (face == before or (face == opposite(before) and face < before))


@cache
def _stages() -> tuple[_Stage, _Stage]:
    """Both stages with their tables, which takes about a second."""
    twists = ((*some, -sum(some) % 3) for some in product(range(3), repeat=7))
    flips = ((*some, sum(some) % 2) for some in product(range(2), repeat=11))
    middles = ([at in some for at in range(12)] for some in combinations(range(12), 4))
    lying = (
        _Coordinate(tuple(CORNERS), twists, Cube.twist_at, 3), _Coordinate(tuple(EDGES), flips, Cube.flip_at, 2),
        _Coordinate(tuple(EDGES), middles, lambda cube, position: cube.piece_at(position) in _MIDDLE),
    )  # fmt: skip
    return _Stage(_TURNS, lying), _Stage(_KEEPING, (_order(tuple(CORNERS)), _order(_OUTER), _order(_MIDDLE)))


def _order(positions: tuple[str, ...]) -> _Coordinate:
    """The order of pieces that stay among themselves."""
    return _Coordinate(
        positions, permutations(range(len(positions))), lambda cube, position: positions.index(cube.piece_at(position))
    )
