"""Which question to ask next, and when to stop asking: the hold is settled.

A question is worth its expected information about the pattern in bits. For a yes/no question that is the binary
entropy of the chance of a yes, with all patterns equally likely.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import log2
from typing import Final

from coach.belief.top.belief import TOP_CORNERS, TOP_EDGES, Belief, shape_of
from coach.cube import TOP_CENTRE, Claim, Turn, shown
from coach.method import TURNS_ABOUT_UP, Case, Step

# The side stickers of the top layer, easiest to look at first.
_SIDE_STICKERS: Final = ("F0", "F2", "L2", "R0", "F1", "L1", "R1", "L0", "R2", "B0", "B2", "B1")


@dataclass(frozen=True)
class Settled:
    """What to do, whichever of the possible patterns is the true one."""

    case: Case
    turns: tuple[Turn, ...]
    """How to turn the whole cube into the hold for the case."""


def settle(step: Step, belief: Belief) -> Settled | None:
    """The case and the easiest hold that are right for every pattern of `belief`; None while unsure."""
    case: Case | None = None
    common: tuple[tuple[Turn, ...], ...] = TURNS_ABOUT_UP
    for pattern in belief.patterns:
        found = step.case_of(pattern)
        if case and found is not case:
            return None
        case = found
        holds = found.holds(pattern)
        common = tuple(turns for turns in common if turns in holds)
        if not common:
            return None
    return Settled(case, common[0]) if case else None


def best_claim(step: Step, belief: Belief) -> Claim:
    """The claim whose answer is expected to tell most; among equals the one likeliest to settle the hold,
    then the one that is easiest to look at. Never one whose answer is already known."""
    claims = [claim for claim in _claims(belief) if 0 < _yes(belief, claim) < len(belief)]
    if not claims:
        raise ValueError("nothing is left to ask: the belief is settled or empty")

    def worth(claim: Claim) -> tuple[float, float]:
        share = _yes(belief, claim) / len(belief)
        settled = sum(
            len(part)
            for part in (belief.answering(claim, True), belief.answering(claim, False))
            if settle(step, part)
        )
        return round(_entropy(share), 9), settled / len(belief)

    return max(claims, key=worth)  # max keeps the first of equals, which is the easiest


def balance(yes: int, of: int) -> float:
    """The expected information, in bits, of a yes/no question that is answered with yes in `yes` of `of` equally
    likely cases."""
    return _entropy(yes / of) if 0 < yes < of else 0.0


def _yes(belief: Belief, claim: Claim) -> int:
    return len(belief.answering(claim, True))


def _entropy(share: float) -> float:
    return -share * log2(share) - (1 - share) * log2(1 - share)


def _claims(belief: Belief) -> Iterator[Claim]:
    """The yes/no questions to choose from, easiest to answer first."""
    if not belief:
        return
    up = next(iter(belief.patterns))[TOP_CENTRE]
    yield tuple((place, up) for place in TOP_EDGES)
    yield tuple((place, up) for place in TOP_CORNERS)
    for pair in (("U3", "U5"), ("U1", "U7")):
        yield tuple((place, up) for place in pair)
    for place in (*TOP_EDGES, *TOP_CORNERS, *_SIDE_STICKERS):
        yield ((place, up),)


def prediction(belief: Belief, places: tuple[str, ...]) -> Claim | None:
    """What must be seen at `places`, if that is certain: where the top colour shows, and for the other places
    the side on which it shows instead. None while they may look more than one way."""
    if len(belief.views(places)) != 1:
        return None
    pattern = next(iter(belief.patterns))
    up = pattern[TOP_CENTRE]
    seen = shown(pattern, places)
    aside = [p for p in _SIDE_STICKERS if _beside(p) in places and belief.sure(((p, up),))]
    return tuple((place, up) for place in (*seen, *aside))


def _beside(side: str) -> str:
    """The place on top of the piece that has the sticker `side` of the top layer."""
    return {
        "F": ("U6", "U7", "U8"), "R": ("U8", "U5", "U2"), "B": ("U2", "U1", "U0"), "L": ("U0", "U3", "U6"),
    }[side[0]][int(side[1])]  # fmt: skip


def shape(belief: Belief) -> str | None:
    """The shape of the top edges if it is certain."""
    shapes = {shape_of(pattern) for pattern in belief.patterns}
    return shapes.pop() if len(shapes) == 1 else None
