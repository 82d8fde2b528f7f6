"""Turns in writing: the World Cube Association Regulations, Article 12.

Face turns F B R L U D, wide turns Fw ... Dw (also 2Fw), rotations x y z; each may be followed by
' (anticlockwise) or 2 (half turn). `parse` reads them and `write` writes them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from coach.cube.turns import AXES, Turn

_QUARTERS: Final = {"": 1, "'": 3, "2": 2}
_APOSTROPHES: Final = str.maketrans({"’": "'", "‘": "'", "′": "'", "`": "'", "´": "'"})
_TOKEN: Final = re.compile(r"(?P<count>\d*)(?P<letter>[A-Za-z])(?P<wide>w?)(?P<suffix>[^A-Za-z\s]*)")


class NotationError(ValueError):
    """Turns that cannot be read. `at` is the index in the text where the problem starts."""

    def __init__(self, text: str, at: int, reason: str) -> None:
        self.text, self.at = text, at
        shown = text if len(text) <= 60 else text[max(0, at - 20) : at + 20] + "..."
        super().__init__(f"at character {at + 1} of {shown!r}: {reason}")


class BadSyntaxError(NotationError):
    """Not the notation of Article 12 at all."""


class NotOnThisCubeError(NotationError):
    """Valid notation for a turn that a 3x3x3 cube does not have."""


class AmbiguousError(NotationError):
    """Notation that people use for two different turns."""


def parse(text: str) -> tuple[Turn, ...]:
    """The turns written in `text`, in order. Raises one of the three NotationErrors."""
    plain = text.translate(_APOSTROPHES)
    turns = []
    at = 0
    while at < len(plain):
        if plain[at].isspace():
            at += 1
            continue
        found = _TOKEN.match(plain, at)
        if not found:
            reason = f"{plain[at]!r} starts no turn; a turn starts with one of F B R L U D x y z"
            raise BadSyntaxError(text, at, reason)
        turns.append(_turn(text, found))
        at = found.end()
    return tuple(turns)


def _turn(text: str, found: re.Match[str]) -> Turn:
    letter, wide, at = found["letter"], found["wide"], found.start()
    quarters = _quarters(text, found)
    if letter in AXES:
        if wide or found["count"]:
            raise BadSyntaxError(text, at, f"{letter} turns the whole cube; it takes no number and no w")
        return Turn(AXES[letter], quarters, 3)
    if letter in tuple("frubld"):
        upper = letter.upper()
        reason = f"{letter!r} is used for {upper} and for {upper}w; write the one that is meant"
        raise AmbiguousError(text, at, reason)
    if letter not in tuple("FRUBLD"):
        reason = f"{letter!r} is no face; the faces are F B R L U D, the rotations x y z"
        raise BadSyntaxError(text, at, reason)
    return Turn(letter, quarters, _layers(text, found))


def _layers(text: str, found: re.Match[str]) -> int:
    count, letter, at = found["count"], found["letter"], found.start()
    if not count:
        return 2 if found["wide"] else 1
    if not found["wide"]:
        raise BadSyntaxError(text, at, f"a number before {letter} needs a w after it, as in 2{letter}w")
    if count != "2":
        reason = f"{count[:6]} layers cannot turn together on a 3x3x3 cube, only 2 can"
        raise NotOnThisCubeError(text, at, reason)
    return 2


def _quarters(text: str, found: re.Match[str]) -> int:
    suffix, at = found["suffix"], found.start("suffix")
    if suffix in _QUARTERS:
        return _QUARTERS[suffix]
    shown = repr(suffix[:6])
    if suffix in ("2'", "'2"):
        reason = f"{shown} is a half turn to some and an anticlockwise turn to others; write 2 or '"
        raise AmbiguousError(text, at, reason)
    if suffix[0] == "2" and suffix[1:].isdigit():
        raise AmbiguousError(text, at, f"{shown} may be a count or the next turn; put a space between turns")
    if suffix[0] in _QUARTERS and suffix[1:2].isdigit():
        raise AmbiguousError(text, at, f"{shown} may belong to the next turn; put a space between turns")
    raise BadSyntaxError(text, at, f"{shown} follows no turn; only ' and 2 do")


def write(turns: Iterable[Turn]) -> str:
    """The turns in writing, with a space between them."""
    return " ".join(map(str, turns))
