"""Explanations with two slips: of all pairs on the trail those that agree with all that was said.

There are millions of pairs on a long trail. For every sticker that was told of, one row of bits says at once
which first slips agree with it, so that each second slip costs no more than a few hundred bytes for a sticker.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Answered, Chances, Look, Observation, OneOf, Stickers, chances_of
from coach.belief.slips import Kind, Shift, Slips, prefixes, single_slips
from coach.belief.trail import Trail
from coach.cube import FACES, PLACE_NUMBER, Turn

Bits = NDArray[np.uint8]
"""[..., bytes] a bit for each first slip."""
Numbers = NDArray[np.intp]

_LEAST: Final = 1.5e-4
"""Slips less likely than this are no part of a pair;"""
_MOST: Final = 2400
"""of the others so many, the last ones."""
_KEPT: Final = 3000
"""So many pairs, the likeliest, are weighed further."""
_NEVER: Final = 1e-9


def double_slips(
    trail: Trail,
    habits: Mapping[Kind, int] | None = None,
    origin: Chances | None = None,
    lateness: Chances | float = 1.0,
) -> Slips:
    """The likeliest pairs of slips that agree with all that was said on the trail.

    `origin` [54, 6] is what may have been on each sticker at the beginning, `lateness` [single slips] how much
    likelier each is for being the last one.
    """
    singles = single_slips(trail, habits)
    lasting = singles.last == np.iinfo(np.int32).max
    late = np.broadcast_to(lateness, lasting.shape)[lasting & (singles.chances >= _LEAST)][-_MOST:]
    ways = _some(singles, np.flatnonzero(lasting & (singles.chances >= _LEAST))[-_MOST:])
    begun = chances_of(trail.origins, trail.not_up).mean(axis=0) if origin is None else origin
    other, one = np.nonzero(np.unpackbits(_agreeing(trail, ways, begun), axis=1, count=len(ways.slips)))
    chances = ways.chances[one] * ways.chances[other] * late[other]
    if len(chances) > _KEPT:
        best = np.argpartition(-chances, _KEPT)[:_KEPT]
        one, other = one[best], other[best]
    return _pairs(ways, one, other)


def _some(slips: Slips, which: Numbers) -> Slips:
    return Slips(
        tuple(slips.slips[i] for i in which.tolist()),
        slips.chances[which], slips.first[which], slips.last[which], slips.shift[which], slips.both[which],
    )  # fmt: skip


def _pairs(ways: Slips, one: Numbers, other: Numbers) -> Slips:
    """The first slips `one`, each with the second slip `other`."""
    shift = ways.shift[one]
    return replace(
        ways,
        slips=tuple(ways.slips[i] + ways.slips[j] for i, j in zip(one.tolist(), other.tolist(), strict=True)),
        chances=ways.chances[one] * ways.chances[other],
        first=ways.first[one],
        last=ways.first[other],
        shift=shift,
        both=np.take_along_axis(shift, ways.shift[other], axis=1),
    )


def _agreeing(trail: Trail, ways: Slips, origin: Chances) -> Bits:
    """[second slips, bytes] the first slips with which each agrees with what was said."""
    at = np.array([slip.at for (slip,) in ways.slips])
    bits = np.packbits(at < at[:, None], axis=1)
    begun = origin[ways.shift]
    may = np.packbits(begun > _NEVER, axis=0)  # [bytes, 54, 6]
    may_not = np.packbits(begun < 1 - _NEVER, axis=0)
    told = _Told(np.moveaxis(may, 0, -1).copy(), np.moveaxis(may_not, 0, -1).copy())
    before = prefixes(trail.turns)
    calls = 0
    for number, event in enumerate(trail.events):
        if isinstance(event, Turn):
            calls += 1
            continue
        places = before[calls][list(event.places)]
        after = ways.first < number
        if not after.any():
            continue
        there = np.where(after[:, None], ways.shift[:, places], places)
        bits &= told.agrees(event, there) | np.packbits(~after)
    return np.asarray(bits)


class _Told:
    """Which first slips agree with what is said of stickers: `may` and `may_not` [54, 6, bytes] tell for each
    sticker before any second slip whether a face's colour can be there, and whether another can."""

    def __init__(self, may: Bits, may_not: Bits) -> None:
        self._may, self._may_not = may, may_not

    def agrees(self, said: Observation, there: Shift) -> Bits:
        """[rows, bytes] those that agree where the stickers that are told of come from `there` [rows, places]."""
        column = {place: number for number, place in enumerate(said.places)}
        match said:
            case Stickers(facts) | Answered(facts, yes=True):
                return self._all(facts, column, there)
            case Answered(facts, yes=False):
                return _any([self._is_not(face, there[:, column[place]]) for place, face in facts])
            case OneOf(options):
                return _any([self._all(option, column, there) for option in options])
            case Look(look):
                bits = np.full((len(there), self._may.shape[-1]), 255, np.uint8)
                for place, shows in look.items():
                    where = there[:, column[PLACE_NUMBER[place]]]
                    bits &= self._is("U", where) if shows else self._is_not("U", where)
                return bits
        return np.full((len(there), self._may.shape[-1]), 255, np.uint8)

    def _all(self, facts: tuple[tuple[int, str], ...], column: Mapping[int, int], there: Shift) -> Bits:
        bits = np.full((len(there), self._may.shape[-1]), 255, np.uint8)
        for place, face in facts:
            bits &= self._is(face, there[:, column[place]])
        return bits

    def _is(self, face: str, where: Shift) -> Bits:
        return np.asarray(self._may[:, FACES.index(face)][where])

    def _is_not(self, face: str, where: Shift) -> Bits:
        return np.asarray(self._may_not[:, FACES.index(face)][where])


def _any(options: Sequence[Bits]) -> Bits:
    return np.asarray(np.bitwise_or.reduce(options))
