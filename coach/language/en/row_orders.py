"""Rows that were told in another order: two stickers exchanged, or the whole row from right to left."""

from __future__ import annotations

import re
from typing import Final

from coach.language.en.row_words import FACE_OF, places_in

_ROUND: Final = r"(?:round|around|about)"
_SIDES: Final = r"(?:left|right) (?:and|with|for|from|to|or) (?:the |my )?(?:right|left)"
_MIXED: Final = r"(?:mixed|mix|muddled|confused|confuse|swapped|mistook|mistaken|switched)"
_EXCHANGED: Final = re.compile(
    r"\b(?:swap(?:ped|s)?|switch(?:ed|es)?|exchanged?|interchanged?|trade (?:places|with)"
    rf"|chang(?:e|ed|ing) (?:(?:them|those|these) )?(?:over|{_ROUND}|places)"
    rf"|(?:the )?(?:other|wrong|opposite) way {_ROUND}|the other way"
    rf"|(?:wrong|other|opposite) order|vice versa|turn (?:them|those|these) {_ROUND})\b"
)
"""Two stickers may be meant, if these are named."""
_BACKWARDS: Final = re.compile(
    r"\b(?:backwards|back to front|revers(?:e|ed)|in reverse|(?:wrong|other|opposite) (?:direction|order|way)"
    r"|mirror(?:ed)?|(?:from )?(?:the )?right (?:hand side )?to (?:the )?left"
    r"|(?:started|began|begun|start|starting) (?:\w+ )?(?:from|on|at) (?:the |my )?right"
    rf"|{_MIXED} (?:up )?(?:my |the )?{_SIDES}|{_SIDES}(?: \w+)? {_MIXED}|arse about face)\b"
)
_BARE: Final = re.compile(rf"\b(?:flip(?:ped)? (?:it|that|them)|turn (?:it|that) {_ROUND})\b")
"""Only the row before can be meant by these while rows are read, if any."""
_OF_READING: Final = re.compile(
    rf"\b(?:row|line|order|read|said|told|backwards|back to front|mirror(?:ed)?|reversed?|right to left|{_MIXED})\b"
)
"""With one of these it is a row that was told another way round, not the cube that is held so."""


def exchanged(said: str) -> tuple[tuple[int, int] | tuple[str, str] | None, bool]:
    """The two places, or colours (roles), that change places, those of a row told from right to left being its ends;
    and whether that is plain."""
    if not (_EXCHANGED.search(said) or _BACKWARDS.search(said) or _BARE.search(said)):
        return None, False
    bare = _BACKWARDS.sub(" ", said)
    places = [*dict.fromkeys(places_in(bare))]
    colours = [*dict.fromkeys(word for word in said.split() if word in FACE_OF)]
    if colours:
        two = len(colours) == 2 and not places and bool(_EXCHANGED.search(said))
        return ((colours[0], colours[1]) if two else None), two
    if len(places) == 2 and _EXCHANGED.search(said):
        return (places[0], places[1]), True
    return ((0, -1), bool(_OF_READING.search(said))) if not places else (None, False)


def is_backwards(said: str) -> bool:
    """Whether something was told, or is, the other way round."""
    return bool(_BACKWARDS.search(said) or _EXCHANGED.search(said))
