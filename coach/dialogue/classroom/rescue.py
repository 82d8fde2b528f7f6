"""Putting right what went wrong for some of a class: questions by hands, and turns for those whom they help, while the
others rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from coach.belief.classroom.mishaps import Aftermath
from coach.belief.classroom.sights import Sight
from coach.belief.classroom.trouble import Mend, Trouble
from coach.cube import Claim, Turn
from coach.dialogue.acts import Claimed, TurnIntoHold
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.sights import claimed
from coach.dialogue.saying import Talking
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.wording import row_words
from coach.dialogue.talk import Talk

_PARTS: Final[Mapping[frozenset[str], str]] = {
    frozenset(f"D{n}" for n in (1, 3, 5, 7)): "class.bottom-cross",
    frozenset(f"D{n}" for n in (0, 2, 6, 8)): "class.bottom-corners",
    frozenset(f"D{n}" for n in range(9) if n != 4): "class.whole-bottom",
}
"""What has a name of its own."""
_WHOLE_ROW: Final = 3
_MOST_MISFITS: Final = 2
"""Give up after this many counts that cannot be: what happened is none of what was thought of."""


class Rescue:
    """Helps those of a class to whom something has happened, as far as that is short."""

    def __init__(self, talk: Talk, hands: Hands, leading: Leading) -> None:
        self.talk, self._hands, self._leading = talk, hands, leading
        self._held: Mapping[str, str] | None = None
        self.repairs: list[tuple[Turn, ...]] = []
        """What some have been led through to be helped."""

    def go(
        self, aftermath: Aftermath, missing: int, held: Mapping[str, str] | None = None, of: int | None = None
    ) -> Talking[bool]:
        """Help the `missing` ones `of` so many who have done something (by default all); the result is whether anything
        was asked or done. `held` are the words for the faces as all held their cubes when it began; None where that is
        not known."""
        self._held, self.repairs = held, []
        trouble = Trouble.of(aftermath, self._size if of is None else of, missing, free=held is None)
        misfits, tried = 0, False
        while misfits < _MOST_MISFITS and (next := trouble.next):
            tried = True
            if isinstance(next, Mend):
                yield from self._leading.unless_spared(self._mend(next))
                self.repairs.append(next.turns)
                trouble = trouble.mended()
                continue
            number = yield from self._ask(next.sight)
            if misfit := trouble.misfit(number):
                misfits += 1
                least, most = misfit.least, misfit.most
                yield from self.talk.tell("class.misfit", int(least != most), least=least, most=most)
            else:
                trouble = trouble.told(number)
        return tried

    def _ask(self, sight: Sight) -> Talking[int]:
        """How many see this, however they have to turn their cube for it."""
        what = self.what(sight.claim)
        if self._held:
            yield from self._leading.all_face(self._held)
        else:
            yield from self._leading.for_all(self.until(sight, what))
        key = "class.can" if sight.ways else "class.has"
        return (yield from self._hands.count(self._claimed(sight.claim), self.talk.forms(key, what=what), self._size))

    def _mend(self, mend: Mend) -> Talking[None]:
        """Have each of those turn their cube and do the turns who see one of the sights."""
        for sight in mend.sights:
            if self._held:
                yield from self._leading.all_face(self._held)
            what = self.what(sight.claim)
            cases = tuple(self._claimed(claim) for claim in sight.now)
            text = self.talk.words("class.mend" if sight.ways else "class.mend-if", what=what)
            yield from self._leading.begin(text, cases, self.until(sight, what, "class.until-mend"))
            yield from self.talk.tell("slip.repair", n=sum(not turn.whole for turn in mend.turns))
            yield from self._leading.call(Run(self.talk, mend.turns, _unseen))

    def until(self, sight: Sight, what: str, key: str = "class.until") -> tuple[TurnIntoHold, ...]:
        if not sight.ways:
            return ()
        ways = tuple((self._claimed(claim), turn) for claim, turn in sight.ways)
        return (TurnIntoHold(self.talk.words_less(key, what=what), ways, self.talk.step()),)

    def _claimed(self, claim: Claim) -> tuple[Claimed, ...]:
        return claimed(claim, self._held or self.talk.colours)

    def what(self, claim: Claim) -> str:
        """The claim in words, as parts of a sentence. Where nobody knows which side is in front, a side colour is that
        of the middle of a side, and the middle itself need not be told."""
        if key := _PARTS.get(frozenset(place for place, _ in claim)):
            return self.talk.part(key)
        spots: dict[tuple[str, str], list[int]] = {}
        for place, face in claim:
            if self._held or place[1] != "4":
                spots.setdefault((place[0], face), []).append(int(place[1]))
        told = [self._spots(side, face, numbers) for (side, face), numbers in spots.items()]
        return self.talk.joined("class.and", told)

    def _spots(self, side: str, face: str, numbers: Sequence[int]) -> str:
        """Stickers of one colour on a side."""
        words = {"face": self.talk.phrases.part(f"faces.{side}")}
        if len(numbers) == _WHOLE_ROW and len({number // 3 for number in numbers}) == 1:
            words = row_words(self.talk, side, numbers[0] // 3 + 1)
            return self.talk.part("class.row-all", 0, colour=self._colour(face), **words)
        spots = [self.talk.phrases.part(_spot(side, number)) for number in numbers]
        words["where"] = self.talk.joined("class.both", spots)
        if self._held or face in "UD":
            return self.talk.part("class.sticker", 0, colour=self._colour(face), **words)
        if face == side:
            return self.talk.part("class.sticker-own", 0, **words)
        return self.talk.part("class.sticker-same", 0, side=self.talk.phrases.part(f"faces.{face}"), **words)

    def _colour(self, face: str) -> str:
        return (self._held or self.talk.colours)[face]

    @property
    def _size(self) -> int:
        return self._hands.pupils.size or 0


def _spot(side: str, number: int) -> str:
    """The key of the word for a place on a side: one that lies flat has no upper row, and the bottom is seen from
    below."""
    if side not in "UD":
        return f"spots.{number}"
    row, column = divmod(number, 3)
    return f"spots-lying.{3 * (row if side == 'U' else 2 - row) + column}"


def _unseen(turn: Turn) -> None:
    """Nothing is followed."""
