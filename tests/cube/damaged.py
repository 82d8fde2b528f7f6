"""Cubes that were put together wrong: an edge flipped, a corner twisted, two pieces swapped, a sticker changed."""

from __future__ import annotations

from collections.abc import Iterable

from coach.cube import CORNERS, EDGES, PLACE_NAMES, Cube
from coach.cube.geometry import clockwise_stickers
from tests.cube.random_cubes import stickers_moved


def named(places: Iterable[int]) -> list[str]:
    return [PLACE_NAMES[place] for place in places]


def flip(cube: Cube, edge: str) -> Cube:
    one, other = named(EDGES[edge])
    return stickers_moved(cube, {one: other, other: one})


def twist(cube: Cube, corner: str, thirds: int) -> Cube:
    """The corner twisted clockwise, looking at its tip."""
    cycle = named(clockwise_stickers(corner))
    return stickers_moved(cube, {cycle[(i + thirds) % 3]: cycle[i] for i in range(3)})


def swap(cube: Cube, one: str, other: str, shift: int = 0) -> Cube:
    here, there = (named(clockwise_stickers(it) if it in CORNERS else EDGES[it]) for it in (one, other))
    there = there[shift:] + there[:shift]
    return stickers_moved(cube, dict(zip((*here, *there), (*there, *here), strict=True)))


def replaced(faces: str, place: int, colour: str) -> str:
    return faces[:place] + colour + faces[place + 1 :]
