"""Steps that bring pieces to their slots one by one.

The cube is held so that the slot is at the front (`slot`: "DF" for an edge of the bottom cross) or at the front
right ("DFR" for a corner, "FR" for a middle edge). Turns of the top bring a piece in the top layer to the place
where a case wants it (`at`), then the case's sequence puts it in. A piece that lies lower, either in another place or
in its own the wrong way round, is held at `at` and first taken out to the top by a case without a colour.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from coach.cube import FACES, PLACE_NAMES, POSITIONS, Turn
from coach.method.model import TURNS_ABOUT_UP
from coach.method.sequences import NamedSequence, Spoken

Placement = tuple[int, ...]
"""Where the stickers of one piece are, in the order of its home position's name."""

LOWER_PIECES: Final[Mapping[str, tuple[str, ...]]] = {
    "bottom-cross": ("DF", "DL", "DB", "DR"),
    "bottom-corners": ("DFR", "DBR", "DBL", "DFL"),
    "middle-edges": ("FR", "BR", "BL", "FL"),
}
"""What each step of the two lower layers places, in the order of the steps."""
LAYERS: Final = {"top": "U", "middle": "M", "bottom": "D"}
TOP_TURNS: Final = ((), (Turn("U"),), (Turn("U", 3),), (Turn("U", 2),))
"""The ways to turn the top, the least effort first."""


class NoMoveError(ValueError):
    """No case moves a piece on from where it lies; a proven step has a case for every placement."""


def moved(placement: Placement, turns: tuple[Turn, ...]) -> Placement:
    """The placement after `turns`."""
    for turn in turns:
        placement = tuple(map(turn.permutation.index, placement))
    return placement


def layer_of(placement: Placement) -> str:
    """The layer that a piece is in: U, M or D."""
    faces = {PLACE_NAMES[place][0] for place in placement}
    return next((layer for layer in "UD" if layer in faces), "M")


@dataclass(frozen=True)
class PlacingCase(Spoken):
    """How a piece may lie at `at`. In the top layer, the sticker with the colour of face `colour` (in the hold) shows
    on face `on`, and the sequence puts the piece into the slot. Lower down, `colour` and `on` are empty, and the
    sequence takes the piece out to the top, however it lies there."""

    id: str
    at: str
    colour: str
    on: str
    named: NamedSequence

    @property
    def sequence(self) -> tuple[Turn, ...]:
        """The turns to do."""
        return self.named.turns

    @property
    def takes_out(self) -> bool:
        """Whether the piece only comes out to the top."""
        return not self.colour

    def meets(self, placement: Placement, home: Placement) -> bool:
        """Whether a piece that belongs at `home` and lies at `placement` fits this case in the present hold."""
        if set(placement) != set(POSITIONS[self.at]):
            return False
        showing = {FACES[then // 9]: FACES[now // 9] for now, then in zip(placement, home, strict=True)}
        return self.takes_out or showing.get(self.colour) == self.on

    def say(self, language: str, what: str) -> str:
        """The words for this case, or else for its sequence: the "name", or "why" the sequence works."""
        return super().say(language, what) or self.named.say(language, what)


@dataclass(frozen=True)
class Move:
    """One thing to do for a piece: turn the whole cube, turn the top, then do the sequence of a case (the first two
    may be empty)."""

    rotation: tuple[Turn, ...]
    top: tuple[Turn, ...]
    sequence: tuple[Turn, ...]
    case: PlacingCase

    @property
    def turns(self) -> tuple[Turn, ...]:
        """All turns of the move."""
        return self.rotation + self.top + self.sequence


@dataclass(frozen=True)
class PlacingStep(Spoken):
    """A step that places `pieces` while keeping in place what was placed before. The next piece is one in the first
    of the `layers` that has any that are not at home. Its words say what to do `next`, and what is there when the
    step is `done`."""

    id: str
    pieces: tuple[str, ...]
    slot: str
    layers: tuple[str, ...]
    cases: tuple[PlacingCase, ...]

    def next_pieces(self, away: Mapping[str, Placement]) -> tuple[str, ...]:
        """The pieces any of which may be placed next; `away` has those that are not at home, and how they lie."""
        for layer in self.layers:
            if found := tuple(piece for piece, placement in away.items() if layer_of(placement) == layer):
                return found
        return ()

    def move(self, placement: Placement, home: Placement) -> Move:
        """What to do next for a piece that is not at `home` (both in the present hold). Raises NoMoveError."""
        for rotation in TURNS_ABOUT_UP:
            target, lies = moved(home, rotation), moved(placement, rotation)
            here = set(target) == set(POSITIONS[self.slot])
            for top in TOP_TURNS if here else ():
                for case in self.cases:
                    if not case.takes_out and case.meets(moved(lies, top), target):
                        return Move(rotation, top, case.sequence, case)
        for rotation in TURNS_ABOUT_UP:
            for case in self.cases:
                if case.takes_out and case.meets(moved(placement, rotation), moved(home, rotation)):
                    return Move(rotation, (), case.sequence, case)
        raise NoMoveError(self.id)

    def moves(self, placement: Placement, home: Placement) -> Iterator[Move]:
        """The moves that bring a piece from `placement` to `home` (both in the present hold)."""
        while placement != home:
            move = self.move(placement, home)
            yield move
            placement = moved(placement, move.turns)
            home = moved(home, move.rotation)


@dataclass(frozen=True)
class PlannedStep(Spoken):
    """A step whose turns come from a search: the fewest turns that bring all `pieces` home together. Learners who want
    to learn the step go by the `rule` instead, piece by piece."""

    id: str
    pieces: tuple[str, ...]
    most: int
    rule: PlacingStep
