"""The pieces that the learner has told of in a step: what was told of one can be taken back without the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.belief.evidence import Stickers
from coach.belief.reading.stickers import KnownStickers
from coach.belief.whereabouts import candidates, whereabouts, with_piece
from coach.cube import Turn
from coach.dialogue.acts import Heard, Query
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.talk import Talk

_FEW: Final = 3
"""About so many pieces at most it is asked whether they are meant."""


@dataclass(frozen=True)
class _Told:
    """A piece, what was known before it was told of, carried along with every turn since, and whether a face has been
    turned since."""

    piece: str
    before: KnownStickers
    heard: Stickers | None
    turned: bool = False


class ToldPieces:
    """The pieces told of, on the shared knowledge."""

    def __init__(self, knowledge: Knowledge, of_step: Sequence[str]) -> None:
        self.knowledge, self.of_step = knowledge, of_step
        self._told: list[_Told] = []

    @property
    def pieces(self) -> list[str]:
        """The piece that was told of last first."""
        return [told.piece for told in reversed(self._told)]

    def words(self, piece: str) -> tuple[str, ...]:
        """The learner's words for the stickers of a piece."""
        return tuple(map(self.knowledge.colour, piece))

    def others(self, asked: str) -> list[str]:
        """The other pieces of the step that may be spoken of, the one told of last first; none where the learner
        confuses colours."""
        if self.knowledge.alike:
            return []
        untold = [piece for piece in self.of_step if piece not in self.pieces]
        return [piece for piece in (*self.pieces, *untold) if piece != asked]

    def named(self, words: Sequence[str], asked: str | None) -> list[str]:
        """The pieces that may be meant by these words, a few at most: those spoken of before all others. Where they fit
        none, the piece that is asked for and the one told of last."""
        spoken = [*self.pieces, *([asked] if asked else [])]
        fits = [piece for piece in spoken if set(words) <= set(self.words(piece))]
        fits = fits or [piece for piece in self.of_step if set(words) <= set(self.words(piece))]
        return list(dict.fromkeys(fits or [*spoken[-1:], *self.pieces[:1]]))[:_FEW]

    def add(self, piece: str, before: KnownStickers, heard: Stickers | None) -> None:
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


def which_piece(talk: Talk, names: Mapping[tuple[str, ...], str]) -> Talking[tuple[str, ...] | None]:
    """Which of several pieces is meant, of their names by their words, the likeliest first: a yes or no to one after
    the other, or the words of one, tells it; None where that is not told."""
    left = [*names]

    def take(heard: Heard) -> tuple[tuple[str, ...], bool] | None:
        """The piece that is spoken of, and whether it is meant."""
        if heard.meaning and heard.meaning.piece:
            return heard.meaning.piece, True
        answer = yes_or_no(heard)
        if answer is None and (heard.says("yes-first") or heard.says("no-first")):
            answer = heard.says("yes-first")
        return None if answer is None else (left[0], answer)

    while len(left) > 1:
        talk.others = tuple(left)
        forms = talk.forms("lower.which", one=names[left[0]])
        answer = yield from talk.ask(Query("other", about="which"), forms, take)
        if answer is None:
            return None
        piece, meant = answer
        if meant:
            return piece
        left.remove(piece)
    return left[0]
