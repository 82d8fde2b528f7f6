"""The top layer as a set of possible states, so that what follows from an answer can be worked out.

The four top edges are up or not (16 ways) and each of the four top corners shows the top colour up or on
one of its two sides (81 ways). A statement is the set of the 1,296 states in which it is true, held as the
bits of an integer: "and" is `&`, and a sticker is settled when every state left agrees on it. The laws that
tie pieces to each other are left out on purpose: a report that breaks them must come through as it was
said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from itertools import product

EDGES = {"B": "U1", "L": "U3", "R": "U5", "F": "U7"}
CORNERS = {"BL": "U0", "BR": "U2", "FL": "U6", "FR": "U8"}
CELLS = {"edge": tuple(EDGES.values()), "corner": tuple(CORNERS.values())}
POSSIBLE = {"edge": (0, 2, 4), "corner": (0, 1, 2, 4)}
"""How many of a kind can be up on a cube with its two lower layers whole."""
SIDES = {
    "U0": {"B": "B2", "L": "L0"},
    "U2": {"B": "B0", "R": "R2"},
    "U6": {"F": "F0", "L": "L2"},
    "U8": {"F": "F2", "R": "R0"},
    "U1": {"B": "B1"},
    "U3": {"L": "L1"},
    "U5": {"R": "R1"},
    "U7": {"F": "F1"},
}
"""For each top sticker of an edge or corner: the other stickers of that piece, by face."""
STICKERS = tuple(CELLS["edge"] + CELLS["corner"]) + tuple(s for sides in SIDES.values() for s in sides.values())
OPPOSITE = {"F": "B", "B": "F", "L": "R", "R": "L", "U": "D", "D": "U"}
ROWS = {"F": ("U6", "U7", "U8"), "B": ("U0", "U1", "U2"), "L": ("U0", "U3", "U6"), "R": ("U2", "U5", "U8")}

State = frozenset[str]
Mask = int


def corner(*dirs: str) -> str | None:
    """The top sticker of the corner that lies in two directions, in any order."""
    return CORNERS.get("".join(sorted(dirs, key="BFLR".index)))


def touching(direction: str) -> tuple[str, ...]:
    """The top stickers of the two corners on one side of the top."""
    return tuple(cell for name, cell in CORNERS.items() if direction in name)


@lru_cache(maxsize=1)
def states() -> tuple[State, ...]:
    """Every state, as the set of stickers that show the top colour."""
    choices = [(cell, *SIDES[cell].values()) for cell in (*CELLS["edge"], *CELLS["corner"])]
    return tuple(frozenset(shown) for shown in product(*choices))


def where(test: Callable[[State], bool]) -> Mask:
    """The states for which `test` holds."""
    mask = 0
    for bit, state in enumerate(states()):
        if test(state):
            mask |= 1 << bit
    return mask


EVERY: Mask = (1 << 1296) - 1


@lru_cache(maxsize=256)
def shows(sticker: str) -> Mask:
    """The sticker shows the top colour."""
    return where(lambda state: sticker in state)


def hides(sticker: str) -> Mask:
    """The sticker does not show the top colour."""
    return EVERY & ~shows(sticker)


@lru_cache(maxsize=512)
def count(stickers: tuple[str, ...], *numbers: int) -> Mask:
    """How many of the stickers show the top colour."""
    return where(lambda state: sum(sticker in state for sticker in stickers) in numbers)


def both(masks: Iterable[Mask]) -> Mask:
    """All of the statements hold."""
    mask = EVERY
    for each in masks:
        mask &= each
    return mask


SHAPES = {
    "dot": ((),),
    "corner": (("U1", "U3"), ("U1", "U5"), ("U3", "U7"), ("U5", "U7")),
    "line": (("U3", "U5"), ("U1", "U7")),
    "cross": (CELLS["edge"],),
}


@lru_cache(maxsize=8)
def shape(name: str) -> Mask:
    """The top edges make this shape."""
    allowed = {frozenset(cells) for cells in SHAPES[name]}
    return where(lambda state: state.intersection(CELLS["edge"]) in allowed)


@lru_cache(maxsize=64)
def same(name: str, kind: str) -> Mask:
    """Two pieces of a kind are up and lie "adjacent" or "opposite" (for corners: diagonally) to each other."""
    cells = CELLS[kind]
    ring = ("U1", "U5", "U7", "U3") if kind == "edge" else ("U0", "U2", "U8", "U6")
    step = 1 if name == "adjacent" else 2
    pairs = {frozenset((ring[at], ring[(at + step) % 4])) for at in range(4)}
    return where(lambda state: state.intersection(cells) in pairs)


def settled(mask: Mask) -> dict[str, bool]:
    """The stickers on which every state in `mask` agrees (`mask` must not be empty)."""
    result = {}
    for sticker in STICKERS:
        shown = mask & shows(sticker)
        if shown == mask or not shown:
            result[sticker] = bool(shown)
    return result
