"""Cubes to begin lessons with: mixed by random turns, or as far as some step. The coach's mathematics of the cube
serve for the start alone."""

from __future__ import annotations

from random import Random

from coach.cube import FACE_PLACES, all_shown, parse
from coach.cube import Cube as CoachCube
from coach.cube.search import plan
from coach.method import default_method
from coach.method.last_layer import build, orders, orientation_states
from coach.method.model import TOP_EDGES
from tests.people.cube import FACES, Cube

STEPS = ("bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges")
_PIECES = ("DF", "DR", "DB", "DL", "DFR", "DBR", "DBL", "DFL", "FR", "BR", "BL", "FL")


def mixing(random: Random) -> str:
    """Many random turns."""
    return " ".join(random.choice("FBRLUD") + random.choice(("", "'", "2")) for _ in range(50))


def start(step: str, random: Random) -> Cube:
    """A random cube that is as far as the beginning of `step`."""
    if step == "bottom-cross":
        return Cube().do(mixing(random))
    return _of(_lower(step, random) if step in ("bottom-corners", "middle-edges") else _top(step, random))


def _of(cube: CoachCube) -> Cube:
    return Cube(cube.faces[place] for face in FACES for place in FACE_PLACES[face])


def _lower(step: str, random: Random) -> CoachCube:
    cube = CoachCube().do(parse(mixing(random)))
    for count in range(4, 5 if step == "bottom-corners" else 9):
        turns = plan(cube, _PIECES[:count])
        assert turns is not None
        cube = cube.do(turns)
    return cube.upright


def _top(step: str, random: Random) -> CoachCube:
    if step in ("top-corners", "top-edges"):
        ready = default_method().top_steps[2:][step == "top-edges"].ready
        ordered = [build(edges=edges, corners=corners) for edges, corners in orders()]
        return random.choice([cube for cube in ordered if ready(cube.faces)])
    lying = [c for c in orientation_states() if step == "top-cross" or all_shown(c.faces, TOP_EDGES)]
    edges, corners = random.choice(orders())
    return build(edges=edges, corners=corners) * random.choice(lying)
