"""Which of the learner's six words are easily confused with each other, or with one of the coach's words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from itertools import combinations
from typing import Final

from coach.language.en.reader.normalise import normalise

ITS_OWN: Final = (
    "dot", "line", "cross", "corner", "edge", "face", "layer", "side", "piece", "row", "centre", "turn", "step",
    "top", "bottom", "left", "right", "front", "back", "middle", "up", "down", "clockwise",
    "yes", "no", "none", "all", "stop", "next", "wait", "ready", "go", "done", "back", "repeat", "help", "slower",
    "faster", "louder", "softer", "lost", "wrong", "one", "two", "three", "four", "nine",
)  # fmt: skip
"""Words that mean something to the coach wherever they are said."""

_SPELT: Final = (
    (r"^kn", "n"), (r"^wr", "r"), (r"^wh", "w"), (r"ph", "f"), (r"(?<=[aou])ugh$", "f"), (r"igh|eigh", "I"),
    (r"gh", ""), (r"tch", "C"), (r"ch", "C"), (r"sh", "S"), (r"th", "T"), (r"ck|q", "k"), (r"dge|j|g(?=[ei])", "J"),
    (r"c(?=[eiy])", "s"), (r"c", "k"), (r"x", "ks"), (r"([^aeiou])\1", r"\1"),
    (r"(?<=[^aeiou])y$|ee|ea|ie", "E"), (r"oo|ou|ow|u(?=[^aeiou]e)|ue|ew", "U"), (r"ai|ay|a(?=[^aeiou]e$)", "A"),
    (r"oa|o(?=[^aeiou]e$)", "O"), (r"i(?=[^aeiou]e)|y", "I"), (r"(?<=[^aeiou])e$", ""), (r"(?<=[^s])s$", "z"),
)  # fmt: skip
"""Spelling to rough sounds, one letter each; capitals are sounds that no single small letter stands for."""
_CLASSES: Final = ("pbtdkg", "fvTszSCJ", "mn", "lrwy", "h", "ieEA", "aouOU", "I")
_CLASS: Final = {sound: number for number, sounds in enumerate(_CLASSES) for sound in sounds}
ALIKE: Final = 1.0
"""Words no further apart than this are easily confused: one sound added or missing, or two changed slightly."""


def clashes(words: Sequence[str]) -> list[tuple[str, str]]:
    """Pairs that are easily confused: two words that sound alike, or a word and the coach's word in it."""
    alike = [(one, other) for one, other in combinations(words, 2) if distance(one, other) <= ALIKE]
    return alike + [(word, own) for word in words for own in dict.fromkeys(ITS_OWN) if _holds(word, own)]


def _holds(word: str, own: str) -> bool:
    """Whether the learner's word contains the coach's word, or one that sounds exactly like it."""
    form = re.compile(rf"{own}{own[-1]}?(?:s|es|ed|y|ing|less)?")  # lines, dotted, crossing
    return any(form.fullmatch(part) or sound(part) == sound(own) for part in normalise(word))


@cache
def sound(word: str) -> str:
    """A word by its rough sounds."""
    said = " ".join(normalise(word)).replace(" ", "")
    for pattern, plain in _SPELT:
        said = re.sub(pattern, plain, said)
    return said


def distance(one: str, other: str) -> float:
    """How many sounds lie between two words; a change within a class (p and b) counts half."""
    first, second = sound(one), sound(other)
    row = [float(at) for at in range(len(second) + 1)]
    for said in first:
        before, row = row, [row[0] + 1]
        for at, heard in enumerate(second):
            change = 0.0 if said == heard else 0.5 if _CLASS.get(said) == _CLASS.get(heard) else 1.0
            row.append(min(before[at + 1] + 1, row[at] + 1, before[at] + change))
    return row[-1]
