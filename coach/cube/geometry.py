"""Where the 54 stickers are, and how turning layers moves them.

The learner looks at face F and face U is on top. Coordinates: x to the right, y up, z towards the
learner, each -1, 0 or 1. A face is read row by row, left to right, seen straight on: U with the back
at its upper edge, D with the front at its upper edge, the four sides with U at their upper edge.
A sticker place is numbered 9 * FACES.index(face) + place, so "F1" is 1 and "D8" is 53.

Everything else about turns follows from these coordinates; no table is typed in by hand.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations, product
from typing import Final

Vector = tuple[int, int, int]

FACES: Final = "FBRLUD"
"""The faces in the order of the WCA Regulations (Article 12a1), each next to its opposite."""
NORMALS: Final[dict[str, Vector]] = {
    "F": (0, 0, 1), "B": (0, 0, -1), "R": (1, 0, 0), "L": (-1, 0, 0), "U": (0, 1, 0), "D": (0, -1, 0),
}  # fmt: skip
# The directions in which the columns and the rows of each face run.
_READING: Final[dict[str, tuple[Vector, Vector]]] = {
    "F": ((1, 0, 0), (0, -1, 0)), "B": ((-1, 0, 0), (0, -1, 0)), "R": ((0, 0, -1), (0, -1, 0)),
    "L": ((0, 0, 1), (0, -1, 0)), "U": ((1, 0, 0), (0, 0, 1)), "D": ((1, 0, 0), (0, 0, -1)),
}  # fmt: skip


def opposite(face: str) -> str:
    """The face across the cube from `face`."""
    return FACES[FACES.index(face) ^ 1]


def _add(*vectors: Vector) -> Vector:
    return (sum(v[0] for v in vectors), sum(v[1] for v in vectors), sum(v[2] for v in vectors))


def _scale(vector: Vector, factor: int) -> Vector:
    return (vector[0] * factor, vector[1] * factor, vector[2] * factor)


def _dot(a: Vector, b: Vector) -> int:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _sticker(face: str, place: int) -> tuple[Vector, Vector]:
    """The cubie a sticker is on and the direction it faces."""
    across, down = _READING[face]
    row, column = divmod(place, 3)
    return _add(NORMALS[face], _scale(across, column - 1), _scale(down, row - 1)), NORMALS[face]


STICKERS: Final = tuple(_sticker(face, place) for face in FACES for place in range(9))
_NUMBER: Final = {sticker: number for number, sticker in enumerate(STICKERS)}
PLACE_NAMES: Final = tuple(f"{face}{place}" for face in FACES for place in range(9))
PLACE_NUMBER: Final = {name: number for number, name in enumerate(PLACE_NAMES)}
FACE_PLACES: Final = {face: range(9 * number, 9 * number + 9) for number, face in enumerate(FACES)}
"""The numbers of each face's nine places."""


def _clockwise(vector: Vector, axis: Vector) -> Vector:
    """`vector` after a quarter turn about `axis`, clockwise as seen from the tip of the axis."""
    return _add(_cross(vector, axis), _scale(axis, _dot(vector, axis)))


@cache
def quarter_turn(face: str, layers: int) -> bytes:
    """The permutation of a clockwise quarter turn of the outermost `layers` (1, 2 or 3) at `face`.

    Entry i is the place that the sticker now at place i came from.
    """
    axis = NORMALS[face]
    source = list(range(54))
    for number, (cubie, normal) in enumerate(STICKERS):
        if _dot(cubie, axis) > 1 - layers:
            source[_NUMBER[_clockwise(cubie, axis), _clockwise(normal, axis)]] = number
    return bytes(source)


def _position_name(faces: frozenset[str]) -> str:
    """The name of a position: U/D first, then F/B, then R/L, the order in which people describe it."""
    return "".join(face for face in "UDFBRL" if face in faces)


def _positions(size: int) -> dict[str, tuple[int, ...]]:
    positions = {}
    for faces in combinations("UDFBRL", size):
        if any(opposite(face) in faces for face in faces):
            continue
        cubie = _add(*(NORMALS[face] for face in faces))
        positions["".join(faces)] = tuple(_NUMBER[cubie, NORMALS[face]] for face in faces)
    return positions


EDGES: Final = _positions(2)
"""The 12 edge positions, each with the places of its two stickers in the order of its name."""
CORNERS: Final = _positions(3)
"""The 8 corner positions, each with the places of its three stickers in the order of its name."""
POSITIONS: Final = EDGES | CORNERS


def position_of(faces: str) -> str:
    """The usual name of the position between `faces`: position_of("RUF") is "UFR".

    Raises KeyError if there is no such position (opposite or repeated faces).
    """
    name = _position_name(frozenset(faces))
    if len(name) != len(faces) or name not in POSITIONS:
        raise KeyError(faces)
    return name


@cache
def clockwise_stickers(position: str) -> tuple[int, ...]:
    """The three places of a corner, clockwise seen from outside, its U or D sticker first."""
    first, second, third = CORNERS[position]
    normals = [STICKERS[place][1] for place in (first, second, third)]
    # Right-handed means anticlockwise seen from outside.
    right_handed = _dot(_cross(normals[0], normals[1]), normals[2]) > 0
    return (first, third, second) if right_handed else (first, second, third)


def _whole_turns() -> dict[bytes, tuple[tuple[str, int], ...]]:
    """All 24 ways to hold the cube, each with the shortest rotations (face, quarters) that lead there."""
    found: dict[bytes, tuple[tuple[str, int], ...]] = {bytes(range(54)): ()}
    frontier = list(found)
    for _ in range(2):
        reached = []
        for hold, (face, quarters) in product(frontier, product("RUF", (1, 3, 2))):
            turned = hold
            for _ in range(quarters):
                turned = compose(turned, quarter_turn(face, 3))
            if turned not in found:
                found[turned] = (*found[hold], (face, quarters))
                reached.append(turned)
        frontier = reached
    return found


def compose(first: bytes, then: bytes) -> bytes:
    """The permutation that does `first` and then `then`."""
    return then.translate(first.ljust(256))  # entry i is first[then[i]]; bytes.translate needs a full table


WHOLE_TURNS: Final = _whole_turns()


def turning_order(position: str) -> tuple[str, ...]:
    """The faces of a position; for a corner, clockwise as seen from outside."""
    if len(position) == 2:
        return tuple(position)
    return tuple(FACES[place // 9] for place in clockwise_stickers(position))
