"""A cube in the hands of a person: 54 stickers, moved by geometry alone. It shares nothing with the coach's cube.

x runs to the right, y up, z towards the person. Faces are read as the session log reads them: U with the back at
its upper edge, D with the front at its upper edge, the four sides with U at their upper edge.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

Vector = tuple[int, int, int]

FACES = "FBRLUD"
"""Front, back, right, left, top, bottom."""
_LOOK: dict[str, tuple[Vector, Vector, Vector]] = {
    "F": ((0, 0, 1), (1, 0, 0), (0, -1, 0)),
    "B": ((0, 0, -1), (-1, 0, 0), (0, -1, 0)),
    "R": ((1, 0, 0), (0, 0, -1), (0, -1, 0)),
    "L": ((-1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "U": ((0, 1, 0), (1, 0, 0), (0, 0, 1)),
    "D": ((0, -1, 0), (1, 0, 0), (0, 0, -1)),
}
"""Of each face where it looks, where its columns run to, and where its rows run to."""
_WHOLE = {"x": "R", "y": "U", "z": "F"}
_SLICES = {"M": "L", "E": "D", "S": "F"}
_LAYERS = {"whole": (-1, 0, 1), "wide": (0, 1), "slice": (0,), "face": (1,)}
HOLDS = tuple(f"{first} {second}" for first in ("", "x", "x2", "x'", "z", "z'") for second in ("", "y", "y2", "y'"))
"""The 24 ways to hold a cube, as turns of the whole."""


def _sum(*vectors: Vector) -> Vector:
    return (sum(v[0] for v in vectors), sum(v[1] for v in vectors), sum(v[2] for v in vectors))


def _times(vector: Vector, by: int) -> Vector:
    return (by * vector[0], by * vector[1], by * vector[2])


def _along(vector: Vector, axis: Vector) -> int:
    return sum(a * b for a, b in zip(vector, axis, strict=True))


def _clockwise(vector: Vector, axis: Vector) -> Vector:
    """A quarter turn, clockwise for whoever looks at the face that looks along `axis`."""
    (a, b, c), (x, y, z) = vector, axis
    return _sum((b * z - c * y, c * x - a * z, a * y - b * x), _times(axis, _along(vector, axis)))


def _spots() -> list[tuple[Vector, Vector]]:
    spots = []
    for face in FACES:
        outwards, across, down = _LOOK[face]
        for place in range(9):
            row, column = divmod(place, 3)
            spots.append((_sum(outwards, _times(across, column - 1), _times(down, row - 1)), outwards))
    return spots


SPOTS = _spots()
NAMES = tuple(f"{face}{place}" for face in FACES for place in range(9))
_AT = {spot: number for number, spot in enumerate(SPOTS)}


@cache
def _sources(turn: str) -> tuple[int, ...]:
    """For each spot the one whose sticker comes there by `turn`, as in "R", "U'", "F2", "Rw", "x", "M2"."""
    letter, rest = turn[0], turn[1:]
    kind = "whole" if letter in _WHOLE else "slice" if letter in _SLICES else "face"
    if (letter.islower() and kind == "face") or rest.startswith("w"):
        letter, rest, kind = letter.upper(), rest.removeprefix("w"), "wide"
    quarters = {"": 1, "2": 2, "'": 3, "2'": 2}[rest]
    axis = _LOOK[_WHOLE.get(letter, _SLICES.get(letter, letter))][0]
    sources = list(range(54))
    for number, (where, outwards) in enumerate(SPOTS):
        if _along(where, axis) in _LAYERS[kind]:
            for _ in range(quarters):
                where, outwards = _clockwise(where, axis), _clockwise(outwards, axis)
            sources[_AT[where, outwards]] = number
    return tuple(sources)


class Cube:
    """Stickers by spot, each with the letter of the face that it belongs to on the solved cube."""

    def __init__(self, stickers: Iterable[str] = ()) -> None:
        self.stickers = list(stickers) or [face for face in FACES for _ in range(9)]

    def __getitem__(self, name: str) -> str:
        return self.stickers[NAMES.index(name)]

    def copy(self) -> Cube:
        """One like it."""
        return Cube(self.stickers)

    def do(self, turns: str) -> Cube:
        """Turn it; the same cube is handed back."""
        for turn in turns.split():
            self.stickers = [self.stickers[source] for source in _sources(turn)]
        return self

    @property
    def solved(self) -> bool:
        """Whether each face is all one, in any hold."""
        return all(len(set(self.face(face))) == 1 for face in FACES)

    def face(self, face: str) -> list[str]:
        """Its nine stickers, row by row."""
        start = 9 * FACES.index(face)
        return self.stickers[start : start + 9]

    def row(self, face: str, number: int) -> list[str]:
        """Row 1, 2 or 3 of a face."""
        return self.face(face)[3 * number - 3 : 3 * number]

    def piece(self, letters: Iterable[str]) -> dict[str, str]:
        """Where each of the piece's stickers faces, by its letter; empty where there is no such piece."""
        wanted = set(letters)
        for place in {where for where, _ in SPOTS}:
            found = {
                self.stickers[number]: NAMES[number][0] for number, (where, _) in enumerate(SPOTS) if where == place
            }
            if set(found) == wanted:
                return found
        return {}

    def lower_layers_whole(self) -> bool:
        """Whether the two layers below the top are done."""
        sides = all(len(set(self.face(face)[3:])) == 1 for face in "FRBL")
        return sides and len(set(self.face("D"))) == 1
