"""Numbers as people say them, in figures: "twenty-five", "half a dozen", "a hundred and two", "s-seven"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise

MOST: Final = 200
"""No class is larger."""
ASKED: Final = "qmark"
"""Stands where a sentence ends as a question."""
_UNITS: Final = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_VALUES: Final[Mapping[str, int]] = {
    **{word: value for value, word in enumerate(_UNITS)}, **{word: 10 * at for at, word in enumerate(_TENS, 2)},
    "nil": 0, "nought": 0, "naught": 0, "zilch": 0, "zip": 0, "nada": 0, "nul": 0, "zippo": 0, "nix": 0,
    "wan": 1, "yin": 1, "ane": 1, "twa": 2, "fower": 4, "fourty": 40,
}  # fmt: skip
_DOZEN: Final = 12
_GROUPS: Final = (
    (r"\bone and a half dozen\b|\ba dozen and a half\b", "eighteen"),
    (r"(?<!not )\ba single (?=hand|child|person|kid|pupil)", "one "),
    (r"\b(?:a )?half (?:a |of a )?dozen\b", "six"), (r"\b(?:a )?baker is dozen\b", "thirteen"),
    (r"\b(?:exactly )?(?:a|one) (?:full )?(?:pair|couple)(?= of (?:us|hands?|them)\b)(?=.*\bexactly\b)", "two"),
    (r"\ba pair\b|\bthe pair\b", "two"), (r"\ba trio\b|\bthe trio\b", "three"),
    (r"\ba (?:four|quar)(?:some|tet)\b", "four"),
    (r"\bnumber (?:is|was)\b", "it is"),
)  # fmt: skip
_WHOLE: Final = frozenset({"a", "i", "on", HARD, SOFT})
"""These stand before words that begin like them."""
_SIGNS: Final = (
    (r"(\d+) ?%", r"\1 percent "), (r"[~\u2248<>]=? ?(?=\d)", "about "), (r"\b(?:c|ca|approx)\.? ?(?=\d)", "about "),
    (r"(?<=\d)\+(?! ?\d)", " or more "), (r"(?<=\d) ?\+ ?(?=\d)", " plus "),
    (r"(?<=[a-z]) ?[-\u2212](?= ?\d)", " minus "),
    (r"(?<=[a-z]{2})/(?=[a-z]{2})", " or "),
)  # fmt: skip
"""What is typed for words."""
_ANOTHER_SENSE: Final = re.compile(r"\b\d+(?:st|nd|rd|th)\b|\b\d+[:.]\d+\b")


def figured(text: str) -> str:
    """The plain words of `text` with its numbers in figures, clause marks, and ASKED for question marks."""
    line = re.sub(r"\b(\d+) ?/ ?(\d+)\b", r"\1 out of \2", text)
    for sign, words in _SIGNS:
        line = re.sub(sign, words, line)
    line = re.sub(r"(\d+) ?[-\u2013\u2212] ?(\d+)", _span, line)
    line = _ANOTHER_SENSE.sub(" nth ", line)
    line = re.sub(r"\d+", lambda found: f" {_spoken(int(found[0][:6]))} ", line)
    line = re.sub(r"\?", f" {ASKED}?", line)
    said = " ".join(_unstammered(normalise(line)))
    for pattern, words in _GROUPS:
        said = re.sub(pattern, words, said)
    return " ".join(_in_figures(said.split()))


def _span(found: re.Match[str]) -> str:
    """A dash between numbers in words: from one to a larger one, or the one less the other."""
    return f"{found[1]} {'or' if int(found[1]) < int(found[2]) else 'minus'} {found[2]}"


def _spoken(number: int) -> str:
    """The number in words; one that is too large for any class is none."""
    if number < len(_UNITS):
        return _UNITS[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens - 2] + (f" {_UNITS[ones]}" if ones else "")
    hundreds, rest = divmod(number, 100)
    return f"{_UNITS[hundreds]} hundred" + (f" and {_spoken(rest)}" if rest else "") if number <= MOST else "nth"


def _unstammered(words: Sequence[str]) -> list[str]:
    """The words without the beginnings of words that are begun again: "s s seven", "tw twelve", "eight eighteen"."""
    kept: list[str] = []
    for word in words:
        if kept[-1:] == [SOFT] and kept[-2:-1] and kept[-2] in _UNITS and _begins(kept[-2], word):
            kept = kept[:-2]
        while kept and kept[-1] not in _WHOLE and _begins(kept[-1], word):
            kept.pop()
        kept.append(word)
    return kept


def _begins(part: str, word: str) -> bool:
    return len(part) < len(word) and word.startswith(part)


def _in_figures(words: Sequence[str]) -> list[str]:
    told: list[str] = []
    at = 0
    while at < len(words):
        value, after = _number(words, at)
        told.append(words[at] if value is None else str(value))
        at = after
    return told


def _number(words: Sequence[str], at: int) -> tuple[int | None, int]:
    """The number that begins there, or None, and where it ends."""
    word, following = words[at], [*words[at + 1 : at + 4], "", "", ""]
    if word in ("a", "one", "two") and following[0] == "hundred":
        return _hundreds(words, at, 100 * (2 if word == "two" else 1))
    if word == "dozen" or (word in ("a", "one", "full") and following[0] == "dozen"):
        return _DOZEN, at + (1 if word == "dozen" else 2)
    value = _VALUES.get(word)
    if value is None:
        return None, at + 1
    if following[0] == "dozen":
        return _DOZEN * value, at + 2
    if word in _TENS and 0 < _VALUES.get(following[0], 0) < 10:
        return value + _VALUES[following[0]], at + 2
    return value, at + 1


def _hundreds(words: Sequence[str], at: int, hundreds: int) -> tuple[int, int]:
    after = at + 2
    if words[after : after + 1] == ["and"]:
        rest, end = _number(words, after + 1) if after + 1 < len(words) else (None, after)
        return (hundreds, after) if rest is None or rest >= 100 else (hundreds + rest, end)
    if after < len(words) and words[after] not in (HARD, SOFT):
        rest, end = _number(words, after)
        if rest is not None and rest < 100:
            return hundreds + rest, end
    return hundreds, after
