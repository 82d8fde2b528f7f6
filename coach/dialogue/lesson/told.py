"""The pieces that the learner has described in a step: what was said about one can be taken back on its own."""

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
"""Ask about at most this many pieces whether they are meant."""


@dataclass(frozen=True)
class _Told:
    """A piece, what was known before it was described (kept up to date with every turn since), and whether a face has
    been turned since."""

    piece: str
    before: KnownStickers
    heard: Stickers | None
    turned: bool = False


class ToldPieces:
    """The pieces described so far, on the shared knowledge."""

    def __init__(self, knowledge: Knowledge, of_step: Sequence[str]) -> None:
        self.knowledge, self.of_step = knowledge, of_step
        self._told: list[_Told] = []

    @property
    def pieces(self) -> list[str]:
        """The pieces described, latest first."""
        return [told.piece for told in reversed(self._told)]

    def words(self, piece: str) -> tuple[str, ...]:
        """The learner's words for the colours of a piece."""
        return tuple(map(self.knowledge.colour, piece))

    def others(self, asked: str) -> list[str]:
        """The other pieces of the step that may be meant, the one described last first; none if the learner confuses
        colours."""
        if self.knowledge.alike:
            return []
        untold = [piece for piece in self.of_step if piece not in self.pieces]
        return [piece for piece in (*self.pieces, *untold) if piece != asked]

    def named(self, words: Sequence[str], asked: str | None) -> list[str]:
        """The few pieces that may be meant by these words: those already mentioned, or else the others. If the words
        fit no piece, the piece asked for and the one described last."""
        spoken = [*self.pieces, *([asked] if asked else [])]
        fits = [piece for piece in spoken if set(words) <= set(self.words(piece))]
        fits = fits or [piece for piece in self.of_step if set(words) <= set(self.words(piece))]
        return list(dict.fromkeys(fits or [*spoken[-1:], *self.pieces[:1]]))[:_FEW]

    def add(self, piece: str, before: KnownStickers, heard: Stickers | None) -> None:
        """Record that the learner has described a piece."""
        self._told.append(_Told(piece, before, heard))

    def carry(self, turn: Turn) -> None:
        """Follow a turn of a face or of the whole cube."""
        self._told = [
            replace(told, before=told.before.after((turn,)), turned=told.turned or not turn.whole)
            for told in self._told
        ]

    def turned_since(self, piece: str) -> bool:
        """Whether a face has been turned since that piece was described."""
        return any(told.turned for told in self._told if told.piece == piece)

    def clear(self) -> None:
        """Forget all that was described."""
        self._told.clear()

    def take_back(self, piece: str) -> None:
        """Forget what was said about a piece; what was said about others since then stays if it is possible."""
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
    """Ask which of several pieces is meant. `names` has their names by their words, likeliest first; the learner says
    yes or no to each in turn, or the words of one. None if they do not tell."""
    left = [*names]

    def take(heard: Heard) -> tuple[tuple[str, ...], bool] | None:
        """The piece mentioned, and whether it is meant."""
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
