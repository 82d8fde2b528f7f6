"""Rows that were told in another order: two stickers exchanged, or the whole row from right to left."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from coach.language.en.rows.words import FACE_OF, places_in

_ROUND: Final = r"(?:round|around|about)"
_SIDES: Final = r"(?:left|right) (?:and|with|for|from|to|or) (?:the |my )?(?:right|left)"
_MIXED: Final = r"(?:mixed|mix|muddled|confused|confuse|swapped|mistook|mistaken|switched)"
_EXCHANGED: Final = re.compile(
    r"\b(?:swap(?:ped|s|ping)?|switch(?:ed|es|ing)?|(?:inter|ex)chang(?:e|ed|ing)|trade (?:places|with)"
    rf"|chang(?:e|ed|ing) (?:(?:them|those|these) )?(?:over|{_ROUND}|places)"
    rf"|(?:the )?(?:other|wrong|opposite) way {_ROUND}|the other way"
    rf"|(?:wrong|other|opposite) order|vice versa|turn (?:them|those|these) {_ROUND})\b"
)
"""Two stickers may be meant, if these are named."""
_BEGUN: Final = r"(?:started|began|begun|start|starting) (?:\w+ )?"
_BACKWARDS: Final = re.compile(
    r"\b(?:backwards|back to front|revers(?:e|ed|ing)|invert(?:ed)?|inverse|mirror(?:ed|ing)?|arse about face"
    r"|(?:wrong|other|opposite) order|(?:from )?(?:the )?right (?:hand side )?to (?:the )?left"
    rf"|(?:{_BEGUN})?(?:from|at|on) the (?:wrong|other|opposite) (?:end|side)"
    rf"|{_BEGUN}(?:from|on|at) (?:the |my )?right"
    rf"|{_MIXED} (?:up )?(?:my |the )?{_SIDES}|{_SIDES}(?: \w+)? {_MIXED})\b"
)
_MIXED_UP: Final = re.compile(rf"\b{_MIXED}(?: up)?\b")
"""With two places it means that they are exchanged; with two colours, that the learner may not tell them apart."""
_WAY: Final = re.compile(r"\b(?:wrong|other|opposite) (?:direction|way)\b")
"""Turns go so as well, so it has to be said that it is a row."""
_BARE: Final = re.compile(
    r"\b(?:swap|switch|exchange|interchange|flip|flipped) (?:it|that|them|those|these)\b(?! (?:off|on)\b)"
    r"|\b(?:it|that|this|they|them|these|those) (?:is|are|was|were|go|goes) (?:the )?(?:other|wrong|opposite)"
    rf" way {_ROUND}"
)
"""Only the row before can be meant by these while rows are read, if any."""
_OF_CUBE: Final = re.compile(r"\b(?:hold|holding|held|turned|turning|cube|facing|side|i am)\b")
_OF_ROW: Final = re.compile(r"\b(?:row|line|order|read|said|told|right to left)\b")
"""The cube may be turned or held another way round; then only with one of these words it is a row."""
_ASKS: Final = re.compile(
    r"^(?:(?:so|and|but|wait|okay|oh|sorry) )*(?:is|are|should|shall|do|does|did|can|could|must|what|which|how|why)\b"
)


@dataclass(frozen=True)
class Exchanged:
    """Two places, or two colours (roles), that change places; `plain`: nothing else can be meant."""

    places: tuple[int, int] | tuple[str, str]
    plain: bool = True


def exchanged(said: str) -> Exchanged | None:
    """What changes places; of a row told from right to left, its ends."""
    changes, turned = _EXCHANGED.search(said), _BACKWARDS.search(said)
    places = [*dict.fromkeys(places_in(_BACKWARDS.sub(" ", said)))]
    colours = [*dict.fromkeys(word for word in said.split() if word in FACE_OF)]
    if changes and len(colours) == 2:
        return Exchanged((colours[0], colours[1]))
    if (changes or _MIXED_UP.search(said)) and len(places) == 2 and not colours:
        return Exchanged((places[0], places[1]))
    if places or colours or _ASKS.match(said):
        return None
    if _OF_ROW.search(said):
        return Exchanged((0, -1)) if changes or turned or _WAY.search(said) else None
    if _OF_CUBE.search(said) or not (turned or _BARE.search(said)):
        return None
    return Exchanged((0, -1), plain=bool(turned))


def is_backwards(said: str) -> bool:
    """Whether something was told from right to left."""
    return bool(_BACKWARDS.search(said) or _WAY.search(said))
