"""From probabilities to what was said about the top, for the pieces asked about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.language.en.reader.deduction import UNEXPECTED, Flags, Space, weighed
from coach.language.en.reader.heads import HEAD, HIDDEN, SHOWN, UNSAID
from coach.language.en.reader.network import Read
from coach.language.meaning import Meaning

EDGES: Final = {"U1": ("B1",), "U3": ("L1",), "U5": ("R1",), "U7": ("F1",)}
CORNERS: Final = {"U0": ("L0", "B2"), "U2": ("B0", "R2"), "U8": ("R0", "F2"), "U6": ("F0", "L2")}
"""The top stickers with the other stickers of their pieces; for corners, first the one to which a clockwise twist moves
the colour."""
_SHAPES: Final = {
    "dot": ((),), "cross": (("U1", "U3", "U5", "U7"),), "line": (("U1", "U7"), ("U3", "U5")),
    "corner": (("U1", "U3"), ("U1", "U5"), ("U7", "U3"), ("U7", "U5")),
}  # fmt: skip
_CLEAR: Final = 0.7
_COMMON: Final = 0.97
_IMPOSSIBLE: Final = 0.02
"""The weight of a top that no cube with two whole layers has: a slip is told as it was seen."""

Look = tuple[Meaning | None, float]


class TopPieces:
    """One kind of pieces on top: its worlds, and what can be said about them."""

    def __init__(self, pieces: Mapping[str, tuple[str, ...]], count: str) -> None:
        self._pieces, self._count = pieces, count
        ways = len(next(iter(pieces.values()))) + 1
        self._worlds = list(product(range(ways), repeat=len(pieces)))  # which sticker of each piece is the colour's
        self._cells = {
            sticker: np.array([world[at] == way for world in self._worlds])
            for at, (cell, others) in enumerate(pieces.items())
            for way, sticker in enumerate((cell, *others))
        }
        up = np.sum([self._cells[cell] for cell in pieces], axis=0)
        said = [self._of_piece(at, ways) for at in range(len(pieces))]
        said.append(np.array([np.ones(len(up), bool), *(up == number for number in range(5))]))
        if count == "edges":
            said.append(np.array([np.ones(len(up), bool), *map(self._shaped, HEAD["shape"].classes[1:])]))
        self.space = Space(said)
        possible = up % 2 == 0 if count == "edges" else np.array([sum(world) % ways == 0 for world in self._worlds])
        self.likely = np.where(possible, 1.0, _IMPOSSIBLE)

    def _of_piece(self, at: int, ways: int) -> Flags:
        """Every set of ways in which a piece may be left, encoded as bits."""
        return np.array([[bool(left >> world[at] & 1) for world in self._worlds] for left in range(1, 2**ways)])

    def _shaped(self, shape: str) -> Flags:
        tops = [
            np.array([self._cells[cell] == (cell in up) for cell in self._pieces]).all(0) for up in _SHAPES[shape]
        ]
        return np.asarray(np.any(tops, 0), np.bool_)

    def read(self, read: Read, seen: Mapping[str, bool]) -> list[Look]:
        """What was said, likeliest first, with probabilities; None for a contradiction. `seen` maps stickers to whether
        the coach believes that they show the colour."""
        logs = [_piece_logs(read, (cell, *others)) for cell, others in self._pieces.items()]
        logs.append(read.of(self._count))
        if self._count == "edges":
            logs.append(read.of("shape"))
        chances, contradicted = weighed(self.space.chances(logs), self.space.left, self.likely * self._expected(seen))
        best = np.argsort(-chances)[:4]
        if chances[best[0]] < _CLEAR and (rough := self._roughly(chances)) is not None:
            return [rough, (None, contradicted)]
        told: list[Look] = [(self._meant(self.space.left[group]), float(chances[group])) for group in best]
        return [*told, (None, contradicted)]

    def _expected(self, seen: Mapping[str, bool]) -> NDArray[np.float64]:
        """A prior weight for each world, by whether it agrees with what the coach believes."""
        held = [self._cells[cell] == shown for cell, shown in seen.items() if cell in self._cells]
        return np.where(np.all(held, 0), 1.0, UNEXPECTED) if held else np.ones(len(self._worlds))

    def _roughly(self, chances: NDArray[np.float64]) -> Look | None:
        """What the likely readings say in common about the top stickers, if none is clear by itself."""
        shown = np.array([self._cells[cell] for cell in self._pieces])  # pieces x worlds
        left = self.space.left & self.space.left.any(1, keepdims=True)
        some = left.any(1)
        # Pieces x groups: whether the group settles that the piece's top sticker shows the colour, or that it does not.
        up, down = (np.array([~(left & ~each).any(1) & some for each in of]) for of in (shown, ~shown))
        whole = (up | down).all(0)
        keys = (up * 2 ** np.arange(len(up))[:, None]).sum(0)
        sums = np.bincount(keys[whole], chances[whole], 2 ** len(up))
        likeliest = int(sums.argmax())
        if sums[likeliest] >= _CLEAR:
            look = {cell: bool(likeliest >> at & 1) for at, cell in enumerate(self._pieces)}
            return Meaning(look), float(sums[likeliest])
        each = dict(zip(self._pieces, map(float, up @ chances), strict=True))
        sure = {cell: chance for cell, chance in each.items() if chance >= _COMMON}
        return (Meaning(dict.fromkeys(sure, True)), min(sure.values())) if sure else None

    def _meant(self, left: Flags) -> Meaning:
        """What is settled if these worlds are left."""
        look = {sticker: bool(shown[left][0]) for sticker, shown in self._cells.items() if len(set(shown[left])) == 1}
        if self._count == "edges":
            look = {cell: shown for cell, shown in look.items() if cell in self._pieces}
        if all(cell in look for cell in self._pieces):
            return Meaning(look)
        counts = {int(sum(self._cells[cell][world] for cell in self._pieces)) for world in np.nonzero(left)[0]}
        number = counts.pop() if len(counts) == 1 else None
        if self._count == "corners":
            return Meaning(look, corners=number)
        shapes = [name for name in _SHAPES if not (left & ~self._shaped(name)).any()]
        return Meaning(look, shapes[0] if shapes else None, number)


def _piece_logs(read: Read, stickers: tuple[str, ...]) -> NDArray[np.float32]:
    """The log probability of every set of ways that the statements about a piece's stickers leave."""
    ways = len(stickers)
    chances = np.zeros(2**ways)
    logs = [read.of(sticker) for sticker in stickers[: ways if ways > 2 else 1]]
    for left, values in _sets(ways, len(logs)):
        chances[left] += np.exp(sum(float(log[value]) for log, value in zip(logs, values, strict=True)))
    return np.log(chances[1:] + 1e-9).astype(np.float32)


@lru_cache(maxsize=4)
def _sets(ways: int, told: int) -> tuple[tuple[int, tuple[int, ...]], ...]:
    return tuple(_each_set(ways, told))


def _each_set(ways: int, told: int) -> Iterator[tuple[int, tuple[int, ...]]]:
    """What each combination of statements about the stickers leaves, as bits; a contradiction leaves nothing (0)."""
    classes = HEAD["U1"].classes
    for values in product(range(len(classes)), repeat=told):
        left = 2**ways - 1
        for at, value in enumerate(values):
            if classes[value] == SHOWN:
                left &= 1 << at
            elif classes[value] == HIDDEN:
                left &= ~(1 << at)
            else:
                assert classes[value] == UNSAID
        yield left, values


@lru_cache(maxsize=2)
def top(asked: str) -> TopPieces:
    """The pieces that a question asks about."""
    return TopPieces(EDGES, "edges") if asked == "look-top-edges" else TopPieces(CORNERS, "corners")
