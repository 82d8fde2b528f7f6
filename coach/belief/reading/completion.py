"""All ways to complete a cube, added up or compared: exact, although there are 43 quintillion of them.

A cube is an arrangement of edges and one of corners, each a permutation with orientations. Turning obeys
three laws, so a cube is legal if its flips are even, its twists cancel out, and its two permutations are
both even or both odd. What is known of the stickers gives a weight to every lie (a piece in a position with
an orientation). The weights of all arrangements are gathered position by position, over the sets of pieces
used so far (4096 for edges, 256 for corners), separately for each class: odd or not, and sum of orientations.

The same sweep answers three questions: with weights 0 and 1 it counts the cubes that agree with a reading,
with likelihoods it gives probabilities, and with (max, plus) instead of (plus, times) the most probable cube.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.cube import CORNERS, EDGES, FACES
from coach.cube.geometry import clockwise_stickers

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

Law: TypeAlias = tuple[int, int, int]
"""Whether two pieces are swapped (0, 1), an edge flipped (0, 1), the corners twisted (thirds clockwise)."""
LEGAL: Final[Law] = (0, 0, 0)


class _Semiring(NamedTuple):
    """How the weights of lies are joined into that of an arrangement, and how arrangements are gathered."""

    join: np.ufunc
    gather: np.ufunc
    unit: float
    nothing: float


_SUM: Final = _Semiring(np.multiply, np.add, 1.0, 0.0)
_MOST: Final = _Semiring(np.add, np.maximum, 0.0, -np.inf)


@dataclass(frozen=True, eq=False)
class PieceKind:
    """The edges or the corners. `places` [position, which]: the sticker places of each position, first the one
    that defines flips or twists, then the others clockwise from it."""

    names: tuple[str, ...]
    places: Ints

    @cached_property
    def colours(self) -> Ints:
        """[piece, orientation, which]: the face (0..5) whose colour is at that place of its position."""
        which = np.arange(self.places.shape[1])
        turned = (which[None, :] - which[:, None]) % len(which)
        return self.places[:, turned] // 9

    @cached_property
    def at(self) -> dict[int, tuple[int, int]]:
        """The position of each place of this kind of piece, and which of the position's places it is."""
        places = self.places.ravel().tolist()
        return {place: divmod(i, self.places.shape[1]) for i, place in enumerate(places)}

    def weights(self, evidence: Floats, semiring: _Semiring) -> Floats:
        """[position, piece, orientation]: `evidence` [place, face] joined over the stickers."""
        each = evidence[self.places[:, None, None, :], self.colours[None]]
        joined: Floats = semiring.join.reduce(each, axis=-1)
        return joined


EDGE_KIND: Final = PieceKind(tuple(EDGES), np.array(list(EDGES.values())))
CORNER_KIND: Final = PieceKind(tuple(CORNERS), np.array([clockwise_stickers(corner) for corner in CORNERS]))


