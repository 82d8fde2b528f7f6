"""Answers to whether a side turned when the cube fell: a "no" that opens one is often only that of "no idea"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.meaning import Command, Meaning

_EXCEPT: Final = r"but|except(?: for| that)?|apart from|other than|only|just|although|though|however"
_CLAUSES: Final = re.compile(rf"[{HARD}{SOFT}]|\b(?={_EXCEPT}\b)")
_UNSURE: Final = re.compile(
    r"\b(?:idea|clue|who knows|how should i|maybe|perhaps|possibly|hopefully|might|unsure|uncertain"
    r"|(?:may|could) (?:be|have)|(?:no|hard|difficult|impossible|not easy) (?:way )?(?:to |of )?"
    r"(?:tell|telling|say|saying|see|know|knowing)"
    r"|not (?:really |quite |so |too |very |entirely |completely |yet |at all |even |been )*"
    r"(?:sure|certain|know|tell|say|see|saw|seen|look(?! like| as)|looked|looking|watch|watching|watched"
    r"|notice|noticed|remember|paying|pay))\b"
)
_TURNED: Final = re.compile(
    r"\b(?:(?:turn|mov|twist|shift|rotat|budg|swivel|slid|click|pivot)(?:e|s|es|ed|ing|led|ling|t)?|spun|spin|spins"
    r"|slipped|went (?:round|around)|(?:got|is|was) (?:crooked|askew|off))\b(?! out\b)"
)
_NOT: Final = re.compile(r"\b(?:no|not|nope|nothing|none|neither|never|nobody|without|nor|any)\b")
_NOT_THAT: Final = re.compile(r"(?:no )*not (?:that|as far as|so far as) i\b.*")
_NAMED: Final = re.compile(rf"^(?:{_EXCEPT}) .*\b(?:top|bottom|left|right|front|back|sides?|layers?|face|row|middle)\b")
_NOTHING: Final = re.compile(r"(?:no )*(?:nothing|none|neither)(?: of (?:them|those|the sides))?(?: at all)?(?: did)?")
_AS_BEFORE: Final = re.compile(r"\b(?:as it was|as before|the same|unchanged|intact|harm|damage)\b")
_CHANGED: Final = re.compile(r"\b(?:not|nothing|never)\b")


def whether_turned(words: Sequence[str]) -> Meaning | None:
    """What is plainly said about it: that something did counts more than not knowing, and that more than a no. None
    if that is for the reader."""
    said = " ".join(words)
    found = {_of_clause(clause.strip()) for clause in _CLAUSES.split(said)}
    order: tuple[Command, ...] = ("yes", "unsure", "no")
    return next((Meaning(command=command) for command in order if command in found), None)


def _of_clause(clause: str) -> Command | None:
    denied = bool(_NOT.search(clause))
    if _NOT_THAT.fullmatch(clause):
        return "no"
    if _UNSURE.search(clause):
        return "unsure"
    if _TURNED.search(clause):
        return "no" if denied else "yes"
    if _NAMED.search(clause) and not denied:
        return "yes"
    unchanged = _AS_BEFORE.search(clause) and not _CHANGED.search(clause)
    return "no" if unchanged or _NOTHING.fullmatch(clause) else None
