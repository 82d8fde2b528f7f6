"""Rows that were told in another order: two stickers exchanged, or the whole row from right to left."""

from __future__ import annotations

import re
from dataclasses import dataclass
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


@dataclass(frozen=True)
class Exchanged:
    """Two places, or two colours (roles), that change places; `plain`: nothing else can be meant."""

    places: tuple[int, int] | tuple[str, str]
    plain: bool = True


def exchanged(said: str) -> Exchanged | None:
    """What changes places; of a row told from right to left, its ends."""
    changes, turned = _EXCHANGED.search(said), _BACKWARDS.search(said)
    if not (changes or turned or _BARE.search(said)):
        return None
    places = [*dict.fromkeys(places_in(_BACKWARDS.sub(" ", said)))]
    colours = [*dict.fromkeys(word for word in said.split() if word in FACE_OF)]
    if changes and len(colours) == 2:
        return Exchanged((colours[0], colours[1]))
    if colours:
        return None
    if changes and len(places) == 2:
        return Exchanged((places[0], places[1]))
    return None if places else Exchanged((0, -1), bool(_OF_READING.search(said)))


def is_backwards(said: str) -> bool:
    """Whether something was told from right to left."""
    return bool(_BACKWARDS.search(said))
