"""What a method is made of: steps, their cases, the hold and the sequence for each case.

There are three kinds of steps. A `Step` goes by the pattern of the top: the learner looks, the case is found and its
sequence is run, until the goal is reached. A `PlacingStep` brings pieces to their slots one by one, by cases, and
a `PlannedStep` leaves the turns to a search (placing.py).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from coach.cube import PLACE_NUMBER, Turn, all_shown, shown, turned
from coach.method.sequences import NamedSequence, Spoken

STEP_IDS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip
"""All the steps that a method may have, from the bottom up."""

TURNS_ABOUT_UP: Final = ((), (Turn("U", 1, 3),), (Turn("U", 3, 3),), (Turn("U", 2, 3),))
"""The four holds with the same face up, the least effort first: as it is, y, y', y2."""

TOP_EDGES: Final = ("U1", "U3", "U5", "U7")
TOP_CORNERS: Final = ("U0", "U2", "U6", "U8")
_ROUND: Final = "FLBR"
"""The sides in the order in which a clockwise turn of the top brings them there."""
_SIDES: Final = tuple((f"{face}0", f"{face}1", f"{face}2") for face in "FRBL")


@dataclass(frozen=True)
class Condition:
    """Places that must show the top colour, and groups of places that must each be of one colour."""

    shows: tuple[str, ...] = ()
    same: tuple[tuple[str, ...], ...] = ()

    def holds(self, pattern: str) -> bool:
        """Whether `pattern` meets the condition."""
        return all_shown(pattern, self.shows) and all(_alike(pattern, group) for group in self.same)


def _alike(pattern: str, places: tuple[str, ...]) -> bool:
    return len({pattern[PLACE_NUMBER[place]] for place in places}) == 1


COUNTERS: Final = {
    "edges": lambda pattern: len(shown(pattern, TOP_EDGES)),
    "corners": lambda pattern: len(shown(pattern, TOP_CORNERS)),
    "pairs": lambda pattern: sum(_alike(pattern, (left, right)) for left, _, right in _SIDES),
    "sides": lambda pattern: sum(_alike(pattern, side) for side in _SIDES),
}
"""What a case may count: top edges and top corners that show the top colour; sides whose two upper corners
have the same colour; sides whose whole upper row does."""


@dataclass(frozen=True)
class Case(Spoken):
    """A pattern the learner may see, and what to do about it (nothing when the goal is reached)."""

    id: str
    count: Mapping[str, int]
    hold: Condition
    named: NamedSequence | None

    @property
    def sequence(self) -> tuple[Turn, ...]:
        """The turns to do."""
        return self.named.turns if self.named else ()

    def fits(self, pattern: str) -> bool:
        """Whether `pattern` is this case, in any hold."""
        counted = all(COUNTERS[what](pattern) == number for what, number in self.count.items())
        return counted and bool(self.holds(pattern))

    def holds(self, pattern: str) -> tuple[tuple[Turn, ...], ...]:
        """The whole-cube turns after which the sequence may be done, the least effort first."""
        return tuple(turns for turns in TURNS_ABOUT_UP if self.hold.holds(turned(pattern, turns)))

    def say(self, language: str, what: str) -> str:
        """The method file's words for this case: its "name" or its "hold", and "why" its sequence works."""
        return super().say(language, what) or (self.named.say(language, what) if self.named else "")


@dataclass(frozen=True)
class Step(Spoken):
    """A step that goes by the pattern of the top. `align` says that the top may still be off by a turn at
    the goal and is turned into place at the end. Its words say where to `look` before a sequence, what is there
    when the step is `done`, and how to tell the last turn (`align`)."""

    id: str
    look: str
    needs: Condition
    goal: Condition
    runs: int
    cases: tuple[Case, ...]
    align: bool = False

    def ready(self, pattern: str) -> bool:
        """Whether the step may start from `pattern`."""
        return self.needs.holds(pattern)

    def done(self, pattern: str) -> bool:
        """Whether `pattern` has reached the step's goal."""
        return self.goal.holds(pattern)

    def case_of(self, pattern: str) -> Case:
        """The case of `pattern`; in a proven method there is exactly one."""
        return next(case for case in self.cases if case.fits(pattern))

    @property
    def permutes(self) -> bool:
        """Whether the step goes by where the top pieces are, not only by their orientation."""
        conditions = (self.needs, self.goal, *(case.hold for case in self.cases))
        counted = {what for case in self.cases for what in case.count}
        return any(condition.same for condition in conditions) or bool(counted & {"pairs", "sides"})


def last_turn(pattern: str, side: str = "F") -> tuple[Turn, ...]:
    """The turn of the top that brings the upper row of `side` above the centre of its own colour, or no turn if it is
    there already. This is how a person tells how far to turn, and every side gives the same answer."""
    colour = pattern[PLACE_NUMBER[f"{side}1"]]
    home = next((face for face in _ROUND if pattern[PLACE_NUMBER[f"{face}4"]] == colour), side)
    quarters = (_ROUND.index(home) - _ROUND.index(side)) % 4
    return (Turn("U", quarters),) if quarters else ()
