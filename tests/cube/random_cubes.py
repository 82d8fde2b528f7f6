"""Cubes for the tests: drawn by Hypothesis, or with a piece put in wrongly by hand."""

from __future__ import annotations

from collections.abc import Mapping

from hypothesis import strategies as st

from coach.cube import FACE_TURNS, FACES, PLACE_NUMBER, ROTATIONS, Cube, Turn, solved

WIDE_TURNS = tuple(Turn(face, quarters, 2) for face in FACES for quarters in (1, 2, 3))
ALL_TURNS = (*FACE_TURNS, *WIDE_TURNS, *ROTATIONS)

any_turn = st.sampled_from(ALL_TURNS)
any_turns = st.lists(any_turn, max_size=30)
face_turns = st.lists(st.sampled_from(FACE_TURNS), max_size=30)
rotations = st.lists(st.sampled_from(ROTATIONS), max_size=3)
cubes = any_turns.map(solved().do)
"""Cubes that turning can reach, in any hold."""


def stickers_moved(cube: Cube, comes_from: Mapping[str, str]) -> Cube:
    """The cube with, at each place named, the sticker that was at the other."""
    stickers = bytearray(cube.stickers)
    for place, source in comes_from.items():
        stickers[PLACE_NUMBER[place]] = cube.stickers[PLACE_NUMBER[source]]
    return Cube(bytes(stickers))
