"""What is said around a scramble and a timed solve, which is short and must not be taken for anything else."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.meaning import Meaning

_FILLED: Final = r"(?:(?:oh|okay|right|well|now|so|and|yes|no|but|please|it|actually) )*"
_SCRAMBLED: Final = re.compile(
    rf"{_FILLED}(?:(?:i|we) (?:have |already |just )*(?:scrambled|mixed|shuffled)\b.*"
    r"|(?:i|we) (?:have |already |just )*(?:did|done|made) (?:the|my own) scrambl\w+\b.*"
    r"|(?:it|mine|the cube|my cube|this one|that|this) (?:is |has |was |been |already |all )*"
    r"(?:scrambled|mixed|shuffled|messed up)\b.*"
    r"|(?:already )?(?:scrambled|mixed up|shuffled)(?: already| it| myself| now)*"
    r"|.*\bnot (?:a )?(?:solved|finished|done yet)\b.*|(?:it is |still )*unsolved\b.*)"
)
_STARTED: Final = re.compile(
    rf"{_FILLED}(?:start|starting|go|begin|beginning"
    r"|(?:i|i am|i will|let us|let me|here i|here we|off i|off we|we) (?:start|starting|begin|beginning|go|going))"
    r"(?: now| go| start| then| please)*"
)
_STOPPED: Final = re.compile(
    rf"{_FILLED}(?:i (?:am |have )?)?(?:it is |all )?"
    r"(?:stop|stopped|done|finished|time|solved|did it|got it|that is it)"
    r"(?: now| stop| it| then| please| the clock| the time| done)*"
)
_GAVE_UP: Final = re.compile(
    r".*\b(?:giv(?:e|ing) (?:it )?up|did not finish|dnf|can not (?:do|solve|finish)|will not get (?:it|there))\b.*"
)
_NO_QUESTION: Final = r"(?!(?:what|why|how|is|does|do|when) |.*\bmeans?\b)"
_NOT_SOLVED: Final = re.compile(
    rf"{_NO_QUESTION}.*\b(?:dnf|did not finish|not (?:\w+ )?(?:solved|finished|done|count)|unsolved"
    r"|forget that one)\b.*"
)
_NO_PENALTY: Final = re.compile(
    rf"{_NO_QUESTION}.*\b(?:no|without|not a?) ?(?:penalty|plus two|dnf)\b.*|.*\bit was (?:solved|fine)\b.*"
)
_PLUS_TWO: Final = re.compile(
    rf"{_NO_QUESTION}.*\b(?:plus two|two seconds more|two more seconds|penalty"
    r"|(?:one|a) turn (?:short|off|away|missing|to go))\b.*"
)
_AGAIN: Final = re.compile(
    rf"{_FILLED}(?:let us |let me |do |go |i want |i will do |give me |try )*(?:another|again|once more|one more)\b"
    r"(?: one| go| solve| time| try| then| please)*"
)
_HOW: Final = re.compile(
    r".*\bhow (?:am|are|was|is) (?:i|we|it|my \w+|that) (?:doing|going|getting on|so far)\b.*"
    r"|.*\b(?:what|tell|how)\b.* (?:best|average|fastest|times|statistics|stats)\b.*"
)
_WAYS: Final[Mapping[str, Sequence[tuple[re.Pattern[str], Meaning]]]] = {
    "scramble": [(_SCRAMBLED, Meaning(case="scrambled"))],
    "inspection": [(_STARTED, Meaning(command="ready"))],
    "solve": [(_STOPPED, Meaning(command="stop")), (_GAVE_UP, Meaning(case="dnf"))],
    "another": [
        (_NO_PENALTY, Meaning(case="no-penalty")), (_NOT_SOLVED, Meaning(case="dnf")),
        (_PLUS_TWO, Meaning(case="plus-two")), (_AGAIN, Meaning(command="yes")),
        (_HOW, Meaning(command="how-am-i-doing")),
    ],
}  # fmt: skip


def settles(words: Sequence[str], about: str) -> Meaning | None:
    """What it plainly means in answer to a question `about` that; None if that is for the reader."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    return next((meaning for way, meaning in _WAYS.get(about, ()) if way.fullmatch(said)), None)
