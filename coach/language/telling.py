"""What a learner tells of a turn that went wrong: of which turn they speak, and what they did in its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Way: TypeAlias = Literal["left", "right", "up", "down", "clockwise", "anticlockwise", ""]
How: TypeAlias = Literal["skipped", "twice", "once", "other-way", "swapped", "added", ""]
EARLIER: Final = -1
"""In place of a number: an earlier turn than the last, whichever is named."""


@dataclass(frozen=True)
class NamedTurn:
    """A turn as far as it is named: by its `face` and the `way` it goes; `either` is "left" or "right" where that may
    be the one or the other."""

    face: str = ""
    way: Way = ""
    either: Way = ""


@dataclass(frozen=True)
class Telling:
    """`how` a turn was done, what they `did`, and what was `called` instead of which they did it. `back` counts from
    the turn called last (0), or is EARLIER; None where they do not say which turn it was. Of two that were "swapped",
    `did` is the one that they did first. `plain`: it can be meant of nothing else, whatever the sentence seems."""

    how: How = ""
    did: NamedTurn = NamedTurn()
    called: NamedTurn = NamedTurn()
    back: int | None = None
    plain: bool = False

    @property
    def faces(self) -> frozenset[str]:
        """The faces that are named."""
        return frozenset({self.did.face, self.called.face} - {""})