@dataclass(frozen=True, eq=False)
class Completions:
    """All cubes, each weighed by the product of the `evidence` [54 places, 6 faces] for its stickers.

    Faces are those of the hold: a sticker belongs to face U if it has the colour of the centre on top.
    With `best`, the evidence is logarithms, and the results are the heaviest cubes instead of sums.
    """

    evidence: Floats
    best: bool = False
    _pairs: dict[tuple[PieceKind, int, int], Floats] = field(default_factory=dict)

    @property
    def _semiring(self) -> _Semiring:
        return _MOST if self.best else _SUM

    @cached_property
    def _weights(self) -> dict[PieceKind, Floats]:
        return {kind: kind.weights(self.evidence, self._semiring) for kind in (EDGE_KIND, CORNER_KIND)}

    def pair(self, kind: PieceKind, one: int, other: int) -> Floats:
        """[lie at position `one`, lie at `other`, odd, sum of orientations] over arrangements of `kind`.

        A lie is numbered piece * orientations + orientation.
        """
        key = (kind, one, other)
        if key not in self._pairs:
            self._pairs[key] = _pair(self._weights[kind], one, other, self._semiring)
        return self._pairs[key]

    def _lies(self, kind: PieceKind, position: int) -> Floats:
        """[lie at `position`, odd, sum of orientations]."""
        first = position - position % 2
        return self._gathered(self.pair(kind, first, first + 1), 1 - position % 2)

    def _gathered(self, weights: Floats, axis: int | tuple[int, ...]) -> Floats:
        gathered: Floats = self._semiring.gather.reduce(weights, axis=axis)
        return gathered

    @cached_property
    def classes(self) -> tuple[Floats, Floats]:
        """For edges and for corners: [odd, sum of orientations]."""
        return self._gathered(self._lies(EDGE_KIND, 0), 0), self._gathered(self._lies(CORNER_KIND, 0), 0)

    @cached_property
    def by_law(self) -> Floats:
        """[swapped, flipped, twisted]: all cubes, including impossible ones, by the laws that they break."""
        edges, corners = self.classes
        both = self._semiring.join(edges[:, None, :, None], corners[None, :, None, :])
        return np.stack([
            self._gathered(np.stack([both[0, swapped], both[1, 1 - swapped]]), 0) for swapped in (0, 1)
        ])  # fmt: skip

    @property
    def total(self) -> float:
        """The weight of all legal cubes."""
        return float(self.by_law[LEGAL])

    @property
    def count(self) -> int:
        """The exact number of legal cubes, if the evidence is 0 and 1."""
        edges, corners = self.classes
        return sum(int(edges[odd, 0]) * int(corners[odd, 0]) for odd in (0, 1))

    def stickers(self, law: Law = LEGAL) -> Floats:
        """[54 places, 6 faces]: the weight of the cubes of `law` that have this colour there."""
        swapped, flipped, twisted = law
        result = np.full((54, 6), self._semiring.nothing)
        result[range(4, 54, 9), range(6)] = self.by_law[law]
        edges, corners = self.classes
        parities = [swapped, 1 - swapped]  # those of the corners if the edges are even and odd, and vice versa
        for kind, turned, others in (
            (EDGE_KIND, flipped, corners[parities, twisted]),
            (CORNER_KIND, twisted, edges[parities, flipped]),
        ):
            for position, places in enumerate(kind.places.tolist()):
                lies = self._semiring.join(self._lies(kind, position)[:, :, turned], others)
                cubes = self._gathered(lies, 1)
                for which, place in enumerate(places):
                    self._semiring.gather.at(result[place], kind.colours[:, :, which].ravel(), cubes)
        return result

    def row(self, places: tuple[int, int, int]) -> Floats:
        """[face at the first of `places`, ...]: the legal cubes by what they show in a row of a face.

        A row through the centre has only two axes. Works for sums only, not with `best`.
        """
        first, middle, last = places
        if middle % 9 == 4:
            corners = self.classes[1]
            ends: Floats = self._ends(EDGE_KIND, first, last) @ corners[:, 0]
            return ends
        position, which = EDGE_KIND.at[middle]
        edges = _indicator(EDGE_KIND, which).T @ self._lies(EDGE_KIND, position)[:, :, 0]
        row: Floats = np.einsum("acp,bp->abc", self._ends(CORNER_KIND, first, last), edges)
        return row

    def _ends(self, kind: PieceKind, first: int, last: int) -> Floats:
        """[face at place `first`, face at `last`, odd] over arrangements whose orientations add up to 0."""
        (one, here), (other, there) = kind.at[first], kind.at[last]
        if one > other:
            return self._ends(kind, last, first).swapaxes(0, 1)
        lies = self.pair(kind, one, other)[..., 0]
        by_first = np.tensordot(_indicator(kind, here), lies, (0, 0))
        ends: Floats = np.tensordot(by_first, _indicator(kind, there), (1, 0)).swapaxes(1, 2)
        return ends


def _indicator(kind: PieceKind, which: int) -> Floats:
    """[lie, face]: 1 where the lie shows the colour of the face at this place of its position."""
    return np.eye(len(FACES))[kind.colours[:, :, which].ravel()]


