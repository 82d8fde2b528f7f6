"""What those of a class see to whom something happened, and the claims that tell one mishap from another.

Where every cube is another, nobody knows which side is in front. So a claim is put like this: turn the whole cube, the
same face up, until you see it; whoever cannot has not got it. A question is about stickers of the bottom's colour,
because it is known where they are after every mishap. To tell who does a repair there are also stickers that match the
middle of a side. Where all cubes are alike and held alike, claims are about any stickers, as the cube is held.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, combinations, groupby, permutations
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.classroom.mishaps import UNKNOWN, Aftermath
from coach.cube import FACE_PLACES, FACES, PLACE_NAMES, PLACE_NUMBER, Claim, Cube, Turn
from coach.method import TURNS_ABOUT_UP
from coach.method.unison import Way

Truth: TypeAlias = NDArray[np.bool_]
Stickers: TypeAlias = tuple[int, ...]
"""A claim, as numbers of stickers."""

_SIDES: Final = "FRBL"
_SEEN: Final = tuple(PLACE_NUMBER[f"{face}{n}"] for face in "FURL" for n in range(9) if n != 4)
"""Where to look for a sticker while the hands keep their hold."""
_BELOW: Final = ("01235678", "1357", "0268", "012", "35", "013")
"""Parts of the bottom to ask for, each quickly said: all of it, its cross, its corners, a row, and so on."""
FEW: Final = 3
"""A claim has so many stickers at most, unless they have one name: more cannot be followed by ear."""
_BELOW_THE_BACK: Final = tuple(PLACE_NUMBER[f"D{n}"] for n in (6, 7, 8))
_MANY: Final = 9
"""The claim of a repair begins with one fewer where there are more than so many to choose from."""


@dataclass(frozen=True)
class Sight:
    """A claim as it is once the cube is turned right, and how to turn it there: the first of `ways` whose claim is true
    now. `right` are the claims of those who need not turn; they, and who finds a way, have what the claim says."""

    claim: Claim
    right: tuple[Claim, ...]
    ways: tuple[Way, ...]

    @property
    def now(self) -> tuple[Claim, ...]:
        """One of these is true, however it is held now, of whom the claim can be made true."""
        return (*self.right, *(claim for claim, _ in self.ways))


class Sights:
    """The claims about all mishaps of an aftermath, and about a cube to which nothing happened, which is the last.

    A sticker is a place and the face whose middle it matches in the present hold. `_shown` and `_maybe` [holds,
    stickers, mishaps + 1] are whether it is there, surely and possibly, in a hold with the same face up, the first of
    which is that of the run. `claims` are those to ask for, `true` [claims, mishaps + 1] of whom.
    """

    def __init__(self, aftermath: Aftermath, free: bool) -> None:
        """`free`: nobody knows which side is in front; then there may be others who have rested."""
        self._free = free
        self._weights = np.array([mishap.weight for mishap in aftermath.mishaps])
        cubes = [*(mishap.done for mishap in aftermath.mishaps), aftermath.intact, Cube()]
        rotations = TURNS_ABOUT_UP if free else TURNS_ABOUT_UP[:1]
        patterns = [[_held(aftermath.pattern(cube), turns) for cube in cubes] for turns in rotations]
        letters = np.array([[[*each.encode("ascii")] for each in held] for held in patterns], np.uint8)
        told = [face for face in FACES if not (free and face == "U")]
        self._stickers = [(place, face) for place in range(54) if place % 9 != 4 for face in told]
        there = letters[:, :, [place for place, _ in self._stickers]].transpose(0, 2, 1)
        wanted = np.array([[ord(face)] for _, face in self._stickers], np.uint8)
        shown = there == wanted
        maybe = shown | ((there == ord(UNKNOWN)) & (wanted != ord("D")))
        self._shown, self._maybe = shown[:, :, :-1], maybe[:, :, :-1]
        ended = aftermath.pattern(aftermath.intact)
        self._halfway = free and any(ended[place] != "D" for place in FACE_PLACES["D"])
        self._resting = maybe[:, :, -1] & self._halfway
        self._number = {sticker: number for number, sticker in enumerate(self._stickers)}

    @cached_property
    def claims(self) -> tuple[Stickers, ...]:
        """The claims to choose a question from: a sticker or two, none of which is at the back, or a part of the
        bottom. All are certain of every mishap."""
        sure = (self._shown == self._maybe).all(axis=(0, 2)) & (self._shown.any(axis=(0, 2)))
        asked = [number for number in np.flatnonzero(sure).tolist() if self._askable(self._stickers[number])]
        below = [tuple(self._number[PLACE_NUMBER[f"D{n}"], "D"] for n in part) for part in _BELOW]
        claims = (*chain(combinations(asked, 1), combinations(asked, 2)), *below)
        return tuple(claim for claim in claims if not self._of_resting(claim))

    def _askable(self, sticker: tuple[int, str]) -> bool:
        place, face = sticker
        return place in _SEEN and (face == "D" or not self._free)

    @cached_property
    def true(self) -> Truth:
        """[claims, mishaps + 1] whether a claim can be made true."""
        by_size = [[*claims] for _, claims in groupby(self.claims, len)]
        return np.concatenate([self._shown[:, np.array(each)].all(axis=2).any(axis=0) for each in by_size])

    def surely(self, claim: Stickers) -> Truth:
        """[holds, mishaps + 1] whether all stickers of a claim are there."""
        return np.asarray(self._shown[:, claim].all(axis=1))

    def possibly(self, claim: Stickers) -> Truth:
        """[holds, mishaps + 1] whether they may be."""
        return np.asarray(self._maybe[:, claim].all(axis=1))

    def telling(self, mishap: int) -> Iterator[Stickers]:
        """Claims that are true of a mishap in the hold of the run, the shortest first, about stickers that are not
        there if nothing happened: those of the bottom's colour, or of any if all cubes are alike."""
        away = self._shown[0, :, mishap] & ~self._maybe[0, :, -1]
        telling = [n for n in np.flatnonzero(away).tolist() if not self._free or self._stickers[n][1] == "D"]
        telling = self._easy(telling)
        for size in range(1, FEW + 1 if len(telling) <= _MANY else FEW):
            yield from combinations(telling, size)

    def of_nobody_well(self, claim: Stickers) -> bool:
        """Whether the claim is false, in every hold, if nothing happened, or of who rests."""
        return not (self.possibly(claim)[:, -1].any() or self._of_resting(claim))

    def _of_resting(self, claim: Stickers) -> bool:
        """Whether a claim may be true, in some hold, of who has not begun the run whose midst this is."""
        return self._halfway and bool(self._resting[:, claim].all(axis=1).any())

    @property
    def of_well(self) -> list[int]:
        """The stickers of the bottom's colour, none of them at the back, that are there if nothing happened."""
        shown = np.flatnonzero(self._shown[0, :, -1]).tolist()
        return self._easy([n for n in shown if self._stickers[n][1] == "D"])

    def _easy(self, numbers: list[int]) -> list[int]:
        """Those of these stickers that are not at the back; the ones of the bottom's row at the back come last, so that
        they are chosen only where no others tell as much."""
        seen = [n for n in numbers if PLACE_NAMES[self._stickers[n][0]][0] != "B"]
        return sorted(seen, key=lambda n: self._stickers[n][0] in _BELOW_THE_BACK)

    def only_in_hold(self, claim: Stickers) -> bool:
        """Whether the claim leads who is well into the hold of the run, and is false of who rests."""
        return not (self._of_resting(claim) or self.possibly(claim)[1:, -1].any())

    def share_shown(self, claim: Stickers) -> float:
        """How much of what may have happened shows by the claim being false in every hold."""
        missed = self.surely(claim)[:, :-1].any(axis=0)
        return float(1 - (self._weights * missed).sum() / self._weights.sum())

    def longer(self, mishap: int, claim: Stickers) -> Iterator[Stickers]:
        """The claim with one more sticker that is there after the mishap, seen from the hold of the run, if it is short
        enough."""
        if len(claim) >= FEW:
            return
        for number in np.flatnonzero(self._shown[0, :, mishap]).tolist():
            if number not in claim and self._stickers[number][0] in _SEEN:
                yield (*claim, number)

    def sight(self, claim: Stickers) -> Sight:
        """The claim with the ways to make it true."""
        stickers = [self._stickers[number] for number in claim]
        now, *turned = ([*_coloured(stickers, turns, self._free)] for turns in (TURNS_ABOUT_UP if self._free else [()]))
        rotations = [turn for turns in TURNS_ABOUT_UP for turn in turns]
        ways = [(each, turn) for turn, claims in zip(rotations, turned, strict=False) for each in claims]
        return Sight(now[0], tuple(now), tuple(ways))


def _held(pattern: str, turns: tuple[Turn, ...]) -> str:
    """The pattern after the whole cube was turned, each colour as the face whose middle has it then."""
    for turn in turns:
        pattern = "".join(pattern[source] for source in turn.permutation)
    names = {pattern[9 * n + 4]: face for n, face in enumerate(FACES)}
    return "".join(names.get(letter, letter) for letter in pattern)


def _coloured(stickers: list[tuple[int, str]], turns: tuple[Turn, ...], free: bool) -> Iterator[Claim]:
    """The claims of which one is true before a rotation that makes the stickers match: in any colours of the sides that
    they are about, each with the middle that has it."""
    sides = sorted({face for _, face in stickers if face in _SIDES}) if free else []
    source = turns[0].permutation if turns else bytes(range(54))
    for colours in permutations(_SIDES, len(sides)):
        named = dict(zip(sides, colours, strict=True))
        matched = {(source[9 * FACES.index(side) + 4], colour) for side, colour in named.items()}
        claimed = matched | {(source[place], named.get(face, face)) for place, face in stickers}
        yield tuple((PLACE_NAMES[place], face) for place, face in sorted(claimed))
