"""Cubes to hold lessons with: random, and ready for a given step."""

from __future__ import annotations

from random import Random
from typing import Final

from coach.cube import FACE_TURNS, Cube
from coach.method.last_layer import build, orders, orientation_states

_SCRAMBLE_TURNS: Final = 60
"""So many random turns; a scramble nobody can tell from a shuffled cube."""


def random_cube(step: str, random: Random) -> Cube:
    """A random cube, upright, that is at the beginning of `step` (as "top-face")."""
    if step == "top-cross":
        return _last_layer(random, random.choice(orientation_states()))
    if step == "top-face":
        crossed = [c for c in orientation_states() if all(c.faces[i] == "U" for i in (1, 3, 5, 7))]
        return _last_layer(random, random.choice(crossed))
    return scrambled(random)


def scrambled(random: Random) -> Cube:
    """A cube after many random turns."""
    return Cube().do(random.choice(FACE_TURNS) for _ in range(_SCRAMBLE_TURNS))


def _last_layer(random: Random, lying: Cube) -> Cube:
    edges, corners = random.choice(orders())
    return build(edges=edges, corners=corners) * lying
