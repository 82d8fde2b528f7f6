"""Why a set of stickers cannot be a cube."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias


@dataclass(frozen=True)
class Placed:
    """A piece (by its home position) and the position where it is, as the cube is held."""

    position: str
    piece: str


Likely: TypeAlias = tuple[tuple[Placed, ...], ...]
"""What may be wrong: the pieces concerned, for each possibility; empty when nothing can be said."""


@dataclass(frozen=True)
class WrongCount:
    """`colour` is there `count` times instead of nine."""

    colour: str
    count: int


@dataclass(frozen=True)
class WrongCentres:
    """The centres (`centres`, in the order of FACES) match no hold of the cube."""

    centres: str


@dataclass(frozen=True)
class NoSuchPiece:
    """No piece has `colours` (in the order of the letters of `position`).

    A colour is there twice, two colours are opposite each other, or a corner's three colours run round it
    the wrong way.
    """

    position: str
    colours: str
    why: Literal["repeated", "opposite", "mirrored"]


@dataclass(frozen=True)
class DoublePiece:
    """`piece` is at all of `positions`."""

    piece: str
    positions: tuple[str, ...]


@dataclass(frozen=True)
class MissingPiece:
    """`piece` is nowhere."""

    piece: str


@dataclass(frozen=True)
class FlippedEdge:
    """An odd number of edges is flipped. `likely` has the probable ones, one in each tuple."""

    likely: Likely = ()


@dataclass(frozen=True)
class TwistedCorner:
    """The twists of the corners leave a third of a turn `over`. `likely` as in FlippedEdge."""

    over: Literal["clockwise", "anticlockwise"]
    likely: Likely = ()

    @property
    def put_right(self) -> Literal["clockwise", "anticlockwise"]:
        """Which way to twist one corner by a third, looking at its tip."""
        return "anticlockwise" if self.over == "clockwise" else "clockwise"


@dataclass(frozen=True)
class SwappedPieces:
    """Two pieces are in each other's place. `likely` has the probable pairs."""

    likely: Likely = ()


Problem: TypeAlias = (
    WrongCount | WrongCentres | NoSuchPiece | DoublePiece | MissingPiece | FlippedEdge | TwistedCorner | SwappedPieces
)


class ImpossibleCube(ValueError):
    """Stickers that no cube can show. `problems` says why."""

    def __init__(self, faces: str, problems: tuple[Problem, ...]) -> None:
        self.faces, self.problems = faces, problems
        more = f". And {len(problems) - 3} more." if len(problems) > 3 else ""
        super().__init__("; ".join(map(str, problems[:3])) + more)
