"""What an English sentence of a method file says about places, directions and numbers.

This is not a grammar: it looks for the words of place that it knows and ignores the rest, so a sentence is
never refused for being worded in an unforeseen way.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

_NAMED: Final = (
    (r", not\b[^,.;:]*", ""),
    (r"\b(right|left|across|sideways) in front of you\b", r"\1"),
    (r"\bcube in front of you\b|\b(?:all|just) right\b|\bright (?:way|now|side up)\b|\bleft over\b", ""),
    (r"(?<!the )\bright (?=at |in |on |next )", ""),
    (r"\b(side|edge|corner|one) facing you\b", r"\1 <F>"),
    (r"\b(point\w*|fac\w+|look\w*)( straight)?( at| to| towards?)? you\b", r"points <F>"),
    (r"\b(runs?|goes|lies|line)( straight)? away from you\b", r"\1 <F> to <B>"),
    (r"\baway from you\b", "<B>"),
    (r"\b(?:near(?:est)?|clos(?:e|est)|next)(?: to)? you\b|\btowards? you\b", "<F>"),
    (r"\bin front\b|\bfront\b|\bnear(?:est)?\b", "<F>"),
    (r"\b(?:side to side|sideways|horizontal|across(?! from))\b", "<L> to <R>"),
    (r"\bback\b|\brear\b|\bfar\b|\bbehind\b", "<B>"),
    (r"\bleft(?: hand)?\b", "<L>"),
    (r"\bright(?: hand)?\b", "<R>"),
    (r"\btop\b|(?<!\{)\bup(?:wards)?\b", "<U>"),
    (r"\bbottom\b|(?<!\{)\bdown(?:wards)?\b", "<D>"),
    (r"<([FBLR])> (?:side|face)\b([^<]*)<([FBLR])> corner", r"<\1> <\3> corner\2points <\1>"),
)  # fmt: skip
_NO_SIDE: Final = (
    r"\b(?:all|just|quite|that's|put|it) right\b|\bright (?:way|now|away|angles?|order)\b"
    r"|(?<!the )(?<!its )\bright (?:above|below|under|where|there|here)\b"
    r"|\bleft (?:over|out|alone)\b|\b(?:none|nothing|any|no \w+) (?:(?:is|are) )?left\b"
)
"""Phrases in which "right" and "left" mean something else."""
_MIRRORED: Final = re.compile(
    rf"(?P<other>{_NO_SIDE})|\b(?P<side>right|left)(?=\b|hand|wards?\b|most\b)|\b(?P<round>anti|counter)?clockwise\b",
    re.IGNORECASE,
)
_SMALL: Final = r"(?:(?:on|at|to|in|of|the|side|corner) ){0,3}"
_ANY_HOLD: Final = re.compile(
    r"\b(?:any|either|whichever|whatever|every) (?:side|face|way|hold)\b|\bhowever\b|\b(?:no|n.t|not) matter\b"
)
_POINTS: Final = (
    re.compile(r"\b(?:point|fac|look|turn)\w* (?:(?:straight|out|on|at|to|towards?|the|its) ){0,3}<(\w)>"),
    re.compile(r"\bits <(\w)>(?! <)"),
    re.compile(r"(?:\b(?:is|are|\w*n't)|\{\w+\})(?: on)? <(U)>"),
)
_HAS_STICKER: Final = re.compile(r"\{\w+\} (?:sticker )?(?:is )?(?:(?:on|at|in|to) )?(?:the |its )?<(\w)>(?! <)")
_TWO_CORNERS: Final = (
    (re.compile(r"<([FB])> <([LR])> and <([LR])>"), r"<\1> <\2> and <\1> <\3>"),
    (re.compile(r"<([FB])> and <([FB])> <([LR])>"), r"<\1> <\3> and <\2> <\3>"),
    (re.compile(r"<([LR])> <([FB])> and <([FB])>"), r"<\1> <\2> and <\1> <\3>"),
    (re.compile(r"<([LR])> and <([LR])> <([FB])>"), r"<\1> <\3> and <\2> <\3>"),
)
_CORNER: Final = re.compile(rf"<([FB])> {_SMALL}<([LR])>|<([LR])> {_SMALL}<([FB])>")
_KINDS: Final = {"edge": re.compile(r"\b(?:edges?|line)\b"), "corner": re.compile(r"\bcorners?\b(?! shape)")}
_FACE: Final = re.compile(r"<([FBLR])>")

_NUMBERS: Final = {
    "no": 0, "none": 0, "one": 1, "single": 1, "two": 2, "both": 2, "three": 3,
    "four": 4, "all": 4, "every": 4, "each": 4,
}  # fmt: skip
_COUNTED: Final = re.compile(
    r"(?:\b(?P<before>other|or|least|most|than) )?\b(?P<number>" + "|".join(_NUMBERS) + r")"
    r"(?: of)?(?: the| your| its)?(?: four)?(?: top| upper)? (?P<noun>corner|edge|side)s?\b(?! shape)"
)
_DENIED: Final = re.compile(r"\bnot\b|n't\b|\bwrong\b|\bmissing\b|\bdown\b")
_SHAPE: Final = re.compile(r"\b(dot|line|cross|corner|l)\b")


@dataclass(frozen=True)
class ToldHold:
    """What a sentence says about a hold."""

    any_hold: bool
    """Whether it says that any side may face the learner."""
    corners: frozenset[frozenset[str]]
    """The corners named, each by its two faces: {F, L} for "front left"."""
    faces: frozenset[str]
    """The faces named on their own: F for "at the front"."""
    points: frozenset[str]
    """The faces that something points to: F for "points towards you"."""
    kinds: frozenset[str]
    """The kinds of piece it mentions: "edge" (or a line), "corner"."""


def told(sentence: str) -> ToldHold:
    """The places and directions in a sentence about a hold."""
    text = _marked(sentence)
    points, text = _taken(_POINTS, text)
    for pattern, both in _TWO_CORNERS:
        text = pattern.sub(both, text)
    corners = [frozenset(filter(None, found.groups())) for found in _CORNER.finditer(text)]
    faces = _FACE.findall(_CORNER.sub(" ", text))
    any_hold = bool(_ANY_HOLD.search(text) or _ANY_HOLD.search(sentence.lower()))
    kinds = {kind for kind, pattern in _KINDS.items() if pattern.search(sentence.lower())}
    return ToldHold(any_hold, frozenset(corners), frozenset(faces), frozenset(points), frozenset(kinds))


def pointing(sentence: str) -> frozenset[str]:
    """The directions in which a sticker points, according to a sentence about a single piece."""
    return frozenset(_taken((*_POINTS, _HAS_STICKER), _marked(sentence))[0])


def way(sentence: str) -> tuple[str, str]:
    """The faces that a piece goes from and to: ("F", "R"); empty if not said."""
    text = _marked(sentence)
    begins = re.search(r"\bfrom (?:the )?<(\w)>", text)
    ends = re.search(r"\bto (?:the )?<(\w)>", text)
    return begins[1] if begins else "", ends[1] if ends else ""


def counts(sentence: str) -> Iterator[tuple[str, int]]:
    """The numbers of edges, corners and sides that the sentence states: ("corners", 2)."""
    text = sentence.lower()
    if not _DENIED.search(text):
        for found in _COUNTED.finditer(text):
            if not found["before"]:
                yield f"{found['noun']}s", _NUMBERS[found["number"]]


def shape(sentence: str) -> str:
    """The pattern of the top edges if exactly one is named: "dot", "line", "corner" or "cross"; else ""."""
    text = sentence.lower()
    found = set(_SHAPE.findall(text))
    if len(found) != 1 or _DENIED.search(text) or re.search(r"\bno\b", text):
        return ""
    return "corner" if found == {"l"} else found.pop()


def layer(sentence: str) -> str:
    """The layer that is named first: "top", "middle" or "bottom"; "" if none is."""
    found = re.search(r"\b(top|upper|middle|bottom|lower) layer\b", sentence.lower())
    return {"upper": "top", "lower": "bottom"}.get(found[1], found[1]) if found else ""


def mirrored(sentence: str) -> str:
    """The sentence with left and right mirrored."""
    return _MIRRORED.sub(_in_the_mirror, sentence)


def _in_the_mirror(found: re.Match[str]) -> str:
    if found["other"]:
        return found[0]
    if side := found["side"]:
        other = "left" if side.lower() == "right" else "right"
        return other.capitalize() if side[0].isupper() else other
    other = "clockwise" if found["round"] else "anticlockwise"
    return other.capitalize() if found[0][0].isupper() else other


def _marked(sentence: str) -> str:
    """The sentence with each word of place as the letter of its face: "on the <L>"."""
    text = sentence.lower().replace("-", " ")
    for pattern, face in _NAMED:
        text = re.sub(pattern, face, text)
    return " ".join(text.split())


def _taken(patterns: Iterable[re.Pattern[str]], text: str) -> tuple[list[str], str]:
    """The letters that the patterns find, and the text with the matches removed."""
    found = []
    for pattern in patterns:
        found += pattern.findall(text)
        text = pattern.sub(" . ", text)
    return found, text
