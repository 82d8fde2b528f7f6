"""The pieces that the learner has told of in a step: what was told of one can be taken back without the others."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coach.belief.evidence import Stickers
from coach.belief.reading import Reading
from coach.belief.whereabouts import candidates, whereabouts, with_piece
from coach.cube import Turn
from coach.dialogue.knowledge import Knowledge


@dataclass(frozen=True)
class _Told:
    """A piece, what was known before it was told of, carried along with every turn since, and whether a face has been
    turned since."""

    piece: str
    before: Reading
    heard: Stickers | None
    turned: bool = False


class ToldPieces:
    """The pieces told of, on the shared knowledge."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self._told: list[_Told] = []

    @property
    def pieces(self) -> list[str]:
        """The piece that was told of last first."""
        return [told.piece for told in reversed(self._told)]

    def add(self, piece: str, before: Reading, heard: Stickers | None) -> None:
        """The learner has told of a piece."""
        self._told.append(_Told(piece, before, heard))

    def carry(self, turn: Turn) -> None:
        """Something has been turned."""
        self._told = [
            replace(told, before=told.before.after((turn,)), turned=told.turned or not turn.whole)
            for told in self._told
        ]

    def turned_since(self, piece: str) -> bool:
        """Whether a face has been turned since that piece was told of."""
        return any(told.turned for told in self._told if told.piece == piece)

    def clear(self) -> None:
        """What was told counts no more."""
        self._told.clear()

    def take_back(self, piece: str) -> None:
        """Forget what was told of a piece; what was told of others since stays, where it can be so."""
        at = next((at for at, told in enumerate(self._told) if told.piece == piece), None)
        if at is None:
            return
        wrong, *later = self._told[at:]
        now = {told.piece: whereabouts(self.knowledge.reading, told.piece) for told in later}
        del self._told[at:]
        reading = wrong.before
        for told in later:
            placement = now[told.piece]
            if placement in candidates(reading, told.piece, None, {}):
                self._told.append(replace(told, before=reading))
                reading = with_piece(reading, told.piece, placement)
        self.knowledge.reading = reading
        if wrong.heard:
            self.knowledge.trail = self.knowledge.trail.without_word(wrong.heard)
