"""What a learner says about a turn that went wrong: which turn it was, and what they did instead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Way: TypeAlias = Literal["left", "right", "up", "down", "clockwise", "anticlockwise", ""]
How: TypeAlias = Literal["skipped", "twice", "once", "other-way", "swapped", "added", "none", ""]
EARLIER: Final = -1
"""Used instead of a number for some turn earlier than the last one, whichever is named."""


@dataclass(frozen=True)
class NamedTurn:
    """A turn as far as it is named: by its `face` and the `way` it goes; `either` is "left" or "right" where that may
    be the one or the other."""

    face: str = ""
    way: Way = ""
    either: Way = ""


@dataclass(frozen=True)
class Telling:
    """`how` a turn was done, what they `did`, and what was `called` instead. `back` counts from the turn called last
    (0), or is EARLIER; None if they do not say which turn it was. If two were "swapped", `did` is the one that they did
    first; with "none", no turn of the run is done, or none of the `back` last ones. `whole`: it was a turn of the whole
    cube. `nth` counts from 1, or back from -1, among the calls that the rest may mean; with `of_parts`, among the parts
    of a sequence instead: then it is all turns of that one. `plain`: it cannot mean anything else, whatever the
    sentence looks like."""

    how: How = ""
    did: NamedTurn = NamedTurn()
    called: NamedTurn = NamedTurn()
    back: int | None = None
    nth: int | None = None
    of_parts: bool = False
    plain: bool = False
    whole: bool = False

    @property
    def faces(self) -> frozenset[str]:
        """The faces that are named."""
        return frozenset({self.did.face, self.called.face} - {""})
