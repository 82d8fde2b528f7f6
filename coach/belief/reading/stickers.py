"""A cube that is being read aloud: the stickers known so far, and what follows from them.

Everything here is exact: the sums of `coach.belief.reading.completion` take into account all legal cubes that
agree with the stickers. So the reading is over as soon as the rest follows from the laws of the cube.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coach.belief.reading.completion import Completions, Floats
from coach.cube import FACES, PLACE_NAMES, PLACE_NUMBER, ROTATIONS, Cube, Turn, from_faces, turned

UNKNOWN: Final = "."


@dataclass(frozen=True)
class KnownStickers:
    """The known stickers of a cube, as the learner holds it; immutable and hashable.

    `pattern` has 54 letters: for every place, the face that the sticker's colour belongs to on the solved
    cube, or "." if it is not known. The six centres are always known: they are the hold.
    """

    pattern: str

    def __post_init__(self) -> None:
        if len(self.pattern) != 54 or set(self.pattern) - set(FACES + UNKNOWN):
            raise ValueError(f"54 letters of {FACES}. are needed, not {self.pattern[:60]!r}")
        if sorted(self.centres) != sorted(FACES):
            raise ValueError(f"each face has one centre, but the centres are {self.centres}")

    @classmethod
    def of(cls, cube: Cube, places: Iterable[str] = ()) -> KnownStickers:
        """What is known of `cube` when only `places` (and the centres) have been read."""
        seen = {PLACE_NUMBER[place] for place in places} | set(range(4, 54, 9))
        return cls("".join(face if place in seen else UNKNOWN for place, face in enumerate(cube.faces)))

    @property
    def centres(self) -> str:
        """The hold: the letters of the centres, in the order of FACES."""
        return self.pattern[4::9]

    def centre(self, face: str) -> str:
        """The letter of the centre on a face in this hold."""
        return self.centres[FACES.index(face)]

    def side(self, letter: str) -> str:
        """The face in this hold that the centre with that letter is on."""
        return FACES[self.centres.index(letter)]

    @property
    def read(self) -> tuple[str, ...]:
        """The places read so far, without the centres."""
        return tuple(PLACE_NAMES[i] for i, face in enumerate(self.pattern) if face != UNKNOWN and i % 9 != 4)

    def seeing(self, stickers: Mapping[str, str]) -> KnownStickers:
        """The reading with `stickers` (place: face of the colour) known, replacing what was known of them before.

        Raises ValueError if a centre contradicts the hold.
        """
        letters = list(self.pattern)
        for place, face in stickers.items():
            number = PLACE_NUMBER[place]
            if number % 9 == 4 and letters[number] != face:
                raise ValueError(f"the centre {place} is {letters[number]} in this hold, not {face}")
            letters[number] = face
        return KnownStickers("".join(letters))

    def without(self, places: Iterable[str]) -> KnownStickers:
        """The reading with the stickers at `places` no longer known."""
        return self.seeing(dict.fromkeys(places, UNKNOWN))

    @property
    def righting(self) -> tuple[Turn, ...]:
        """The turns of the whole cube that bring its top back on top."""
        ways = ((), *((turn,) for turn in ROTATIONS))
        return next(turns for turns in ways if self.after(turns).centre("U") == "U")

    def after(self, turns: Iterable[Turn]) -> KnownStickers:
        """The same knowledge once the learner has turned the cube, or its faces."""
        return KnownStickers(turned(self.pattern, turns))


def ways(reading: KnownStickers) -> int:
    """The number of legal cubes that agree with `reading`; 0 if the stickers contradict each other."""
    return completions(reading).count


def forced(reading: KnownStickers) -> dict[str, str]:
    """The unread stickers (place: face) that already follow from the pieces and the laws of the cube.

    Empty if the stickers contradict each other.
    """
    if not ways(reading):
        return {}
    possible = completions(reading).stickers() > 0
    return {
        PLACE_NAMES[place]: reading.centres[possible[place].argmax()]
        for place in np.flatnonzero(possible.sum(axis=1) == 1).tolist()
        if reading.pattern[place] == UNKNOWN
    }


def solution(reading: KnownStickers) -> Cube | None:
    """The cube, as it is held, if exactly one legal cube is left; None if there are several, or none."""
    if ways(reading) != 1:
        return None
    return from_faces(reading.seeing(forced(reading)).pattern)


@lru_cache(maxsize=64)
def completions(reading: KnownStickers) -> Completions:
    """All legal cubes that agree with `reading`. Its faces are those of the hold, as in Completions.

    The most recent ones are cached, up to 0.6 MB each. The cache holds two for each of 30 concurrent lessons, which
    then miss no more often than the same lessons one after the other.
    """
    known = np.array([[face in (UNKNOWN, centre) for centre in reading.centres] for face in reading.pattern])
    return Completions(known.astype(np.float64))


def by_letter(reading: KnownStickers, faces: Floats) -> Floats:
    """`faces` [54 places, faces of the hold] with its columns reordered by colour, in the order of FACES."""
    return faces[:, [reading.centres.index(face) for face in FACES]]


def by_hold(reading: KnownStickers, letters: Floats) -> Floats:
    """The reverse of `by_letter`."""
    return letters[:, [FACES.index(centre) for centre in reading.centres]]