def _pair(weights: Floats, one: int, other: int, semiring: _Semiring) -> Floats:
    count, _, turns = weights.shape
    known = _known(weights, (one, other), semiring)
    rest = [i for i in range(count) if i not in known and i not in (one, other)]
    pieces = [lie // turns for lie in known.values()]
    free = np.array([j for j in range(count) if j not in pieces])
    result = np.full((count, turns, count, turns, 2, turns), semiring.nothing)
    if len(set(pieces)) == len(pieces):
        left = _sweep(weights[:, free], rest, semiring)
        j, k, odd = _last_two(len(free))
        left = left[((1 << len(free)) - 1) ^ (1 << j) ^ (1 << k)]
        odd = odd + _inversions([*known, *rest, one, other]) + _inversions([*pieces, *free.tolist()])
        left = left[np.arange(len(j))[:, None], np.arange(2) ^ odd[:, None] % 2]
        left = semiring.join(left, semiring.join.reduce([weights[i].flat[lie] for i, lie in known.items()]))
        turned = sum(lie % turns for lie in known.values())
        for a in range(turns):
            for b in range(turns):
                both = semiring.join(weights[one, free[j], a], weights[other, free[k], b])
                moved = np.roll(left, turned + a + b, axis=-1)
                result[free[j], a, free[k], b] = semiring.join(both[:, None, None], moved)
    return result.reshape(count * turns, count * turns, 2, turns)


def _known(weights: Floats, but: tuple[int, int], semiring: _Semiring) -> dict[int, int]:
    """The positions (except the two of `but`) with only one lie left, and that lie: nothing need be tried there."""
    possible = (weights != semiring.nothing).reshape(len(weights), -1)
    single = np.flatnonzero(possible.sum(axis=1) == 1).tolist()
    return {i: int(possible[i].argmax()) for i in single if i not in but}


def _sweep(weights: Floats, positions: list[int], semiring: _Semiring) -> Floats:
    """[set of pieces used, odd, sum of orientations] after filling `positions` in this order."""
    _, count, turns = weights.shape
    swept = np.full((1 << count, 2 * turns), semiring.nothing)
    swept[0, 0] = semiring.unit
    for position, level in zip(positions, _levels(count, turns), strict=False):
        weight = weights[position].take(level.lie)[:, None, :]
        ways = semiring.join(swept.take(level.source), weight)
        swept[level.sets] = semiring.gather.reduce(ways, axis=0).T
    return swept.reshape(-1, 2, turns)


class _Level(NamedTuple):
    """How the sets with a given number of pieces arise by adding one piece to a smaller set.

    `sets` [set]; `lie` [way, set]: the piece and orientation added; `source` [way, class, set]: the index
    in the flat table of the class of the smaller set that becomes this class.
    """

    sets: Ints
    lie: Ints
    source: Ints


@cache
def _levels(count: int, turns: int) -> tuple[_Level, ...]:
    bits = np.array([pieces.bit_count() for pieces in range(1 << count)])
    odd, total = np.divmod(np.arange(2 * turns), turns)
    levels = []
    for size in range(1, count + 1):
        sets = np.flatnonzero(bits == size)
        piece = np.nonzero(sets[:, None] >> np.arange(count) & 1)[1].reshape(-1, size).T
        # Every piece with a higher number that was used before it adds one inversion.
        inverted = bits[sets >> piece + 1] % 2
        ways = [
            (sets ^ 1 << piece)[:, None] * 2 * turns
            + (odd[:, None] ^ inverted[:, None]) * turns
            + (total[:, None] - orientation) % turns
            for orientation in range(turns)
        ]
        lies = [piece * turns + orientation for orientation in range(turns)]
        # Sets come last in memory, so that gathering over ways runs along long rows.
        levels.append(_Level(sets, np.concatenate(lies), np.concatenate(ways)))
    return tuple(levels)


def _inversions(numbers: list[int]) -> int:
    return sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1 :])


@cache
def _last_two(count: int) -> tuple[Ints, Ints, Ints]:
    """Every two pieces j, k of `count`, and their inversions when they come last, after the rest."""
    j, k = np.nonzero(~np.eye(count, dtype=bool))
    return j, k, (count - 1 - j) + (count - 1 - k) - (k > j)
