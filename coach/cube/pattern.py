"""Patterns: what is seen or known of a cube, as 54 letters.

Each sticker place has the letter of the face that its colour belongs to on the solved cube (one of
FACES), or another mark if it is not known. `Cube.faces` is the pattern of a fully known cube.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, TypeAlias

from coach.cube.geometry import PLACE_NUMBER, compose
from coach.cube.turns import Turn

TOP_CENTRE: Final = PLACE_NUMBER["U4"]
"""The place in the middle of the top."""
Claim: TypeAlias = tuple[tuple[str, str], ...]
"""Sticker places, each with the face whose colour it is said to have; the claim is true if all are."""


def turned(pattern: str, turns: Iterable[Turn]) -> str:
    """The pattern after `turns`."""
    letters = pattern.encode("ascii")
    for turn in turns:
        letters = compose(letters, turn.permutation)
    return letters.decode("ascii")


def shown(pattern: str, places: Iterable[str]) -> tuple[str, ...]:
    """Those of `places` that have the colour of the centre that is on top."""
    return tuple(place for place in places if pattern[PLACE_NUMBER[place]] == pattern[TOP_CENTRE])


def all_shown(pattern: str, places: Iterable[str]) -> bool:
    """Whether all of `places` have the colour of the centre that is on top."""
    return all(pattern[PLACE_NUMBER[place]] == pattern[TOP_CENTRE] for place in places)


def claim_holds(pattern: str, claim: Claim) -> bool:
    """Whether every sticker of `claim` has the colour claimed."""
    return all(pattern[PLACE_NUMBER[place]] == face for place, face in claim)
