"""Hands are counted: how many pupils there are, and how many of them have a case or what a claim says."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.dialogue.acts import Heard, Query, Sight
from coach.dialogue.pupils import Pupils
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, StopLessonError
from coach.dialogue.talk import Talk

_MOST_IMPOSSIBLE: Final = 2
"""After this many counts in a row that cannot be, ask anew how many pupils there are; if there is none, end."""


class Hands:
    """Asks the class for hands, and is told their number. A count that cannot be is named, and asked for again."""

    def __init__(self, talk: Talk, pupils: Pupils) -> None:
        self.talk, self.pupils = talk, pupils

    def size(self) -> Talking[None]:
        """Ask how many pupils there are; none is no class."""
        for _ in range(_MOST_IMPOSSIBLE):
            size = yield from self._number(Query("hands", about="size"), self.talk.forms("class.size"))
            if size:
                self.pupils.count(size)
                return
            yield from self.talk.tell("class.nobody")
        raise StopLessonError

    def count(self, sight: Sight, forms: Sequence[str], most: int, rest: int | None = None) -> Talking[int]:
        """How many have this case, or what is claimed; `most` can, and `rest` have not been counted."""
        query = Query("hands", about=sight) if isinstance(sight, str) else Query("hands", claim=sight)
        self.pupils.rest = rest
        for _ in range(_MOST_IMPOSSIBLE):
            number = yield from self._number(query, forms)
            if number <= most:
                return number
            yield from self.talk.tell("class.too-many", int(number != 1), n=number, size=most)
        while number > most:
            yield from self.talk.tell("class.size-anew")
            yield from self.size()
            most = self.pupils.size or 0
            number = yield from self._number(query, forms)
        return number

    def sure_of(self, number: int) -> Talking[None]:
        """Ask anew how many they are where all hands of the number told last were up: nobody is sent off who may not
        exist."""
        if number == self.pupils.told:
            yield from self.talk.tell("class.before-anybody-goes")
            yield from self.size()

    def _number(self, query: Query, forms: Sequence[str]) -> Talking[int]:
        while True:
            try:
                return (yield from self.talk.until(query, forms, _number))
            except Interrupt as interrupt:
                if interrupt.command == "correct":
                    raise
                yield from self.talk.tell("class.later")


def _number(heard: Heard) -> int | None:
    return heard.meaning.number if heard.meaning else None
