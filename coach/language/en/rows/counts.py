"""The stickers of a side told by their numbers: "six dots", "two rows of nothing but red and three blue"."""

from __future__ import annotations

import re
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.en.reader.roles import in_roles
from coach.language.en.rows.words import COLOUR, FACE_OF
from coach.language.meaning import Scene

_NUMBERS: Final = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_COUNTED: Final = re.compile(
    rf"(?:(?:and|then|also|first|i have|i feel|there are|it is|all) )*({'|'.join(_NUMBERS)})( (?:whole )?rows?)?"
    rf"(?: (?:of|nothing but|only|just|times|all))* ({COLOUR}) ?"
)
_ROW, _SIDE = 3, 9


def counted(text: str, scene: Scene) -> tuple[str, ...]:
    """The colours of one, two or three whole rows that are told by numbers alone; () for any other answer."""
    said = " ".join(word for word in normalise(" ".join(in_roles(text, scene))) if word not in (HARD, SOFT))
    if _COUNTED.sub("", said):
        return ()
    told: list[str] = []
    for number, rows, role in _COUNTED.findall(said):
        told += (_NUMBERS.index(number) + 1) * (_ROW if rows else 1) * [scene.colours[FACE_OF[role]]]
    return tuple(told) if len(told) % _ROW == 0 and len(told) <= _SIDE else ()
