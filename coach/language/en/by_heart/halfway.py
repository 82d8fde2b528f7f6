"""What a learner on their own says of how far they are, when they are not through yet."""

from __future__ import annotations

import re
from typing import Final

from coach.language.en.reader.normalise import plain

_NUMBERS: Final = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_COUNT: Final = rf"({'|'.join(_NUMBERS)})"
_NOT_SO: Final = re.compile(
    r"\b(?:wrong\w*|mistakes?|messed|lost|instead|too (?:far|many|much)|swapped|twice|skipped|missed|forgot|left out"
    r"|half (?:a )?turns?|only just|not \w+ any|how many)\b"
    rf"|\ball (?:the |of )*{_COUNT}\b"
)
_DENIED: Final = re.compile(r"\bnot (?:just |only )?(?:half|the first|in the middle)\b")
_SOME: Final = re.compile(
    r"\b(?:half(?:way)?|midway|part ?way|first (?:part|bit|half)|part of (?:it|them)|(?:in|at) the middle|a few of"
    r"|some of (?:it|them)|so far|unfinished|stopped|up to the|got (?:as far as|up to|to)|(?:left|more) to (?:do|go)"
    r"|turns? (?:left|missing|to go|to do)|only (?:did|do|done|got|managed|made)(?! it\b)|(?:only|just) the first)\b"
    r"|\b(?:not|never) (?:\w+ ){0,2}?(?:finished|finish|complete|completed|through|there|ready|all)\b"
    r"|\bnot (?:\w+ ){0,2}?(?:done|over)(?: \w+){0,3} yet\b"
    r"|\bstill (?:\w+ ){0,2}?(?:doing|going|working|turning|busy|at it|on it)\b"
    rf"|\bfirst {_COUNT}\b|\b{_COUNT} (?:turns|moves) (?:in|done|so far)\b"
    rf"|\b(?:did|done|only|just) {_COUNT}(?: of|$| turns?| moves?)"
)
_COUNTED: Final = re.compile(
    rf"\b(?:first|did|done|only|just) {_COUNT}\b(?! parts| groups| bits| halves| more)"
    rf"|\b{_COUNT} (?:turns|moves)\b(?! left| more| to go| to do)"
)
_ORDER: Final = re.compile(r"\b(?:only|just|up to|as far as)\b(.*)")
_NEXT: Final = re.compile(
    r"\b(?:what(?:'s| is| comes| do i do| was)? (?:it )?(?:next|now|then|after)|how do(?:es it| i) go on|and then"
    r"|hint)\b"
)
_CALLS: Final = ("lift", "slide", "lower", "swing", "push", "pull")
_STUCK: Final = re.compile(
    r"\b(?:did|done|made|turned|have|got)\b(?P<done>.*)\b(?:and|but|then|now|so)\b"
    r"(?: (?:and|but|then|now|so|i|i'm|i have|my mind(?: is|'s)?|just|have|am|it's|is|been))*"
    r" (?:forgot|forget|forgotten|stuck|(?:gone )?blank|(?:do|can) ?not (?:know|remember)|no idea|lost it)\b"
)
"""They have done something and do not know how it goes on."""
_ONE_TURN: Final = re.compile(
    r"\b(?:front|top|right|left|bottom|upper|lower|back)(?: (?:side|layer|face|hand|goes|to|the|one))*"
    r" (?:left|right|up|down|clockwise|anti ?clockwise|counter ?clockwise)\b"
)


def unfinished(text: str) -> bool:
    """Whether they say that they have done a part only, and nothing of a mistake."""
    said = _said(text)
    stuck = _STUCK.search(said)
    if _NOT_SO.search(said[: stuck.end("done")] if stuck else said) or _DENIED.search(said):
        return False
    return bool(_SOME.search(said) or (stuck and _turns_in(stuck["done"])))


def turns_done(text: str) -> int | None:
    """How many turns from the first they have done, if they say that."""
    said = _said(text)
    if not unfinished(text):
        return None
    if found := _COUNTED.search(said):
        count = next(filter(None, found.groups()))
        return _NUMBERS.index(count) + 1
    told = _STUCK.search(said) or _ORDER.search(said)
    return _turns_in(told[1]) or None if told else None


def _turns_in(said: str) -> int:
    """How many turns are named, one after the other."""
    return sum(word in _CALLS for word in said.split()) or len(_ONE_TURN.findall(said))


def _said(text: str) -> str:
    digits = re.sub(r"\b\d{1,2}\b", lambda digits: _NUMBERS[min(int(digits[0]), 12) - 1], text)
    return plain(digits).replace("n't", " not")


def asks_on(text: str) -> bool:
    """Whether they ask how it goes on."""
    said = _said(text)
    return bool(_NEXT.search(said) or _STUCK.search(said))
