"""The puzzle as mathematics: stickers, turns, pieces. Imports nothing else of the package."""

from coach.cube.geometry import (
    CORNERS,
    EDGES,
    FACES,
    PLACE_NAMES,
    PLACE_NUMBER,
    POSITIONS,
    WHOLE_TURNS,
    opposite,
    position_of,
)
from coach.cube.notation import (
    AmbiguousError,
    BadSyntaxError,
    NotationError,
    NotOnThisCubeError,
    parse,
    write,
)
from coach.cube.pattern import all_shown, shown, turned
from coach.cube.state import Cube, solved
from coach.cube.turns import FACE_TURNS, ROTATIONS, Turn, inverse, join, mirrored

__all__ = [
    "CORNERS", "EDGES", "FACES", "FACE_TURNS", "PLACE_NAMES", "PLACE_NUMBER", "POSITIONS", "ROTATIONS",
    "WHOLE_TURNS", "AmbiguousError", "BadSyntaxError", "Cube", "NotOnThisCubeError", "NotationError", "Turn",
    "all_shown", "inverse", "join", "mirrored", "opposite", "parse", "position_of", "shown", "solved",
    "turned", "write",
]  # fmt: skip
