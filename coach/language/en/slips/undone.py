"""Whether a learner says that none of the turns is done: "I haven't done any of them", "not one", "nothing yet"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT

_TURN: Final = r"(?: (?:turns?|moves?|calls?|ones?|thing|bit))"
_OF: Final = (
    r"(?: (?:of|from|out of) (?:them|these|those|it|that|this|(?:the|these|those|your|my|all (?:the|of)?)(?: \w+){0,2}"
    r" (?:turns|moves|calls|ones)|what you (?:said|called|told me))(?: all)?)"
)
_DID: Final = r"(?:done|do|did|made|make|turned|turn|moved|move|twisted|followed|tried|managed?|performed)"
_ANY: Final = (
    rf"(?:any|either|(?:even )?(?:a single|one single|one))"
    rf"(?:{_TURN}|{_OF}|(?= yet| so far| at all| because|$)){{1,2}}"
)
_NO: Final = r"no(?= (?:turn|move|call)s?\b)"
_NONE: Final = rf"(?:none|nothing|zero|{_NO})(?:{_TURN}|{_OF})*"
_ALL: Final = rf"(?:all|every(?: single)? one|each one)(?:{_OF}| the turns)"
_ALL_LEFT: Final = (
    rf"\b(?:missed|skipped|left out) {_ALL}|\b{_ALL} (?:(?:is|are|i have|i still have|still|yet) )+to do\b"
)
_START: Final = r"(?:started|start|begun|begin|began|got(?:ten)? (?:started|going)|touched (?:it|the cube|a thing))"
_LEAD: Final = (
    r"(?:(?:oh|no|sorry|well|so|but|and|wait|um|ah|hey|stop|hang on|hold on|actually|honestly|i have|i|we have|we|it is"
    r"|there is|have|still|just) )*"
)
_END: Final = (
    r"(?: (?:yet|so far|at all|now|still|up to now|until now|sorry|please|i am afraid|really|actually|myself|already"
    r"|done|either|here|with it|from me|you know|in fact))*"
    r"(?=$| (?:because|since i|as i|i|my|and|so|sorry|please|but (?!the\b|one\b|that\b|for\b)|was|were)\b)"
)
_OF_TURNS: Final = re.compile(
    rf"\b(?:not|never) (?:\w+ ){{0,2}}?{_DID} {_ANY}{_END}"
    rf"|\b{_DID} (?:absolutely |just |exactly )?(?:none|zero|{_NO})(?:{_TURN}|{_OF})+{_END}"
    rf"|\b(?:none|zero|{_NO})(?:{_TURN}|{_OF})+ (?:(?:is|are|was|were|has|have|got|been) )*{_DID}{_END}"
    rf"|{_ALL_LEFT}"
)
"""No turn is done, whatever was asked: it is said of turns, not of what is seen."""
_PLAIN: Final = re.compile(
    rf"\b(?:not|never) (?:\w+ ){{0,2}}?{_DID} (?:{_ANY}|anything|a thing){_END}"
    rf"|\b(?:not|never|yet to) (?:\w+ )?{_START}"
    rf"(?: (?:it|them|any|turning|with (?:it|them|the turns)|the turns))?{_END}"
    rf"|\b{_DID} (?:absolutely |just |exactly )?{_NONE}{_END}"
    rf"|\b{_NONE} (?:(?:is|are|was|were|has|have|got|been) )*{_DID}{_END}"
    rf"|{_ALL_LEFT}"
    rf"|^{_LEAD}not (?:even )?(?:{_ANY}|a thing){_END}"
    rf"|^{_LEAD}(?:none|nothing (?=yet|so far|at all|of )|zero|{_NO})(?:{_TURN}|{_OF})*{_END}"
)
"""The same in the pause after a call, where fewer words say it."""


_LAST: Final = re.compile(r"\blast (two|three|four|five|six)\b")
_NUMBERS: Final = ("two", "three", "four", "five", "six")


def how_many(words: Sequence[str]) -> int | None:
    """How many of the last turns are not done, if that is told."""
    found = _LAST.search(" ".join(words))
    return _NUMBERS.index(found[1]) + 2 if found else None


def none_done(words: Sequence[str], in_pause: bool) -> bool:
    """Whether it says that no turn is done; `in_pause`: it was said after a call."""
    clauses = " ".join(HARD if word == SOFT else word for word in words).split(HARD)
    return any((_PLAIN if in_pause else _OF_TURNS).search(clause.strip()) for clause in clauses)
