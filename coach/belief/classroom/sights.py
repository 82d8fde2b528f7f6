"""What those of a class see to whom something happened, and the claims that tell one mishap from another.

Where every cube is another, nobody knows which side is in front. So a claim is put like this: turn the whole cube, the
same face up, until you see it; whoever cannot has not got it. Such claims are about stickers of the bottom's colour that
are not there: those are known of every mishap, and nobody has any to whom nothing happened. Where all cubes are alike and
held alike, claims are about stickers of any colour, as the cube is held.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, combinations
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.classroom.mishaps import UNKNOWN, Aftermath
from coach.cube import FACES, PLACE_NAMES, PLACE_NUMBER, Claim, turned
from coach.method import TURNS_ABOUT_UP
from coach.method.unison import Way

Truth: TypeAlias = NDArray[np.bool_]

ANYBODY: Final[Claim] = (("U4", "U"),)
"""What everybody sees who holds the top up: so all of a class take part."""
_ROTATIONS: Final = tuple(turn for turns in TURNS_ABOUT_UP for turn in turns)
_SEEN: Final = tuple(PLACE_NUMBER[f"{face}{n}"] for face in "FURL" for n in range(9) if n != 4)
"""Where to look for a sticker while the hands keep their hold."""
_ALL: Final = (*_SEEN, *(PLACE_NUMBER[f"B{n}"] for n in range(9) if n != 4))
_STICKERS: Final = 4
"""The most stickers of a claim."""


@dataclass(frozen=True)
class Sight:
    """A claim, and how to turn the whole cube until it is true: the first of `ways` whose claim is true now. None is
    true of who cannot, or has it in front already."""

    claim: Claim
    ways: tuple[Way, ...]

    @property
    def now(self) -> tuple[Claim, ...]:
        """One of these is true, however it is held now, of whom the claim can be made true."""
        return (self.claim, *(claim for claim, _ in self.ways))


class Sights:
    """The claims about all mishaps of an aftermath.

    `_shown` [holds, stickers, mishaps] is whether a sticker of `_stickers` is there in a hold with the same face up,
    the first of which is that of the run. `claims` are those to ask for, `true` [claims, mishaps] of whom.
    """

    def __init__(self, aftermath: Aftermath, free: bool) -> None:
        """`free`: nobody knows which side is in front."""
        self._free = free
        patterns = [aftermath.pattern(mishap.done) for mishap in aftermath.mishaps]
        intact = aftermath.pattern(aftermath.intact)
        self._stickers = tuple(_stickers(patterns, intact, free))
        holds = TURNS_ABOUT_UP if free else TURNS_ABOUT_UP[:1]
        letters = np.array([[[*turned(each, hold).encode("ascii")] for each in patterns] for hold in holds], np.uint8)
        places, colours = [place for place, _ in self._stickers], [ord(face) for _, face in self._stickers]
        self._shown = (letters[:, :, places] == np.array(colours, np.uint8)).transpose(0, 2, 1)
        self._intact = np.array([intact[place] == face for place, face in self._stickers])

    @cached_property
    def claims(self) -> tuple[tuple[int, ...], ...]:
        """The claims to choose a question from: one sticker, or two, none of which is at the back; not what is true of
        whom nothing happened to."""
        seen = [number for number, (place, _) in enumerate(self._stickers) if place in _SEEN]
        some = chain(combinations(seen, 1), combinations(seen, 2))
        return tuple(claim for claim in some if not self._intact[[*claim]].all())

    @cached_property
    def true(self) -> Truth:
        """[claims, mishaps] whether a claim can be made true."""
        return np.array([self.of(claim).any(axis=0) for claim in self.claims])

    def of(self, claim: Iterable[int]) -> Truth:
        """[holds, mishaps] whether all stickers of a claim are there."""
        return np.asarray(self._shown[:, [*claim]].all(axis=1))

    def sight(self, claim: Iterable[int]) -> Sight:
        """The claim with the ways to make it true."""
        stickers = [self._stickers[number] for number in claim]
        ways = tuple((_claim(_before(stickers, turn.permutation)), turn) for turn in _ROTATIONS) if self._free else ()
        return Sight(_claim(stickers), ways)

    def telling(self, mishap: int) -> Iterator[tuple[int, ...]]:
        """The claims that are true of a mishap in the hold of the run, the shortest first."""
        there = np.flatnonzero(self._shown[0, :, mishap]).tolist()
        for size in range(1, _STICKERS + 1):
            yield from (some for some in combinations(there, size) if not self._intact[[*some]].all())


def _stickers(patterns: list[str], intact: str, free: bool) -> Iterator[tuple[int, str]]:
    """The stickers to make claims of: what a place shows after some mishap, where that is known of all."""
    for place in _ALL:
        if free:
            yield place, "D"
            continue
        shown = {pattern[place] for pattern in patterns}
        if len(shown) > 1 and UNKNOWN not in shown:
            yield from ((place, face) for face in FACES if face in shown)


def _before(stickers: Iterable[tuple[int, str]], permutation: bytes) -> Iterator[tuple[int, str]]:
    """The stickers that a rotation brings to these places."""
    return ((permutation[place], face) for place, face in stickers)


def _claim(stickers: Iterable[tuple[int, str]]) -> Claim:
    return tuple((PLACE_NAMES[place], face) for place, face in sorted(stickers))
