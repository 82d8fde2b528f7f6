"""The top that a speaker looks at, what they tell about it, and what follows from that within the answer.

The deduction runs over all ways in which the four edges (or corners) can show the top colour that agree with what was
said: a place that is the same in all of them counts as told. So a line from left to right settles four edges, a corner
with one arm at the back tells that the front one is not, and one corner on the left tells that those on the right are
not. What only the laws of the cube would exclude (a single edge) is not used: it was not said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import product
from random import Random
from typing import Final

from coach.cube.geometry import PLACE_NAMES, PLACE_NUMBER
from coach.language.en.answers.sample import Sample
from coach.method.last_layer import orientation_states

EDGES: Final = ("U1", "U5", "U7", "U3")  # back, right, front, left: clockwise
CORNERS: Final = ("U0", "U2", "U8", "U6")
SIDE: Final[Mapping[str, str]] = {"U1": "B", "U5": "R", "U7": "F", "U3": "L"}
SIDES: Final[Mapping[str, str]] = {"U0": "BL", "U2": "BR", "U8": "FR", "U6": "FL"}
CORNER_AT: Final[Mapping[str, str]] = {sides: cell for cell, sides in SIDES.items()}
EDGE_AT: Final[Mapping[str, str]] = {side: cell for cell, side in SIDE.items()}
ACROSS: Final[Mapping[str, str]] = {
    **{cell: EDGES[(i + 2) % 4] for i, cell in enumerate(EDGES)},
    **{cell: CORNERS[(i + 2) % 4] for i, cell in enumerate(CORNERS)},
}
STICKER: Final[Mapping[tuple[str, str], str]] = {
    ("U1", "B"): "B1", ("U5", "R"): "R1", ("U7", "F"): "F1", ("U3", "L"): "L1",
    ("U0", "B"): "B2", ("U0", "L"): "L0", ("U2", "B"): "B0", ("U2", "R"): "R2",
    ("U8", "F"): "F2", ("U8", "R"): "R0", ("U6", "F"): "F0", ("U6", "L"): "L2",
}  # fmt: skip
"""The side stickers of the top's pieces, by the piece's place on top and the side that they face."""
CELLS: Final = (*EDGES, *CORNERS, *STICKER.values())
_PIECE: Final = {sticker: cell for (cell, _), sticker in STICKER.items()}


@dataclass(frozen=True)
class LookKind:
    """One of the two looks: its moment, its places clockwise from the back (left), and what they are called."""

    moment: str
    cells: tuple[str, ...]
    noun: str


EDGE_LOOK: Final = LookKind("look-top-edges", EDGES, "edge")
CORNER_LOOK: Final = LookKind("look-top-corners", CORNERS, "corner")


@dataclass(frozen=True)
class Clause:
    """A part of an answer: its words and what they say, before any deduction."""

    text: str
    cells: Mapping[str, bool] = field(default_factory=dict)
    shape: str | None = None
    edges: int | None = None
    corners: int | None = None

    def with_text(self, text: str) -> Clause:
        return Clause(text, self.cells, self.shape, self.edges, self.corners)

    def then(self, other: Clause, between: str = " ") -> Clause:
        """Both parts, one after the other."""
        return Clause(
            self.text + between + other.text,
            {**self.cells, **other.cells},
            self.shape or other.shape,
            self.edges if self.edges is not None else other.edges,
            self.corners if self.corners is not None else other.corners,
        )


class Top:
    """Which of the top layer's 20 stickers show the top colour."""

    def __init__(self, shows: Mapping[str, bool]) -> None:
        self.shows = shows

    def up(self, kind: LookKind) -> list[str]:
        return [cell for cell in kind.cells if self.shows[cell]]

    def down(self, kind: LookKind) -> list[str]:
        return [cell for cell in kind.cells if not self.shows[cell]]

    def cells(self, kind: LookKind) -> dict[str, bool]:
        return {cell: self.shows[cell] for cell in kind.cells}

    @property
    def shape(self) -> str:
        return _shape(tuple(self.shows[cell] for cell in EDGES))


def _shape(edges: tuple[bool, ...]) -> str:
    if sum(edges) == 2:
        return "line" if edges[0] == edges[2] else "corner"
    return {0: "dot", 4: "cross"}.get(sum(edges), "")


@cache
def _tops() -> Mapping[tuple[str, int], tuple[Top, ...]]:
    """All tops by their shape and by how many of their corners are right."""
    found: dict[tuple[str, int], list[Top]] = {}
    for cube in orientation_states():
        places = [PLACE_NAMES[sticker] for sticker in cube.stickers]
        top = Top({cell: places[PLACE_NUMBER[cell]][0] == "U" for cell in CELLS})
        found.setdefault((top.shape, len(top.up(CORNER_LOOK))), []).append(top)
    return {key: tuple(tops) for key, tops in found.items()}


def some_top(random: Random) -> Top:
    """A legal top; rare ones (everything up) are more frequent than by chance."""
    shape = random.choices(("dot", "cross", "line", "corner"), cum_weights=(14, 26, 54, 100))[0]
    corners = random.choices((0, 1, 2, 4), cum_weights=(20, 50, 89, 100))[0]
    tops = _tops()[shape, corners]
    return tops[int(random.random() * len(tops))]


_WAYS: Final = tuple(product((False, True), repeat=4))


@cache
def _follows(
    kind: LookKind, said: tuple[bool | None, ...], shape: str | None, count: int | None
) -> tuple[tuple[tuple[str, bool], ...], str | None, int | None]:
    """The places settled by what was said, and the shape and count if some are left open."""
    ways = [
        way
        for way in _WAYS
        if all(value is None or way[i] == value for i, value in enumerate(said))
        and shape in (None, _shape(way))
        and count in (None, sum(way))
    ]
    if not ways:
        raise ValueError(f"contradiction: {kind.noun}s {said}, {shape}, {count}")
    settled = tuple((cell, ways[0][i]) for i, cell in enumerate(kind.cells) if all(w[i] == ways[0][i] for w in ways))
    if len(settled) == 4:
        return settled, None, None
    shapes = {_shape(way) for way in ways}
    one = shapes.pop() if kind is EDGE_LOOK and len(shapes) == 1 else None
    return settled, one or None, count


def concluded(kind: LookKind, told: Clause) -> Sample:
    """The sample for an answer to this look: all that it says and what follows from it."""
    cells: dict[str, bool] = {}
    for cell, shows in told.cells.items():
        if cell in _PIECE and shows:  # a piece has one sticker of the top colour
            cells |= {other: False for other, piece in _PIECE.items() if piece == _PIECE[cell]}
            cells[_PIECE[cell]] = False
    cells |= told.cells
    edges, shape, count = _follows(EDGE_LOOK, tuple(cells.get(cell) for cell in EDGES), told.shape, told.edges)
    corners, _, corner_count = _follows(CORNER_LOOK, tuple(cells.get(cell) for cell in CORNERS), None, told.corners)
    cells |= dict(edges) | dict(corners)
    return Sample(
        "look-top-edges" if kind is EDGE_LOOK else "look-top-corners",
        told.text,
        cells=cells,
        shape=shape,
        edges=count,
        corners=corner_count,
        complete=all(cell in cells for cell in kind.cells),
    )
