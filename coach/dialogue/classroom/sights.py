"""What is claimed of a pupil's cube, in the words of the class for the colours."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from coach.cube import PLACE_NAMES, Claim
from coach.dialogue.acts import Claimed, Sight
from coach.method.last_layer import LOWER
from coach.method.unison import About

BOTTOM: Final[Claim] = tuple((f"D{place}", "D") for place in range(9))
"""The whole bottom is of its colour."""
LOWER_LAYERS: Final[Claim] = tuple((PLACE_NAMES[place], PLACE_NAMES[place][0]) for place in LOWER)
"""The two lower layers are finished; held with the side in front that was there at the start."""
SOLVED: Final[Claim] = tuple((place, place[0]) for place in PLACE_NAMES)
"""The cube is solved, held the same way."""


def claimed(claim: Claim, colours: Mapping[str, str]) -> tuple[Claimed, ...]:
    """The claim in words for the colours."""
    return tuple(Claimed(place[0], int(place[1]), colours[face]) for place, face in claim)


def sight(about: About, colours: Mapping[str, str]) -> Sight:
    """What hands go up for, in these words."""
    return about if isinstance(about, str) else claimed(about, colours)
