"""Steps that bring pieces to their slots one by one.

The cube is held so that the slot is at the front right (`slot`: "DFR" for a corner, "FR" for a middle edge).
A piece in the top layer is brought by turns of the top to the place where a case wants it (`at`), then the
case's sequence puts it in. A piece that is in a slot already, its own the wrong way round or another, is
first taken out to the top by `out`, that slot being held at the front right.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from coach.cube import FACES, POSITIONS, Turn
from coach.method.model import TURNS_ABOUT_UP

Placement = tuple[int, ...]
"""Where the stickers of one piece are, in the order of its home position's name."""

_TOP_TURNS: Final = ((), (Turn("U"),), (Turn("U", 3),), (Turn("U", 2),))


class NoMoveError(ValueError):
    """No case brings a piece on from where it lies; a proven step has one for everywhere."""


def moved(placement: Placement, turns: tuple[Turn, ...]) -> Placement:
    """The placement after `turns`."""
    for turn in turns:
        placement = tuple(map(turn.permutation.index, placement))
    return placement


def home_in_hold(piece: str, rotations: tuple[Turn, ...]) -> Placement:
    """Where a piece is at home once the whole cube has been turned by `rotations`."""
    return moved(POSITIONS[piece], rotations)


@dataclass(frozen=True)
class PlacingCase:
    """How a piece of the top layer may lie at `at`: the sticker of the colour of face `colour` (in the hold)
    shows on face `on`. `sequence` then puts it into the slot at the front right."""

    id: str
    at: str
    colour: str
    on: str
    sequence: tuple[Turn, ...]
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict, compare=False)

    def meets(self, placement: Placement, home: Placement) -> bool:
        """Whether a piece that belongs to `home` and lies as `placement` is in this case as it is held."""
        if set(placement) != set(POSITIONS[self.at]):
            return False
        showing = {FACES[then // 9]: FACES[now // 9] for now, then in zip(placement, home, strict=True)}
        return showing.get(self.colour) == self.on

    def say(self, language: str, what: str) -> str:
        """The method file's words for this case: its "name", or "why" the sequence works."""
        return self.words.get(language, {}).get(what, "")


@dataclass(frozen=True)
class Move:
    """One thing to do for a piece: turn the whole cube, turn the top, then a sequence (some may be empty)."""

    rotation: tuple[Turn, ...]
    top: tuple[Turn, ...]
    sequence: tuple[Turn, ...]
    case: PlacingCase | None
    """The case that is met; None when the piece is only taken out of a slot."""

    @property
    def turns(self) -> tuple[Turn, ...]:
        """All of it."""
        return self.rotation + self.top + self.sequence


@dataclass(frozen=True)
class PlacingStep:
    """A step that places `pieces`, each with what was placed before kept where it is."""

    id: str
    pieces: tuple[str, ...]
    slot: str
    out: tuple[Turn, ...]
    cases: tuple[PlacingCase, ...]

    def moves(self, placement: Placement, home: Placement) -> Iterator[Move]:
        """What brings a piece from `placement` to `home` (both in the present hold), move after move."""
        while placement != home:
            move = self._put_in(placement, home) or self._take_out(placement)
            yield move
            placement = moved(placement, move.turns)
            home = moved(home, move.rotation)

    def _put_in(self, placement: Placement, home: Placement) -> Move | None:
        for rotation in TURNS_ABOUT_UP:
            target = moved(home, rotation)
            if set(target) != set(POSITIONS[self.slot]):
                continue
            for top in _TOP_TURNS:
                lies = moved(moved(placement, rotation), top)
                for case in self.cases:
                    if case.meets(lies, target):
                        return Move(rotation, top, case.sequence, case)
        return None

    def _take_out(self, placement: Placement) -> Move:
        for rotation in TURNS_ABOUT_UP:
            if set(moved(placement, rotation)) == set(POSITIONS[self.slot]):
                return Move(rotation, (), self.out, None)
        raise NoMoveError(self.id)
