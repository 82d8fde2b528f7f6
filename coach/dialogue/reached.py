"""What a part of the lesson has reached once it is over; the lesson continues from there."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Done:
    """The part is done."""


@dataclass(frozen=True)
class Back:
    """The top is not as far as thought: the top steps start again, with nothing known about it."""


@dataclass(frozen=True)
class FromTheBottom:
    """What is known of the cube is right, but what earlier steps did is undone."""


@dataclass(frozen=True)
class Reread:
    """The cube has to be read. `why` is the key of the sentence that says so; "" if the learner has asked for it."""

    why: str = "read.why"


Reached = Done | Back | FromTheBottom | Reread


@dataclass(frozen=True)
class Anew:
    """The part goes on from what is known now."""


class PartOver(Exception):
    """Ends the work of a part of the lesson from deep inside it. It never leaves the part: `Part.go` returns what was
    reached."""

    def __init__(self, reached: Reached | Anew) -> None:
        super().__init__(reached)
        self.reached = reached
