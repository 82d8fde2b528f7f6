"""Replaces the learner's words for colours or marks by roles, so that all arrangements and sets of marks read alike.

A role is the word for a face in the usual arrangement, yellow on top and green in front: if the learner calls the top
"ridges", "ridges on the left" is read as "yellow on the left".
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import lru_cache

from coach.language.meaning import USUAL_COLOURS, Scene

LONGEST = 120
"""Read at most this many words; nobody needs more to answer a question."""

_CHARACTERS = 2000
_APOSTROPHES = dict.fromkeys(map(ord, "\u2019\u2018\u02bc\u00b4`"), "'")
_BARE = re.compile(r"^\W+|\W+$")
_STROKES = re.compile(r"(?<=\w)[-/–—](?=\w)")
_GRAY = {"gray": "grey", "violet": "purple"}
_OTHER = "grey"  # stands for a usual colour that is not among the learner's words
_USUAL = frozenset(USUAL_COLOURS.values())
_SHAPES = frozenset(("line", "dot", "corner", "cross", "side", "top", "edge", "square"))
"""Words of the lesson: "a line" is not the singular of the mark "lines"."""
_FELT = frozenset((
    "marked", "bumps", "bump", "bumpy", "raised", "ridges", "ridged", "rough", "textured", "studs", "studded", "stud",
    "pimples", "tactile", "grooves", "grooved", "lumps", "lumpy", "pips", "braille", "embossed", "knobbly", "knobs",
    "fuzzy", "velvet", "rubbery",
))  # fmt: skip
"""What learners who have not told their words for marks may feel on top."""


def written(text: str) -> list[str]:
    """The words as they are, for reading: never fails, whatever is typed."""
    line = unicodedata.normalize("NFKC", text[:_CHARACTERS]).translate(_APOSTROPHES)
    return "".join(c if c.isprintable() else " " for c in line).split()[:LONGEST]


def in_roles(text: str, scene: Scene) -> list[str]:
    """The words of `text` with roles in place of the learner's own words."""
    roles, names = _words(tuple(scene.colours.items()))
    parts = {word for name in names for word in name}
    said = [each for word in written(text) for each in _apart(word, parts)]
    return [_kept(word, roles[name]) if name else _neutral(word, scene) for word, name in _named(said, names)]


def _apart(word: str, parts: Collection[str]) -> list[str]:
    """The words joined by a hyphen or slash, if one of them belongs to a name: "green-orange"."""
    joined = _STROKES.split(word)
    return joined if any(_BARE.sub("", each).casefold() in parts for each in joined) else [word]


def role(word: str, scene: Scene) -> str:
    """The role of one of the learner's words; any other word unchanged."""
    return next((USUAL_COLOURS[face] for face, name in scene.colours.items() if name == word), word)


def is_named(face: str, words: Sequence[str]) -> bool:
    """Whether the colour (role) of a face is among `words`, in any form."""
    return any(USUAL_COLOURS[face] in word.casefold() for word in words)


def _named(said: list[str], names: Mapping[tuple[str, ...], str]) -> Iterator[tuple[str, str]]:
    """The words, with those that form a name joined into one; longest names first."""
    at = 0
    plain = [_GRAY.get(bare, bare) for bare in (_BARE.sub("", word).casefold() for word in said)]
    while at < len(said):
        for length in (3, 2, 1):
            if name := names.get(tuple(plain[at : at + length])):
                yield _around(said[at])[0] + "x" + _around(said[min(at + length, len(said)) - 1])[1], name
                at += length
                break
        else:
            yield said[at], ""
            at += 1


def _around(word: str) -> tuple[str, str]:
    """The marks before and after a word."""
    bare = _BARE.sub("", word)
    before, _, behind = word.partition(bare) if bare else (word, "", "")
    return before, behind


def _kept(word: str, new: str) -> str:
    before, behind = _around(word)
    return f"{before}{new}{behind}"


def _neutral(word: str, scene: Scene) -> str:
    """A word that is no name: a usual colour that is not on the learner's cube becomes some other colour."""
    bare = _BARE.sub("", word).casefold()
    if scene.usual:
        return _kept(word, USUAL_COLOURS["U"]) if bare in _FELT and scene.colours == USUAL_COLOURS else word
    return _kept(word, _OTHER) if bare in _USUAL else word


@lru_cache(maxsize=512)  # one per hold of a cube: 30 learners in 16 holds
def _words(colours: tuple[tuple[str, str], ...]) -> tuple[dict[str, str], dict[tuple[str, ...], str]]:
    """The role of each of the learner's words, and the names by the groups of words that form them."""
    roles = {name: USUAL_COLOURS[face] for face, name in colours}
    names: dict[tuple[str, ...], str] = {}
    whole = {name: _plain(name) for name in roles}
    for name, words in whole.items():
        names |= {(*words[:-1], form): name for form in _forms(words[-1])}
        if sum(words[-1] in other for other in whole.values()) == 1:
            names[words[-1:]] = name  # "green" for "dark green", if there is no other green
    names |= {words: name for name, words in whole.items()}  # these take precedence over forms of others
    return roles, names


def _plain(name: str) -> tuple[str, ...]:
    return tuple(_GRAY.get(word, word) for word in name.casefold().replace("-", " ").split())


def _forms(word: str) -> Iterator[str]:
    """The word in other forms: "bump", "bumpy", "bumped". Forms that mean something in the lesson are left out."""
    stem = word[:-1] if word.endswith("s") and len(word) > 3 else word
    doubled = stem + stem[-1]
    short = stem[:-1] if stem.endswith("e") else stem
    for form in (stem, f"{stem}s", f"{stem}y", f"{short}y", f"{short}ed", f"{doubled}y", f"{doubled}ed"):
        if form not in _SHAPES and form != word:
            yield form
