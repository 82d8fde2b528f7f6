"""Explanations with two slips: of all pairs on the trail those that agree with all that was said.

There are millions of pairs on a long trail. For every sticker that was told of, one row of bits says at once
which first slips agree with it, so that each second slip costs no more than a few hundred bytes for a sticker.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Answered, Chances, Look, Observation, OneOf, Stickers, chances_of
from coach.belief.slips import Kind, Shift, Slips, inverted, prefixes, single_slips
from coach.belief.trail import Trail
from coach.cube import FACES, PLACE_NUMBER, Turn

Bits = NDArray[np.uint8]
"""[..., bytes] a bit for each first slip."""
Numbers = NDArray[np.intp]

_LEAST: Final = 1.5e-4
"""Slips less likely than this are no part of a pair;"""
_MOST: Final = 1800
"""of the others so many, the last ones."""
_KEPT: Final = 3000
"""So many pairs, the likeliest, are weighed further."""
_NEVER: Final = 1e-9


def double_slips(
    trail: Trail,
    habits: Mapping[Kind, int] | None = None,
    origin: Chances | None = None,
    lateness: Callable[[Slips], Chances | float] = lambda slips: 1.0,
) -> Slips:
    """The likeliest pairs of slips that agree with all that was said on the trail.

    `origin` [54, 6] is what may have been on each sticker at the beginning, `lateness` tells of single slips how
    much likelier each is for being the last one.
    """
    singles = single_slips(trail, habits)
    lasting = singles.last == np.iinfo(np.int32).max
    ways = _some(singles, np.flatnonzero(lasting & (singles.chances >= _LEAST))[-_MOST:])
    late = np.broadcast_to(lateness(ways), len(ways.slips))
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
    said = _said(trail)
    table = _Known(ways, origin)
    # A second slip is after some of what was read and before the rest: each part has a table of its own.
    begins = [-1, *(number for number, event, _ in said if isinstance(event, Stickers))]
    for number, after in zip(begins, [*begins[1:], np.iinfo(np.int32).max], strict=True):
        for at_event, event, places in said:
            if at_event == number and isinstance(event, Stickers):
                table.read(event, at_event, places)
        rows = np.flatnonzero((ways.first > number) & (ways.first <= after))
        if len(rows):
            bits[rows] &= _agreeing_rows(said, ways, rows, table.told())
    return bits


def _said(trail: Trail) -> list[tuple[int, Observation, Shift]]:
    """The observations with their numbers among the events, and where the stickers come from that they tell of,
    if all was done as called."""
    before, calls = prefixes(trail.turns), 0
    said: list[tuple[int, Observation, Shift]] = []
    for number, event in enumerate(trail.events):
        if isinstance(event, Turn):
            calls += 1
        else:
            said.append((number, event, before[calls][list(event.places)]))
    return said


def _agreeing_rows(said: list[tuple[int, Observation, Shift]], ways: Slips, rows: Numbers, told: _Told) -> Bits:
    bits = np.full((len(rows), told.bytes), 255, np.uint8)
    for number, event, places in said:
        after = ways.first < number
        if after.any():
            there = np.where(after[rows, None], ways.shift[rows][:, places], places)
            bits &= told.agrees(event, there) | np.packbits(~after)
    return bits


class _Known:
    """What is known of the stickers for each first slip: `may` and `may_not` [first slips, 54, 6] tell which
    faces' colours they may have, numbered by where they would come from without any second slip."""

    def __init__(self, ways: Slips, origin: Chances) -> None:
        self._ways = ways
        self._open = origin.max(axis=1) < 1 - _NEVER
        self._may, self._may_not = (origin > _NEVER)[ways.shift], (origin < 1 - _NEVER)[ways.shift]
        self._goes = inverted(ways.shift)

    def read(self, stickers: Stickers, number: int, places: Shift) -> None:
        """Take in what was read as event `number`, of stickers from `places`, where it was not known."""
        after = self._ways.first < number
        slips = np.arange(len(after))
        for (_, face), place in zip(stickers.facts, places.tolist(), strict=True):
            sticker = np.where(after, self._ways.shift[:, place], place)
            where = np.where(after, place, self._goes[:, place])
            new = self._open[sticker]
            self._may[slips[new], where[new]] = np.arange(6) == FACES.index(face)
            self._may_not[slips[new], where[new]] = np.arange(6) != FACES.index(face)

    def told(self) -> _Told:
        """The same as bits."""
        packed = (np.packbits(known, axis=0) for known in (self._may, self._may_not))
        return _Told(*(np.ascontiguousarray(np.moveaxis(bits, 0, -1)) for bits in packed))


class _Told:
    """Which first slips agree with what is said of stickers: `may` and `may_not` [54, 6, bytes] tell for each
    sticker before any second slip whether a face's colour can be there, and whether another can."""

    def __init__(self, may: Bits, may_not: Bits) -> None:
        self._may, self._may_not = may, may_not
        self.bytes = may.shape[-1]

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
                bits = np.full((len(there), self.bytes), 255, np.uint8)
                for place, shows in look.items():
                    where = there[:, column[PLACE_NUMBER[place]]]
                    bits &= self._is("U", where) if shows else self._is_not("U", where)
                return bits
        return np.full((len(there), self.bytes), 255, np.uint8)

    def _all(self, facts: tuple[tuple[int, str], ...], column: Mapping[int, int], there: Shift) -> Bits:
        bits = np.full((len(there), self.bytes), 255, np.uint8)
        for place, face in facts:
            bits &= self._is(face, there[:, column[place]])
        return bits

    def _is(self, face: str, where: Shift) -> Bits:
        return np.asarray(self._may[:, FACES.index(face)][where])

    def _is_not(self, face: str, where: Shift) -> Bits:
        return np.asarray(self._may_not[:, FACES.index(face)][where])


def _any(options: Sequence[Bits]) -> Bits:
    return np.asarray(np.bitwise_or.reduce(options))
