"""The puzzle as mathematics: stickers, turns, pieces. Imports nothing else from the package.

`coach.cube.search` and `coach.cube.distance` are imported by name where needed, because they load numpy.
"""

from coach.cube.geometry import (
    CORNERS,
    EDGES,
    FACE_PLACES,
    FACES,
    PLACE_NAMES,
    PLACE_NUMBER,
    POSITIONS,
    WHOLE_TURNS,
    opposite,
    position_of,
)
from coach.cube.legality import find_problems, from_faces, misread
from coach.cube.notation import (
    AmbiguousError,
    BadSyntaxError,
    NotationError,
    NotOnThisCubeError,
    parse,
    write,
)
from coach.cube.pattern import TOP_CENTRE, Claim, all_shown, claim_holds, shown, turned
from coach.cube.problems import ImpossibleCube, Problem
from coach.cube.state import Cube, solved
from coach.cube.turns import FACE_TURNS, ROTATIONS, Turn, inverse, join, mirrored

__all__ = [
    "CORNERS", "EDGES", "FACES", "FACE_PLACES", "FACE_TURNS", "PLACE_NAMES", "PLACE_NUMBER",
    "POSITIONS", "ROTATIONS", "TOP_CENTRE", "WHOLE_TURNS", "AmbiguousError", "BadSyntaxError", "Claim", "Cube",
    "ImpossibleCube", "NotOnThisCubeError", "NotationError", "Problem", "Turn", "all_shown", "claim_holds",
    "find_problems", "from_faces", "inverse", "join", "mirrored", "misread", "opposite", "parse",
    "position_of", "shown", "solved", "turned", "write",
]  # fmt: skip
