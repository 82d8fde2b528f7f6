"""Turns said plainly: if every word belongs to a call of a turn, this needs no learning.

It knows what can be a turn, never which one is expected. The side layers go up or down, top and bottom left or right,
all of them clockwise or anticlockwise, so that "top right right down" has only one reading.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

_FACES: Final = {
    "right": "R", "left": "L", "top": "U", "upper": "U", "bottom": "D", "lower": "D", "front": "F", "back": "B",
}  # fmt: skip
_LETTERS: Final = {
    "r": "R", "are": "R", "our": "R", "l": "L", "el": "L", "ell": "L", "u": "U", "you": "U", "d": "D", "dee": "D",
    "f": "F", "ef": "F", "eff": "F", "b": "B", "bee": "B",
}  # fmt: skip
"""Letters by their names, and by words that sound like them."""
_CLOCK: Final = {"clockwise": "", "anticlockwise": "'", "counterclockwise": "'"}
_WAYS: Final = {
    "R": _CLOCK | {"up": "", "upwards": "", "down": "'", "downwards": "'"},
    "L": _CLOCK | {"up": "'", "upwards": "'", "down": "", "downwards": ""},
    "U": _CLOCK | {"left": "", "right": "'"},
    "D": _CLOCK | {"left": "'", "right": ""},
    "F": _CLOCK,
    "B": _CLOCK,
}
_DIRECTIONS: Final = frozenset(way for ways in _WAYS.values() for way in ways)
_SIGNS: Final = {
    "prime": "'", "primed": "'", "dash": "'", "inverted": "'", "inverse": "'", "two": "2", "to": "2", "too": "2",
    "2": "2", "twice": "2", "double": "2", "squared": "2",
}  # fmt: skip
_HALVES: Final = (("half", "a", "turn"), ("a", "half", "turn"), ("half", "turn"), ("two", "times"), ("twice",))
_BESIDE: Final = frozenset({
    "the", "then", "and", "next", "now", "so", "first", "last", "finally", "after", "this", "that", "um", "uh", "er",
    "erm", "well", "okay", "i", "you", "it", "it's", "is", "layer", "side", "face", "goes", "go", "moves", "move",
    "turn", "turns", "to", "a", "seen", "from", "behind", "oh", "ah", "comes", "come", "hand",
})  # fmt: skip
"""Words that may stand anywhere among the calls and change nothing."""
_CORRECTS: Final = frozenset({"no", "sorry", "oops", "mean", "meant", "rather"})
_OR: Final = re.compile(r"\bor\b(?! (?:no|rather|sorry)\b)")
_UNSURE: Final = re.compile(r"\b(?:maybe|perhaps|possibly|not sure|not certain|guess)\b")
_STOPS: Final = frozenset({"wait", "hang", "on", "i"})
"""These belong to a correction if they follow one: "no, hang on"."""
_LOOSE: Final = frozenset({"back", "other", "way"})
"""Words that say nothing more between a layer and its direction: "top back to the right"."""
_CALLING: Final = _BESIDE.union(_FACES, "rludfb", *_WAYS.values(), ("prime", "two", "half", "twice", "times"))
_JOINED: Final = ((re.compile(r"\bclock wise\b"), "clockwise"), (re.compile(r"\b(anti|counter) clock"), r"\1clock"))
_WRITTEN: Final = re.compile(r"([rludfb])('|2)?")


def plainly(words: Sequence[str]) -> tuple[str, ...]:
    """The turns that the words call, in writing; none if anything else is said. What follows a "no" or a "sorry" comes
    in place of the last turn, or of the one that was begun."""
    turns: list[str] = []
    begun = False
    said = _bare(words)
    if said[-2:] == ["i", "meant"]:  # instead of what was said before
        said = said[:-2]
    for number, part in enumerate(_parts(said)):
        if number and not begun:
            turns = turns[:-1]
        called = _in_letters(part) or _in_words(part)
        if called is None:
            return ()
        turns += called.turns
        begun = called.begun
    return () if begun else tuple(turns)


def choose(words: Sequence[str]) -> bool:
    """Whether one turn or another is said, which is no answer."""
    return bool(_OR.search(" ".join(_bare(words))))


def are_doubted(words: Sequence[str]) -> bool:
    """Whether the turns are said with a plain doubt."""
    return bool(_UNSURE.search(" ".join(_bare(words))))


def are_broken(words: Sequence[str]) -> bool:
    """Whether the words belong to calls of turns, but call none: "F two prime" was not said."""
    said = _bare(words)
    return bool(said) and _CALLING.issuperset(said) and not _BESIDE.issuperset(said) and not plainly(said)


def _bare(words: Sequence[str]) -> list[str]:
    text = re.sub(r"[^\w']+|_", " ", " ".join(words).casefold()).strip()
    for pattern, joined in _JOINED:
        text = pattern.sub(joined, text)
    return text.split()


def _parts(words: Sequence[str]) -> list[list[str]]:
    """The words between corrections."""
    parts: list[list[str]] = [[]]
    after = False
    for word in words:
        if word in _CORRECTS or (after and word in _STOPS):
            parts += [] if after else [[]]
            after = True
        else:
            parts[-1].append(word)
            after = False
    return parts


@dataclass(frozen=True)
class _Called:
    """The turns called in some words, and whether another one was begun."""

    turns: Sequence[str]
    begun: bool = False


def _in_letters(words: Sequence[str]) -> _Called | None:
    turns: list[str] = []
    for word in words:
        if written := _WRITTEN.fullmatch(word):
            turns.append(written[1].upper() + (written[2] or ""))
        elif word in _LETTERS:
            turns.append(_LETTERS[word])
        elif word in _SIGNS and turns and len(turns[-1]) == 1:
            turns[-1] += _SIGNS[word]
        elif word not in _BESIDE:
            return None
    return _Called(turns) if turns else None


def _in_words(words: Sequence[str]) -> _Called | None:
    turns: list[str] = []
    at = 0
    face = ""  # named, with its direction still to come
    while at < len(words):
        half = next((each for each in _HALVES if tuple(words[at : at + len(each)]) == each), ())
        word = words[at]
        if half and (face or (turns and not turns[-1].endswith("2"))):
            turns = [*turns, f"{face}2"] if face else [*turns[:-1], f"{turns[-1][0]}2"]
            face, at = "", at + len(half)
            continue
        if face and word in _WAYS[face]:
            turns.append(face + _WAYS[face][word])
            face = ""
        elif not face and word in _FACES:
            face = _FACES[word]
        elif not (word in _BESIDE or (face and word in _LOOSE) or (word == "again" and words[at - 1] in _DIRECTIONS)):
            return None
        at += 1
    return _Called(turns, begun=bool(face))
