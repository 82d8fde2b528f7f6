"""Answers to whether the cube is solved before practice, or is to be solved first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.en.slips import denials
from coach.language.meaning import Change, Meaning

_NO_CUBE: Final = re.compile(
    r"\b(?:no|without(?: a| my| the)?|not (?:got |have |own )?(?:a|any|my|the)) cube\b|\bcube is not here\b"
)
_NEARLY: Final = re.compile(r"(?:(?:well|oh|so|it is|we are) )*(?:nearly|almost|not quite|just about|close)\b")
_EACH_SIDE: Final = re.compile(
    r"\b(?:all|every|each)(?: of| the| my| six| four)* (?:side|face)s? (?:is|are|feels?|looks?|has|have) "
    r"(?:all |just )?(?:alike|the same|one|a single|done|finished|complete)\b"
)
_NOW_SOLVED: Final = re.compile(
    r"(?:(?:oh|well|but|wait|okay|yes|no|actually|hang on) )*(?:it|the cube|my cube|mine|that) is (?:\w+ )?solved\b"
    r"|\bi (?:have |just |already |now )*(?:solved|did|finished) it\b"
)
_ALL_BUT: Final = re.compile(
    r"\b(?:only|just)\b.*\b(?:wrong|left|missing|open|to do)\b|\b(?:apart from|except|all but)\b"
)
_NEXT: Final = re.compile(
    r"(?:(?:so|and|okay|well|now|yes) )*what (?:now|(?:is|comes|happens|do (?:i|we) do) (?:next|now|then))"
)
_MORE: Final = re.compile(
    r"\b(?:a bit|a little|some|once|one|two|a few|practi[sc]e|play|do|longer)(?: \w+){0,2}? ?(?:more|longer|another)\b"
    r"|\b(?:go|carry|keep) on (?:practi[sc]ing|playing|with the exercises)\b|\banother (?:one|exercise|question)\b"
)
_LET_US: Final = re.compile(r"(?:(?:oh|well|okay|yes) )*let us\b(?! (?:not|practise|practice|skip|just|use))")


def only_asks(words: Sequence[str], about: str) -> bool:
    """Whether it only asks what comes next, before anything has begun: that is no yes."""
    return about in ("solved", "solve-first") and bool(_NEXT.fullmatch(_said(words)))


def settles(words: Sequence[str], about: str) -> Meaning | None:
    """What it plainly means in answer to whether the cube is solved, or is to be solved first."""
    said = _said(words)
    if about == "solve-last" and _MORE.search(said) and not {"no", "not"} & set(words):
        return Meaning(change=Change(exercise="other"))
    if about not in ("solved", "solve-first"):
        return None
    if about == "solve-first" and "not" not in words and _NOW_SOLVED.search(said):
        return Meaning(case="solved")
    if about == "solved" and _ALL_BUT.search(said):
        return Meaning(command="no")
    if about == "solved" and not {"not", "no", "but", "nearly", "almost"} & set(words) and _NOW_SOLVED.search(said):
        return Meaning(command="yes")
    if _NO_CUBE.search(said) or denials.denies(words) or (about == "solved" and _NEARLY.match(said)):
        return Meaning(command="no")
    if about == "solved" and "not" not in words and "but" not in words and _EACH_SIDE.search(said):
        return Meaning(command="yes")
    return Meaning(command="yes") if about == "solve-first" and _LET_US.match(said) else None


def _said(words: Sequence[str]) -> str:
    return " ".join(word for word in words if word not in (HARD, SOFT))
