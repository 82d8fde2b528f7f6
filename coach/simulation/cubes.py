"""Cubes for lessons: random, and ready for a given step."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Final

from coach.cube import FACE_TURNS, Cube, all_shown
from coach.cube.search import plan
from coach.dialogue.solving.knowledge import LOWER_PIECES
from coach.method import default_method
from coach.method.last_layer import build, orders, orientation_states
from coach.method.model import TOP_EDGES

_SCRAMBLE_TURNS: Final = 60
"""Scramble with this many random turns; nobody can tell the result from a shuffled cube."""


def random_cube(step: str, random: Random) -> Cube:
    """A random upright cube at the beginning of `step` (such as "top-face")."""
    if step == "top-cross":
        return _last_layer(random, random.choice(orientation_states()))
    if step == "top-face":
        crossed = [c for c in orientation_states() if all_shown(c.faces, TOP_EDGES)]
        return _last_layer(random, random.choice(crossed))
    if step in ("top-corners", "top-edges"):
        top = default_method().top_steps[2:][step == "top-edges"]
        ordered = [build(edges=edges, corners=corners) for edges, corners in orders()]
        return random.choice([cube for cube in ordered if top.ready(cube.faces)])
    done = {"bottom-corners": 4, "middle-edges": 8}.get(step, 0)
    return _solved_so_far(scrambled(random), LOWER_PIECES[:done])


def _solved_so_far(cube: Cube, pieces: Sequence[str]) -> Cube:
    """The cube with `pieces` brought home, the first four at once."""
    for count in range(min(4, len(pieces)), len(pieces) + 1):
        turns = plan(cube, pieces[:count])
        assert turns is not None, "one piece more always has a plan"
        cube = cube.do(turns)
    return cube.upright


def scrambled(random: Random) -> Cube:
    """A cube after many random turns."""
    return Cube().do(random.choice(FACE_TURNS) for _ in range(_SCRAMBLE_TURNS))


def _last_layer(random: Random, lying: Cube) -> Cube:
    edges, corners = random.choice(orders())
    return build(edges=edges, corners=corners) * lying
