"""What is said around a scramble and a timed solve, which is short and must not be taken for anything else."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.normalise import HARD, SOFT
from coach.language.meaning import Meaning

_FILLED: Final = r"(?:(?:oh|okay|right|well|now|so|and|yes|no|but|please|it|actually) )*"
_SCRAMBLED: Final = re.compile(
    rf"{_FILLED}(?:(?:i|we) (?:have |already |just )*(?:scrambled|mixed|shuffled)\b.*"
    r"|(?:it|mine|the cube|my cube|this one|that|this) (?:is |has |was |been |already |all )*"
    r"(?:scrambled|mixed|shuffled|messed up)\b.*"
    r"|(?:already )?(?:scrambled|mixed up|shuffled)(?: already| it| myself| now)*"
    r"|.*\bnot (?:a )?(?:solved|finished|done yet)\b.*|(?:it is |still )*unsolved\b.*)"
)
_WAYS: Final[Mapping[str, Sequence[tuple[re.Pattern[str], Meaning]]]] = {
    "scramble": [(_SCRAMBLED, Meaning(case="scrambled"))],
}


def settles(words: Sequence[str], about: str) -> Meaning | None:
    """What it plainly means in answer to a question `about` that; None if that is for the reader."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    return next((meaning for way, meaning in _WAYS.get(about, ()) if way.fullmatch(said)), None)
