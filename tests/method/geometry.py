"""The puzzle built anew, as rotations of stickers in space: nothing of the package's own turns is used."""

from __future__ import annotations

from itertools import product

from sympy.combinatorics import Permutation

AXES = {"U": (0, 1, 0), "R": (1, 0, 0), "F": (0, 0, 1), "L": (-1, 0, 0)}
NORMALS = {
    "U": (0, 1, 0), "R": (1, 0, 0), "F": (0, 0, 1), "D": (0, -1, 0), "L": (-1, 0, 0), "B": (0, 0, -1),
}  # fmt: skip


def stickers() -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """All 54 (cubie, direction), in no order that the package knows."""
    return [
        (cubie, normal)
        for cubie in product((-1, 0, 1), repeat=3)
        for normal in NORMALS.values()
        if sum(c * n for c, n in zip(cubie, normal, strict=True)) == 1
    ]


STICKERS = stickers()
NUMBER = {sticker: number for number, sticker in enumerate(STICKERS)}


def clockwise(vector: tuple[int, ...], face: str) -> tuple[int, ...]:
    x, y, z = vector
    return {"U": (-z, y, x), "R": (x, z, -y), "F": (y, -x, z), "L": (x, -z, y)}[face]


def quarter(face: str) -> Permutation:
    """Where each sticker goes in a clockwise quarter turn of `face`."""
    goes = []
    for cubie, normal in STICKERS:
        turns = sum(c * a for c, a in zip(cubie, AXES[face], strict=True)) == 1
        goes.append(
            NUMBER[(clockwise(cubie, face), clockwise(normal, face))] if turns else NUMBER[cubie, normal]
        )
    return Permutation(goes)


def effect(sequence: str) -> Permutation:
    """Where each sticker goes, the turns being done from left to right."""
    result = Permutation(len(STICKERS) - 1)
    for turn in sequence.split():
        result = result * quarter(turn[0]) ** {"": 1, "2": 2, "'": 3}[turn[1:]]
    return result
