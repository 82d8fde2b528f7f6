"""Explanations with two slips: all pairs on the trail that agree with everything that was said.

A long trail has millions of pairs. It is processed one observation at a time, and first slips that do not agree with
what was said before the second one are dropped. For every sticker told of later, a bit string says which of the
remaining first slips agree with it, so that each second slip costs only some tens of bytes for each sticker.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Answered, Chances, Facts, Look, Observation, OneOf, Stickers, chances_of
from coach.belief.slips.explanations import Shift, Slips, prefixes, single_slips
from coach.belief.slips.trail import Trail
from coach.cube import FACES, PLACE_NUMBER, Turn

Flags = NDArray[np.bool_] | NDArray[np.uint8]
"""[..., first slips] a flag for each, or [..., bytes] a bit for each."""
Numbers = NDArray[np.intp]

_LEAST: Final = 1.5e-4
"""Leave slips less likely than this out of pairs."""
_MOST: Final = 1800
"""Use at most this many of the other slips: the last ones."""
_KEPT: Final = 3000
"""Keep at most this many pairs for further weighing: the likeliest ones."""
_NEVER: Final = 1e-9


def double_slips(
    trail: Trail,
    singles: Slips | None = None,
    origin: Chances | None = None,
    lateness: Callable[[Slips], Chances | float] = lambda slips: 1.0,
) -> Slips:
    """The likeliest pairs of slips that agree with everything that was said on the trail.

    `singles` are the explanations with one slip, by default those of the trail; others among them are ignored.
    `origin` [54, 6] is what may have been on each sticker at the beginning. `lateness` says how much likelier each
    single slip is for being the last one.
    """
    singles = single_slips(trail) if singles is None else singles
    lasting = singles.last == np.iinfo(np.int32).max
    ways = _some(singles, np.flatnonzero(lasting & (singles.chances >= _LEAST))[-_MOST:])
    late = np.broadcast_to(lateness(ways), len(ways.slips))
    begun = chances_of(trail.origins, trail.not_up).mean(axis=0) if origin is None else origin
    one, other = _agreeing(trail, ways, begun)
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
    """The first slips `one`, each paired with the second slip `other`."""
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


def _agreeing(trail: Trail, ways: Slips, origin: Chances) -> tuple[Numbers, Numbers]:
    """The pairs that agree with what was said: the numbers of their first and of their second slips."""
    at, ended = (np.array([slips[end].at for slips in ways.slips], np.intp) for end in (0, -1))
    said = _said(trail)
    known = _Known(ways, origin)
    firsts, seconds = [np.zeros(0, np.intp)], [np.zeros(0, np.intp)]
    # Second slips are taken in groups that come between the same two observations.
    ends = [*(number for number, _, _ in said), len(trail.events)]
    for heard, end in enumerate(ends):
        since = said[heard - 1][0] if heard else -1
        new = np.flatnonzero((ways.first > since) & (ways.first < end))
        if len(new):
            known.begin(new)
            begun = ended[known.slips] < at[new, None]
            second, first = np.nonzero(known.agreeing(said[heard:], ways.shift[new], begun))
            firsts.append(known.slips[first])
            seconds.append(new[second])
        if heard < len(said):
            known.hear(*said[heard])
    return np.concatenate(firsts), np.concatenate(seconds)


_Said: TypeAlias = tuple[int, Observation, Shift]
"""Something said: its event number, the observation, and where the stickers it is about come from if everything was
done as called."""


def _said(trail: Trail) -> list[_Said]:
    """What was said, without repetitions between two turns."""
    before, calls = prefixes(trail.turns), 0
    said: list[_Said] = []
    since: list[Observation] = []
    for number, event in enumerate(trail.events):
        if isinstance(event, Turn):
            calls += 1
            since = []
        elif event not in since:
            since.append(event)
            said.append((number, event, before[calls][list(event.places)]))
    return said


class _Known:
    """The first slips that agree with everything said so far (`slips`, by number), and what each leaves known of the
    stickers: `_may` [2, 6, 54, slips] says whether a sticker may have a face's colour, and whether it may have another
    one. Stickers are numbered by where they would come from without any slip."""

    def __init__(self, ways: Slips, origin: Chances) -> None:
        self._ways = ways
        self._open = origin.max(axis=1) < 1 - _NEVER
        self._right = np.stack([origin.T > _NEVER, origin.T < 1 - _NEVER])  # [2, 6, 54] if nothing went wrong so far
        self._may = np.zeros((2, 6, 54, 0), np.bool_)
        self._answers: list[_Said] = []
        self.slips = np.zeros(0, np.intp)

    def begin(self, slips: Numbers) -> None:
        """Add first slips that come at this point."""
        new = self._right.take(self._ways.shift[slips].T, axis=-1)
        self._may = np.concatenate([self._may, new], axis=-1)
        self.slips = np.concatenate([self.slips, slips])

    def hear(self, number: int, event: Observation, places: Shift) -> None:
        """Record what was said, and drop the slips that do not agree with it."""
        self._keep_agreeing([(number, event, places)])
        if isinstance(event, Stickers):
            self._read(event, places)
            self._keep_agreeing(self._answers)  # given what was just read, they may rule out more slips
        else:
            self._answers.append((number, event, places))

    def _keep_agreeing(self, said: Sequence[_Said]) -> None:
        agree = np.full(len(self.slips), True)
        for number, event, places in said:
            agree &= _agrees(self._may, event, places[None])[0] | (self._ways.first[self.slips] > number)
        if not agree.all():
            self.slips, self._may = self.slips[agree], self._may[..., agree]

    def _read(self, stickers: Stickers, places: Shift) -> None:
        """Record what was read of the stickers that come from `places`, if it was not known."""
        for (_, face), place in zip(stickers.facts, places.tolist(), strict=True):
            so = np.arange(6) == FACES.index(face)
            if self._open[place]:
                self._right[:, :, place] = so, ~so
            new = self._open[self._ways.shift[self.slips, place]]
            self._may[:, :, place, new] = np.stack([so, ~so])[..., None]

    def agreeing(self, said: Sequence[_Said], shift: Shift, begun: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """[second slips, slips] which of the slips that have `begun` agree with `said` when followed by second slips
        with the shifts `shift` [second slips, 54]."""
        bits, may = np.packbits(begun, axis=-1), np.packbits(self._may, axis=-1)
        for _, event, places in said:
            if not bits.any():
                break
            bits &= _agrees(may, event, shift[:, places])
        return np.unpackbits(bits, axis=1, count=len(self.slips)).astype(np.bool_)


def _agrees(may: Flags, said: Observation, there: Shift) -> Flags:
    """[second slips, first slips] which pairs agree with `said` if its stickers come from `there` [second slips,
    places]. `may` [2, 6, 54, first slips] is as in _Known."""
    column = {place: number for number, place in enumerate(said.places)}

    def are(facts: Facts, other: bool = False) -> Flags:
        """[second slips, facts, first slips] whether each fact may be true or, with `other`, false."""
        where = there[:, [column[place] for place, _ in facts]]
        return np.asarray(may[int(other)][[FACES.index(face) for _, face in facts], where])

    result: Flags = np.invert(np.zeros((len(there), may.shape[-1]), may.dtype))
    match said:
        case Stickers(facts) | Answered(facts, yes=True):
            result = np.bitwise_and.reduce(are(facts), axis=1)
        case Answered(facts, yes=False):
            result = np.bitwise_or.reduce(are(facts, other=True), axis=1)
        case OneOf(options):
            result = np.bitwise_or.reduce([np.bitwise_and.reduce(are(option), axis=1) for option in options])
        case Look(look):
            for place, so in look.items():
                result &= are(((PLACE_NUMBER[place], "U"),), other=not so)[:, 0]
    return result
