"""Which row of stickers to read next: the one that tells most for the learner's trouble.

A row is worth the exact entropy, in bits, of what may be seen there over all legal cubes that agree with
what has been read. Its trouble is the three stickers to be said and what the hands have to do first. The
learner turns the whole cube where that pays, so a face has six rows instead of three: its columns are rows
in another hold.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import product
from math import ceil, log2
from operator import itemgetter
from typing import Final, TypeAlias

import numpy as np

from coach.belief.reading.completion import Completions, Floats
from coach.belief.reading.correction import likelihoods
from coach.belief.reading.stickers import KnownStickers, by_hold, completions, solution, ways
from coach.cube import FACE_PLACES, PLACE_NAMES, PLACE_NUMBER, WHOLE_TURNS, Turn

_STICKERS: Final = 3
"""The number of stickers to be said for a row, including the centre although it is known."""
_HANDS: Final = 0.5
"""The weight of the trouble of the hands. A cube takes 37.8 colours and 2.5 turns of the whole cube with 1, 36.6 and
4.3 with 0.5, 37.0 and 5.1 with 0 (24 random cubes, 28 November 2026)."""
LOOK: Final[Mapping[str, float]] = {"F": 0.0, "U": 0.05, "R": 0.1, "L": 0.1}
"""The faces that can be looked at without changing grip, with the trouble this takes, in stickers said."""
QUARTER: Final = 0.5
HALF: Final = 0.8
"""The trouble of turning the whole cube by a quarter turn (QUARTER) or a half turn (HALF), in stickers said."""

_Line: TypeAlias = frozenset[int]


@dataclass(frozen=True)
class Row:
    """A row to be read: the learner first turns the whole cube by `rotation` (often empty), then reads row
    `number` (1..3) of `face`, left to right, in that hold."""

    rotation: tuple[Turn, ...]
    face: str
    number: int

    @property
    def places(self) -> tuple[str, str, str]:
        """The sticker places in the order they are read, in the hold after `rotation`."""
        first, second, third = FACE_PLACES[self.face][3 * self.number - 3 : 3 * self.number]
        return PLACE_NAMES[first], PLACE_NAMES[second], PLACE_NAMES[third]

    @property
    def line(self) -> frozenset[int]:
        """The numbers of the places where its stickers are before `rotation`."""
        places = [PLACE_NUMBER[place] for place in self.places]
        for turn in reversed(self.rotation):
            places = [turn.permutation[place] for place in places]
        return frozenset(places)


def next_row(
    reading: KnownStickers,
    *,
    look: Mapping[str, float] = LOOK,
    turning: bool = True,
    hands: float = _HANDS,
    seen: Collection[int] = (),
) -> Row | None:
    """The row that tells most for the trouble; None if there is nothing to learn (or a contradiction).

    Only the faces of `look` (with their trouble) are read, after a rotation only if `turning`. `hands` is
    the weight of the trouble of the hands; with 0 only the stickers said count. Without turning, these faces may
    have nothing left to tell although the cube is not known yet; the result is None then, too. Rows whose places
    have all been `seen` are not read again, even if what is there is not known.
    """
    bits = _bits(reading)

    def worth(option: tuple[Row, _Line, float]) -> float:
        _, line, trouble = option
        return round(bits[line] / (_STICKERS + hands * trouble), 9)

    looked = {*seen, *range(4, 54, 9)} if seen else ()
    options = [
        option
        for option in _options(tuple(look.items()), turning)
        if bits[option[1]] > _NOTHING and not option[1].issubset(looked)
    ]
    return max(options, key=worth)[0] if options else None  # of equals the first, which is the easiest


def telling_place(reading: KnownStickers, alike: Collection[str]) -> int | None:
    """The easiest place to look at that tells the last cubes apart, and shows none of the faces `alike`, whose colours
    the learner cannot tell; None if there is none."""
    counts = completions(reading).stickers()
    hidden = [face in alike for face in reading.centres]
    places = (place for face in LOOK for place in FACE_PLACES[face])
    return next((p for p in places if counts[p].max() == 1 and not (counts[p] > 0)[hidden].any()), None)


def check_row(
    reading: KnownStickers,
    likelihood: Floats | None = None,
    *,
    look: Mapping[str, float] = LOOK,
    hands: float = _HANDS,
    sure: float = 0.99,
) -> Row | None:
    """The row of a known cube that would most probably look different if a sticker was misread.

    The coach says what it expects there. So few stickers are read that one in five misread ones makes
    another legal cube. `likelihood` is as from `correction.likelihoods` (by default with the usual
    confusion), and may combine several answers about the same stickers. None if every row is as expected
    with a chance of at least `sure`, or if the cube is not known.
    """
    cube = solution(reading)
    if cube is None:
        return None
    cubes = Completions(by_hold(reading, likelihoods(reading) if likelihood is None else likelihood))
    expected = [reading.centres.index(face) for face in cube.faces]

    def otherwise(line: _Line) -> float:
        places = _LINES[line]
        looks = cubes.row(places)
        return 1 - float(looks[tuple(expected[place] for place in places if place % 9 != 4)] / cubes.total)

    options = [(row, otherwise(line), trouble) for row, line, trouble in _options(tuple(look.items()), True)]
    row, chance, _ = max(options, key=lambda option: option[1] / (_STICKERS + hands * option[2]))
    return row if chance > 1 - sure else None


def row_at(places: Collection[str], look: Mapping[str, float] = LOOK) -> Row:
    """The least troublesome way to read these places, which must be a line of a face."""
    line = frozenset(PLACE_NUMBER[place] for place in places)
    return next(row for row, there, _ in _options(tuple(look.items()), True) if there == line)


def most_rows(reading: KnownStickers) -> int:
    """The most rows still to be asked for, if what is read fits together. A row tells at least seven bits as long as
    many cubes are left, and four near the end (40 random cubes, 29 November 2026); one question may follow."""
    bits = log2(max(ways(reading), 1))
    return 1 + ceil(min(bits, _MANY) / 4 + max(bits - _MANY, 0) / 7)


def row_bits(reading: KnownStickers, row: Row) -> float:
    """The expected information of a row, in bits."""
    return _bits(reading)[row.line]


_NOTHING: Final = 1e-9
_MANY: Final = 28
"""The number of bits above which rows tell most."""
_LINES: Final = {
    frozenset(places): places
    for face in FACE_PLACES.values()
    for start, step in ((0, 1), (3, 1), (6, 1), (0, 3), (1, 3), (2, 3))
    for places in [(face[start], face[start + step], face[start + 2 * step])]
}


@lru_cache(maxsize=64)  # as many as `completions`
def _bits(reading: KnownStickers) -> Mapping[_Line, float]:
    """The entropy of what may be seen in each of the six lines of every face, as the cube is held now."""
    cubes = completions(reading)
    several = cubes.count > 1
    return {line: _entropy(cubes.row(places)) if several else 0.0 for line, places in _LINES.items()}


def _entropy(weights: Floats) -> float:
    share = weights[weights > 0] / weights.sum()
    return float(-(share * np.log2(share)).sum())


@cache
def _options(look: tuple[tuple[str, float], ...], turning: bool) -> tuple[tuple[Row, _Line, float], ...]:
    """The least troublesome way to read each line (as the cube is held now) as a row, easiest first.

    Each comes with its line and its trouble, in stickers said.
    """
    easiest: dict[_Line, tuple[Row, _Line, float]] = {}
    for rotations in WHOLE_TURNS.values() if turning else [()]:
        rotation = tuple(Turn(face, quarters, 3) for face, quarters in rotations)
        turned = sum(HALF if turn.quarters == 2 else QUARTER for turn in rotation)
        for (face, trouble), number in product(look, (1, 2, 3)):
            row = Row(rotation, face, number)
            option = (row, row.line, turned + trouble)
            if row.line not in easiest or option[2] < easiest[row.line][2]:
                easiest[row.line] = option
    return tuple(sorted(easiest.values(), key=itemgetter(2)))
