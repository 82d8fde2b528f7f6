"""What a learner tells of a turn that went wrong: of which turn they speak, and what they did in its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Way: TypeAlias = Literal["left", "right", "up", "down", "clockwise", "anticlockwise", ""]
How: TypeAlias = Literal["skipped", "twice", "once", "other-way", ""]


@dataclass(frozen=True)
class Part:
    """A turn as far as it is named: by its `face` and the `way` it goes; `either` is "left" or "right" where that may
    be the one or the other."""

    face: str = ""
    way: Way = ""
    either: Way = ""


@dataclass(frozen=True)
class Telling:
    """`how` a turn was done, what they `did`, and what was `called` instead of which they did it. `back` counts from
    the turn called last (0); None where they do not say which turn it was. `plain`: it can be meant of nothing else,
    whatever the sentence seems to be."""

    how: How = ""
    did: Part = Part()
    called: Part = Part()
    back: int | None = None
    plain: bool = False

    @property
    def faces(self) -> frozenset[str]:
        """The faces that are named."""
        return frozenset({self.did.face, self.called.face} - {""})
