"""One turn: of a face, of a face with its neighbour layer, or of the whole cube."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Final

from coach.cube.geometry import FACES, NORMALS, compose, opposite, quarter_turn

AXES: Final = {"x": "R", "y": "U", "z": "F"}
"""The rotations of the whole cube, with the face whose turn each of them follows."""
_SUFFIX: Final = {1: "", 2: "2", 3: "'"}


@dataclass(frozen=True, slots=True)
class Turn:
    """`quarters` clockwise quarter turns (1, 2 or 3) of the outermost `layers` at `face`.

    One layer is a face turn (R), two are a wide turn (Rw), three turn the whole cube (x, y or z: only
    about R, U and F, as in the WCA Regulations, Article 12).
    """

    face: str
    quarters: int = 1
    layers: int = 1

    def __post_init__(self) -> None:
        if self.face not in NORMALS or self.quarters not in _SUFFIX or self.layers not in (1, 2, 3):
            raise ValueError(f"no such turn: {self.face!r}, {self.quarters!r}, {self.layers!r}")
        if self.layers == 3 and self.face not in AXES.values():
            raise ValueError("the whole cube turns about R (x), U (y) or F (z)")

    def __str__(self) -> str:
        if self.layers == 3:
            letter = next(axis for axis, face in AXES.items() if face == self.face)
        else:
            letter = self.face + ("w" if self.layers == 2 else "")
        return letter + _SUFFIX[self.quarters]

    @property
    def whole(self) -> bool:
        """Whether the whole cube turns, so that nothing about the puzzle itself changes."""
        return self.layers == 3

    @property
    def inverse(self) -> Turn:
        """The turn that undoes this one."""
        return Turn(self.face, 4 - self.quarters, self.layers)

    @property
    def permutation(self) -> bytes:
        """Entry i is the place that the sticker at place i comes from."""
        return _permutation(self)

    def seen_after(self, rotations: Iterable[Turn]) -> Turn:
        """This turn's name once the whole cube has been turned by `rotations`.

        After y the right side has come to the front, so R is then called F.
        """
        face = self.face
        for rotation in rotations:
            centre = FACES.index(face) * 9 + 4
            face = FACES[rotation.permutation.index(centre) // 9]
        if self.whole and face not in AXES.values():
            return Turn(opposite(face), 4 - self.quarters, self.layers)
        return Turn(face, self.quarters, self.layers)


@cache
def _permutation(turn: Turn) -> bytes:
    result = bytes(range(54))
    for _ in range(turn.quarters):
        result = compose(result, quarter_turn(turn.face, turn.layers))
    return result


FACE_TURNS: Final = tuple(Turn(face, quarters) for face in "URFDLB" for quarters in (1, 2, 3))
"""The 18 face turns. Keep their order: searches call the first of several plans that cost the same, and a seed of a
random draw stands for the same cube only as long as the order stays."""
ROTATIONS: Final = tuple(Turn(face, quarters, 3) for face in "RUF" for quarters in (1, 2, 3))
"""x, y and z with their half turns and inverses."""


def inverse(turns: Iterable[Turn]) -> tuple[Turn, ...]:
    """The turns that undo `turns`."""
    return tuple(turn.inverse for turn in reversed(tuple(turns)))


def join(turns: Iterable[Turn]) -> tuple[Turn, ...]:
    """The same movement, with consecutive turns of one face merged into one."""
    result: list[Turn] = []
    for turn in turns:
        if result and (result[-1].face, result[-1].layers) == (turn.face, turn.layers):
            quarters = (result.pop().quarters + turn.quarters) % 4
            if quarters:
                result.append(Turn(turn.face, quarters, turn.layers))
        else:
            result.append(turn)
    return tuple(result)


def mirrored(turn: Turn) -> Turn:
    """The turn as a mirror between left and right shows it: R becomes L'."""
    face = opposite(turn.face) if turn.face in "RL" else turn.face
    if turn.layers == 3:
        return Turn(turn.face, turn.quarters if turn.face == "R" else 4 - turn.quarters, 3)
    return Turn(face, 4 - turn.quarters, turn.layers)
