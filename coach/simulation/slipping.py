"""A simulated learner that makes slips: omits, repeats or reverses turns, holds the cube wrong."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Final

from coach.cube import FACE_TURNS, Cube, Turn, opposite, parse
from coach.dialogue import CallTurn, Say
from coach.simulation.learner import Learner

SLIPS: Final = (
    "left-out", "twice", "reversed", "half-for-quarter", "neighbour", "mirror", "hold", "cube-turned",
)  # fmt: skip
_ROTATIONS: Final = ("y", "y'", "y2", "x", "x'", "z", "z'")


class SlippingLearner(Learner):
    """A learner that makes the slips chosen by `slips`: given the number of a call (0: the first) and its act, it
    returns the kind of slip, or "" for none."""

    def __init__(self, cube: Cube, random: Random, slips: Callable[[int, CallTurn], str]) -> None:
        super().__init__(cube, random)
        self._slips = slips
        self.calls = 0
        self.slipped: list[tuple[int, str]] = []

    def hear(self, say: Say) -> None:
        """Take in what the coach says, and sometimes do it wrong."""
        if not isinstance(say, CallTurn):
            super().hear(say)
            return
        kind = self._slips(self.calls, say)
        done = wrongly(kind, say.turn, self.random) if kind else (say.turn,)
        if kind:
            self.slipped.append((self.calls, kind))
        self.calls += 1
        self.do(done)


def wrongly(kind: str, turn: Turn, random: Random) -> tuple[Turn, ...]:
    """What is done instead of `turn` in a slip of that kind."""
    half = turn.quarters == 2
    if kind == "left-out":
        return ()
    if kind == "twice":
        return () if half else (Turn(turn.face, 2),)
    if kind == "reversed":
        return (Turn(turn.face, 1 if half else 4 - turn.quarters),)
    if kind == "half-for-quarter":
        return (Turn(turn.face, random.choice((1, 3)) if half else 2),)
    if kind == "neighbour":
        sides = [it for it in FACE_TURNS if it.face not in (turn.face, opposite(turn.face))]
        return (random.choice([it for it in sides if it.quarters == turn.quarters]),)
    if kind == "mirror":
        return (Turn(opposite(turn.face), random.choice((turn.quarters, 4 - turn.quarters))),)
    return (*parse(random.choice(_ROTATIONS)), turn)
