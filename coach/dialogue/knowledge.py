"""What the coach knows during a lesson, carried through every turn that it calls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from coach.belief import Belief
from coach.belief.reading import UNKNOWN, Reading
from coach.belief.whereabouts import certain, only_centres, possible_tops, with_home
from coach.cube import Turn

LOWER_PIECES = (
    "DF", "DR", "DB", "DL", "DFR", "DBR", "DBL", "DFL", "FR", "BR", "BL", "FL",
)  # fmt: skip
"""The pieces of the two lower layers by their home positions, in the order of the steps."""

DEFAULT_COLOURS = {"U": "yellow", "R": "orange", "F": "green", "D": "white", "L": "red", "B": "blue"}


def plain_colours(colours: Mapping[str, str]) -> dict[str, str]:
    """For every face one of the six usual colour words: its own name where that is one, else one left over."""
    usual = set(DEFAULT_COLOURS.values())
    plain = {face: name for face, name in colours.items() if name in usual}
    left = sorted(usual - set(plain.values()))
    return {face: plain.get(face) or left.pop() for face in colours}


def marks_of(colours: Mapping[str, str]) -> dict[str, str]:
    """The learner's own names, each with the plain colour word that stands for it."""
    plain = plain_colours(colours)
    return {name: plain[face] for face, name in colours.items() if name != plain[face]}


@dataclass
class Knowledge:
    """The stickers known of the cube in the present hold, and, once the two lower layers are done, the
    patterns that the top may still have."""

    reading: Reading
    colours: dict[str, str] = field(default_factory=lambda: dict(DEFAULT_COLOURS))
    top: Belief = field(default_factory=lambda: Belief(frozenset()))

    def move(self, turns: Iterable[Turn]) -> None:
        """The learner has done `turns`."""
        turns = tuple(turns)
        self.reading = self.reading.after(turns)
        self.top = self.top.after(turns)

    @property
    def complete(self) -> bool:
        """Whether every sticker is known."""
        return UNKNOWN not in self.reading.pattern

    def forget_top(self) -> None:
        """Only the hold and the two lower layers are taken to be as they should."""
        self.reading = with_home(only_centres(self.reading), LOWER_PIECES)
        self.top = possible_tops(self.reading, ordered=False)

    def forget_all(self) -> None:
        """Only the hold is known."""
        self.reading = only_centres(self.reading)
        self.top = Belief(frozenset())

    def open_top(self, ordered: bool) -> None:
        """Begin to think in patterns of the top: all that agree with the stickers known."""
        if self.top:
            self.reading = certain(self.reading, self.top)
        fresh = not self.top or ordered != _ordered(self.top)
        if fresh:
            self.top = possible_tops(self.reading, ordered)

    def colour(self, face: str) -> str:
        """The word for the colour of the face `face` on the solved cube."""
        return self.colours[face]

    def face_of(self, colour: str) -> str | None:
        """The face whose colour is called `colour`, by the learner or in plain words; None for another."""
        names = (*self.colours.items(), *plain_colours(self.colours).items())
        return next((face for face, name in names if name == colour), None)


def _ordered(top: Belief) -> bool:
    return all(UNKNOWN not in pattern for pattern in top.patterns)
