"""The cube itself: which sticker is where."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from coach.cube.geometry import EDGES, FACES, POSITIONS, WHOLE_TURNS, clockwise_stickers, compose
from coach.cube.notation import parse
from coach.cube.turns import Turn

_SOLVED: Final = bytes(range(54))
_FACE_OF: Final = bytes(ord(FACES[min(home // 9, 5)]) for home in range(256))
_HOME: Final = {place: name for name, places in POSITIONS.items() for place in places}
HOLDS: Final = {hold[4::9]: hold for hold in WHOLE_TURNS}
"""The 24 holds (keys of WHOLE_TURNS) by the stickers at the six centres."""


@dataclass(frozen=True)
class Cube:
    """A cube as it lies in the learner's hands; immutable and hashable.

    `stickers[i]` is the home place of the sticker that is now at place i (54 bytes). Turning is
    composition of permutations, so face turns, wide turns and rotations are all one thing.
    """

    stickers: bytes = _SOLVED

    def turn(self, turn: Turn) -> Cube:
        """The cube after one turn."""
        return Cube(compose(self.stickers, turn.permutation))

    def do(self, turns: Iterable[Turn] | str) -> Cube:
        """The cube after `turns`, given as Turns or written in WCA notation."""
        stickers = self.stickers
        for turn in parse(turns) if isinstance(turns, str) else turns:
            stickers = compose(stickers, turn.permutation)
        return Cube(stickers)

    def __mul__(self, other: Cube) -> Cube:
        """The group product: what made `self` from the solved cube, followed by what made `other`."""
        return Cube(compose(self.stickers, other.stickers))

    @property
    def inverse(self) -> Cube:
        """The cube that undoes this one: cube * cube.inverse is solved."""
        places = bytearray(54)
        for place, home in enumerate(self.stickers):
            places[home] = place
        return Cube(bytes(places))

    @property
    def faces(self) -> str:
        """54 letters: for every place, the face that the sticker's colour belongs to."""
        return self.stickers.translate(_FACE_OF).decode("ascii")

    @property
    def centres(self) -> str:
        """The hold: for each of FACES, the face whose centre is there now (FACES itself when upright)."""
        return "".join(FACES[self.stickers[9 * i + 4] // 9] for i in range(6))

    @property
    def hold(self) -> bytes:
        """The rotation from the upright hold to this one, a key of geometry.WHOLE_TURNS."""
        return HOLDS[self.stickers[4::9]]

    @property
    def upright(self) -> Cube:
        """The same cube, turned as a whole so that every centre is at home."""
        return self * Cube(self.hold).inverse

    @property
    def solved(self) -> bool:
        """Whether every face is of one colour, however the cube is held."""
        return all(len(set(self.faces[i : i + 9])) == 1 for i in range(0, 54, 9))

    def piece_at(self, position: str) -> str:
        """The home position of the piece that is at `position` now."""
        return _HOME[self.stickers[POSITIONS[position][0]]]

    @cached_property
    def pieces(self) -> Mapping[str, tuple[str, tuple[int, ...]]]:
        """Where every piece (by home position) is, and the places of its stickers in home order."""
        now = self.inverse.stickers
        return {
            home: (_HOME[now[places[0]]], tuple(now[place] for place in places))
            for home, places in POSITIONS.items()
        }

    def twist_at(self, corner: str) -> int:
        """0 if the corner piece there shows its own U or D sticker on U or D, 1 if that sticker is one place
        clockwise, 2 if it is one place anticlockwise (seen from outside). For an upright hold."""
        for twist, place in enumerate(clockwise_stickers(corner)):
            if FACES[self.stickers[place] // 9] in "UD":
                return twist
        raise AssertionError("every corner has a U or D sticker")

    def flip_at(self, edge: str) -> int:
        """0 if face turns other than quarter turns of F and B can bring the edge piece there home unflipped, else 1."""
        first = self.stickers[EDGES[edge][0]]
        return int(first not in {places[0] for places in EDGES.values()})


def solved() -> Cube:
    """The solved cube, white down and green in front in the default colours."""
    return Cube()
