"""What a case looks like, in words that neither name it nor say how it is held."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.belief.top import TOP_CORNERS, TOP_EDGES
from coach.cube import PLACE_NUMBER, shown
from coach.dialogue.talk import Talk
from coach.method import Step

_SIDES: Final = "FRBL"


def described(talk: Talk, step: Step, pattern: str) -> str:
    """What a learner sees who has come to the step with the top as it is in `pattern`."""
    if step.look == "look-top-edges":
        return _edges(talk, shown(pattern, TOP_EDGES))
    if step.look == "look-top-corners":
        return _corners(talk, shown(pattern, TOP_CORNERS))
    whole = [side for side in _SIDES if _alike(pattern, side, (0, 1, 2))]
    if len(whole) == 1 and all(_alike(pattern, side, (0, 2)) for side in _SIDES):
        return _one_side(talk, pattern, whole[0])
    pairs = [side for side in _SIDES if _alike(pattern, side, (0, 2))]
    return talk.words("telling.pairs", len(pairs), **_named(talk, "faces", pairs))


def _edges(talk: Talk, up: Sequence[str]) -> str:
    return talk.words("telling.edges", len(up), **_named(talk, "places", up))


def _corners(talk: Talk, up: Sequence[str]) -> str:
    return talk.words("telling.corners", len(up), **_named(talk, "places", up))


def _named(talk: Talk, kind: str, names: Sequence[str]) -> dict[str, str]:
    first, second = (*(talk.phrases.part(f"{kind}.{name}") for name in names), "", "")[:2]
    return {"first": first, "second": second}


def _one_side(talk: Talk, pattern: str, whole: str) -> str:
    """Only the side `whole` is done: where the edge across from it belongs tells which way the edges go."""
    across = _SIDES[(_SIDES.index(whole) + 2) % 4]
    edge = pattern[PLACE_NUMBER[f"{across}1"]]
    goes = next(side for side in _SIDES if pattern[PLACE_NUMBER[f"{side}0"]] == edge)
    named = [talk.phrases.part(f"faces.{side}") for side in (whole, across, goes)]
    return talk.words("telling.one-side", whole=named[0], across=named[1], goes=named[2])


def _alike(pattern: str, side: str, columns: Sequence[int]) -> bool:
    return len({pattern[PLACE_NUMBER[f"{side}{column}"]] for column in columns}) == 1
