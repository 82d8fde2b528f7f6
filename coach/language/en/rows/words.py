"""The words for the colours of a row: where in it a sticker is, and how a whole row of one colour is told."""

from __future__ import annotations

import re
from typing import Final

from coach.language.meaning import USUAL_COLOURS

FACE_OF: Final = {role: face for face, role in USUAL_COLOURS.items()}
COLOUR: Final = rf"(?:{'|'.join(FACE_OF)})"
_STICKER: Final = r"(?: one| sticker| square)?"
_NTH: Final = ("fourth|number four|4th", "fifth|number five|5th", "sixth|number six|6th", "seventh|number seven|7th",
               "eighth|number eight|8th", "ninth|number nine|9th")  # fmt: skip
_PLACES: Final = (
    ((0, 1), r"first two|left two|two on the left|(?:first|one) and (?:the )?(?:second|two)"),
    ((-2, -1), r"last two|right two|two on the right|other two|(?:second|two) and (?:the )?(?:third|three|last)"),
    ((0, -1), r"outer two|outer ones|both ends|two ends|ends (?=swap|change|are|of it)"
              r"|(?:first|one) and (?:the )?(?:third|three|last)"),
    ((-2,), r"last but one|one but last|second (?:to|from) last|second last|penultimate"
            r"|second(?: one| sticker| square)? from the right"),
    ((1,), r"second(?: one| sticker| square)? from (?:the )?left|middle|second|centre|number two|2nd"),
    ((-1,), rf"(?:first|one){_STICKER} from the right|last|right ?most|right hand(?: side| end)?"
            r"|on the right(?: hand side)?|right (?:one|sticker|square|end|side)|(?:at )?the end|ends?|ended"),
    ((0,), rf"third{_STICKER} from the right|first|left ?most|left hand(?: side| end)?"
           r"|on the left(?: hand side)?|left (?:one|sticker|square|end|side)|number one|1st|begins?|began|begun"
           r"|starts?|started"
           r"|(?:at )?the (?:start|beginning)"),
    ((2,), r"third|number three|3rd"),
    *(((number,), way) for number, way in enumerate(_NTH, 3)),
)  # fmt: skip
_NOT_PLACES: Final = re.compile(
    r"\b(?:(?:wait|hang on|hold on|half|just|give me) (?:a |one )?second|a second|second thoughts?|at first|at last"
    r"|first of all|last time|in the end)\b"
)
PARTS: Final = re.compile(
    "|".join(rf"(?P<p{at}>\b(?:{way})\b)" for at, (_, way) in enumerate(_PLACES)) + rf"|(?P<colour>\b{COLOUR}\b)"
)
"""Places and colours, in the order in which they are named."""
_ALIKE: Final = re.compile(
    r"\b(?:all|every|each|everything|everywhere|throughout|triple|three(?! (?:rows?|lines?|ago|more|left|places?)\b)"
    r"|lot of (?:it|them)|nothing but|right across|whole|solid|entirely|completely)\b"
)


def without_time(said: str) -> str:
    """The text without words of places that are said of time: "wait a second", "at first"."""
    return _NOT_PLACES.sub(" ", said)


def colours_in(said: str) -> list[str]:
    """The colours (roles) in the order in which they are named; three where one is said to be everywhere."""
    named = [word for word in said.split() if word in FACE_OF]
    return 3 * named[:1] if len(set(named)) == 1 and len(named) < 3 and _ALIKE.search(said) else named


def places_in(said: str) -> list[int]:
    """The places named, those from the end on negative."""
    return [place for part in PARTS.finditer(said) for place in _places(part)]


def placed(said: str) -> dict[int, str]:
    """The colours by place, whichever of the two is named first; empty if one of them is left over."""
    told: dict[int, str] = {}
    places: list[int] = []
    colour = ""
    for part in PARTS.finditer(said):
        if part.lastgroup != "colour":
            places += _places(part)
        elif colour:
            return {}
        else:
            colour = part.group()
        if colour and places:
            told |= dict.fromkeys(places, colour)
            places, colour = [], ""
    return {} if colour or places else told


def _places(part: re.Match[str]) -> tuple[int, ...]:
    kind = part.lastgroup or ""
    return () if kind == "colour" else _PLACES[int(kind[1:])][0]
