"""Cubes whose two lower layers are done: what the last steps have to handle.

Such a cube is given by the flips of its four top edges (an even number, 8 ways), the twists of its four
top corners (their sum a multiple of three, 27 ways) and the order of both (half of 24 x 24 by parity):
216 orientation states and 62,208 states in all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import permutations, product
from typing import Final

from coach.cube import CORNERS, EDGES, FACE_PLACES, Cube
from coach.cube.geometry import clockwise_stickers

TOP_EDGES: Final = ("UB", "UR", "UF", "UL")
TOP_CORNERS: Final = ("UBL", "UBR", "UFR", "UFL")
_HOME_ORDER: Final = (0, 1, 2, 3)


def build(
    flips: tuple[int, ...] = (0, 0, 0, 0),
    twists: tuple[int, ...] = (0, 0, 0, 0),
    edges: tuple[int, ...] = _HOME_ORDER,
    corners: tuple[int, ...] = _HOME_ORDER,
) -> Cube:
    """The cube with piece number edges[i] (corners[i]) of the top at place i, flipped (twisted) as given.

    A twist of 1 means that the top colour faces the side clockwise of the top, seen from outside.
    The laws of the cube are not checked here.
    """
    stickers = bytearray(range(54))
    for i in range(4):
        there, piece = EDGES[TOP_EDGES[i]], EDGES[TOP_EDGES[edges[i]]]
        for j in range(2):
            stickers[there[(j + flips[i]) % 2]] = piece[j]
        corner = clockwise_stickers(TOP_CORNERS[i])
        twisted = clockwise_stickers(TOP_CORNERS[corners[i]])
        for j in range(3):
            stickers[corner[(j + twists[i]) % 3]] = twisted[j]
    return Cube(bytes(stickers))


def _flips() -> Iterator[tuple[int, ...]]:
    return (flips for flips in product((0, 1), repeat=4) if sum(flips) % 2 == 0)


def _twists() -> Iterator[tuple[int, ...]]:
    return (twists for twists in product((0, 1, 2), repeat=4) if sum(twists) % 3 == 0)


@cache
def orientation_states() -> tuple[Cube, ...]:
    """The 216 ways the top stickers can lie, each with the pieces in their home order.

    Which way the top colour faces does not depend on the order of the pieces, neither now nor after
    any turns, so these stand for all 62,208.
    """
    return tuple(build(flips, twists) for flips, twists in product(_flips(), _twists()))


def _odd(order: tuple[int, ...]) -> bool:
    return sum(order[i] > order[j] for i in range(4) for j in range(i + 1, 4)) % 2 == 1


@cache
def orders() -> tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]:
    """The 288 legal orders (edges, corners) of the top pieces."""
    return tuple(
        (edges, corners)
        for edges, corners in product(permutations(range(4)), permutations(range(4)))
        if _odd(edges) == _odd(corners)
    )


def every_order(states: Iterable[Cube]) -> Iterator[Cube]:
    """The given orientation states, with their pieces in each of the 288 orders."""
    arranged = [build(edges=edges, corners=corners) for edges, corners in orders()]
    return (order * cube for cube in states for order in arranged)


def orientation_of(cube: Cube) -> Cube:
    """The orientation state that `cube` belongs to: the same top stickers, the pieces in home order."""
    return _by_top_stickers()[_top_stickers(cube)]


def _top_stickers(cube: Cube) -> frozenset[int]:
    return frozenset(place for place, home in enumerate(cube.stickers) if home in FACE_PLACES["U"])


@cache
def _by_top_stickers() -> dict[frozenset[int], Cube]:
    return {_top_stickers(cube): cube for cube in orientation_states()}


def all_states() -> Iterator[Cube]:
    """All 62,208 states."""
    for flips, twists in product(_flips(), _twists()):
        for edges, corners in orders():
            yield build(flips, twists, edges, corners)


def lower_layers_whole(cube: Cube) -> bool:
    """Whether both lower layers are completely at home, for a cube held upright."""
    return all(cube.stickers[place] == place for place in LOWER)


LOWER: Final = tuple(
    place
    for place in range(54)
    if place not in {p for name in (*TOP_EDGES, *TOP_CORNERS) for p in (EDGES | CORNERS)[name]}
)
"""The sticker places of the two lower layers and all centres."""
