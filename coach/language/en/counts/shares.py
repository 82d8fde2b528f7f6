"""Shares of a class: "half of them", "three fifths", "twenty percent" are exact where the size is known and divides."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from coach.language.en.counts.masks import ways

MARK: Final = r"SHARE\d+X\d+"
_PARTS: Final = {
    "half": 2, "halves": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "ninth": 9, "tenth": 10, "percent": 100,
}  # fmt: skip
_WHOLE: Final = (
    r"(?:us|them|you|(?:all )?(?:the|my|our)? ?(?:whole )?"
    r"(?:class|group|lot|kids|children|pupils|students|people|hands))"
)
_FRACTION: Final = re.compile(
    rf"\b(?:(?P<of>\d+|an?|exactly|the) )?(?P<part>{'|'.join(_PARTS)})s?(?: (?:of )?{_WHOLE})?"
    rf"(?= [|,]|$| (?:exactly|precisely|please|have|has|got|do|does|did|are|is)\b)"
)
_ROUGH: Final = re.compile(
    rf"\b(?:{ways('about')}|{ways('nearly')}"
    r"|just|good|other|first|second|than|or|not|kind of|sort of|say|like) (?:the |a )?$"
)
_SO: Final = re.compile(rf" (?:, )?(?:{ways('so')})\b")


def marked(said: str) -> str:
    """The words in figures with a mark for each share of the class that is told exactly."""
    return _FRACTION.sub(_mark, said)


def _mark(found: re.Match[str]) -> str:
    told = found["of"] or "1"
    part = found["part"]
    if _ROUGH.search(found.string[: found.start()]) or _SO.match(found.string[found.end() :]):
        return found[0]
    if part == "percent" and not told.isdigit():
        return found[0]
    if told == "the" and part != "half":  # the third one of a row
        return found[0]
    many = int(told) if told.isdigit() else 1
    return f"SHARE{many}X{_PARTS[part]}" if many <= _PARTS[part] else found[0]


def share(event: str) -> Fraction | None:
    """The share that a mark stands for; None for any other mark."""
    found = re.fullmatch(r"SHARE(\d+)X(\d+)", event)
    return Fraction(int(found[1]), int(found[2])) if found else None


def many(told: Fraction, size: int | None) -> int | None:
    """How many pupils that share of a class is; None if its size is not known or cannot be so divided."""
    exact = None if size is None else told * size
    return None if exact is None or exact.denominator != 1 else int(exact)
