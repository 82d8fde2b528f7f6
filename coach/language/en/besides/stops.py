"""Wishes for something to stop that is not the lesson: "stop calling turns", "stop for a second", "stop asking"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.meaning import Command

_STOP: Final = r"\b(?:stop|quit|cease|enough of|no more of)"
_TURNS: Final = r"(?:turn|move|call|step|direction|instruction|order|command|sequence|next)s?(?: ones?)?"
_THESE: Final = (
    rf"(?:(?:any|more|me|us|out|off|up|all|your|the|these|those|new|with) )*(?:{_TURNS}|them|it|things|stuff)"
)
_A_WHILE: Final = (
    r"(?:(?:for|just|here|there|right|please|now|it|everything) )*(?:(?:a|one|half a|two|just a|a little|few|a few) )+"
    r"(?:wee |quick )?(?:sec|second|minute|min|moment|bit|tick|while|mo|breath|break)s?\b"
)
_WHILE_I: Final = (
    r"(?:(?:right|here|there|please|now|just|for now|calling|it) ?)*(?:while|until|till|so) (?:i|we|my|the)\b"
)
_WAYS: Final[Mapping[Command, str]] = {
    "slower": rf"{_STOP} (?:rushing|hurrying|pushing|racing|going (?:so|too) (?:fast|quick|quickly))\b",
    "wait": (
        rf"{_STOP} (?:{_A_WHILE}|{_WHILE_I})"
        rf"|{_STOP} (?:calling|telling|giving|saying|naming|reading|announcing|shouting) {_THESE}\b"
        rf"|{_STOP} (?:calling|talking|speaking)(?: out| now| please| for| to me|$)"
        rf"|{_STOP} (?:(?:it )?with )?(?:the|these|those|your) {_TURNS}\b|\bno more (?:turns|moves|calls)\b"
    ),
}  # fmt: skip
_DOING: Final = re.compile(rf"{_STOP} (?:\w+ )?(?!reading|playing|solving|working|practising|training|turning)\w+ing\b")
_ALONE: Final = re.compile(r"(?:(?:oh|okay|please|just|now) )*stop(?: (?:please|now))*")
_OF_LESSON: Final = re.compile(r"\b(?:not|never) (?:stop|quit)\b|\b(?:lesson|today|session|goodbye|bye|for good)\b")


def stops(words: Sequence[str]) -> tuple[Command | None] | None:
    """What is wished, as a command or, if the coach cannot stop doing that, None in its place; just None if it is no
    wish for something to stop, or the network knows better."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    if _OF_LESSON.search(said):
        return None
    if _ALONE.fullmatch(said):
        return ("stop",)
    for command, ways in _WAYS.items():
        if re.search(ways, said):
            return (command,)
    return (None,) if _DOING.search(said) else None
