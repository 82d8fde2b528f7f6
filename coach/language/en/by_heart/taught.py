"""Which of the sequences and cases that are taught an answer names, and whether it asks to be told about one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.meaning import Scene

_PLEASE: Final = r"(?:(?:please|okay|oh|so|and|but|now|well|sorry|wait|hey|coach|then|again|just) )*"
_TELLS: Final = (
    r"(?:tell|remind|give|read|teach|show) (?:me|us)(?! (?:if|whether|when|why|where|after|once)\b)"
    r"|(?:say|explain|repeat|recite|describe|spell out)(?! (?:if|whether|when|why|where|after|once)\b)"
    r"|(?:go|run|talk|walk|take)(?: (?:me|us))? (?:through|over)"
)
_ASKS: Final = re.compile(
    rf"{_PLEASE}(?:(?:can|could|would|will) you {_PLEASE}(?:{_TELLS})|(?:{_TELLS})"
    r"|(?:what|how|which) (?!next\b|many\b|comes? (?:after|before)\b)"
    r"|(?:i|we) (?:have )?(?:forgot|forgotten|do not (?:know|remember)|can not remember) (?:how|what|which)"
    r"|(?:i|we) (?:want|need|would like)(?: to (?:hear|know|be told)| you to tell me)"
    r"|let (?:me|us) hear)\b"
)
"""How somebody asks to be told."""
_NAMED_FIRST: Final = re.compile(
    r"\b(?:how (?:does|do|did|is|was) (?:it|that|this|that one|this one)(?: \w+)? ?(?:go|work|again)?"
    r"|tell me(?: please| again)*|what (?:is|are|was) (?:it|that|that one|the turns)(?: again)?)$"
)
"""How somebody asks who has named it first: "the corner swap, how does it go"."""
_BESIDE: Final = re.compile(r"\b(?:after|before|than|instead of|except|why|did you)\b")
"""A sequence named with one of these words is not the one asked for."""
_LINK: Final = re.compile(
    r"\b(?:with|when(?:ever)?|if|for|in case of|at|about|in|once|given|on|do the|solve|fix)\b"
    r"(?: (?:i|we|you|there|it|that)(?: (?:have|has|had|got|get|see|feel|find|is|are))*\b)?"
)
"""What leads from the question to the case."""
_DOES: Final = re.compile(r"\b(?:do|does|sequences?|turns|one is it|comes?|goes|go|happens|what (?:if|about))\b")

_MOST: Final = 2
"""A description that so many cases fit, or fewer, asks for them."""
_FAR: Final = 10
_SMALL: Final = frozenset({
    "the", "a", "an", "to", "by", "on", "in", "of", "at", "with", "side", "hand", "handed", "it", "its", "is", "are",
    "has", "have", "you", "i", "we", "there", "that", "this", "which", "and", "then", "one", "from", "into", HARD, SOFT,
})  # fmt: skip
_HEAD_ENDS: Final = frozenset({"to", "by", "on", "in", "at", "of", "with"})
_COMMON: Final = frozenset({
    "turn", "corner", "edge", "top", "front", "back", "left", "right", "bottom", "middle", "cube", "face", "layer",
})  # fmt: skip
"""Words that name a part of the cube or a turn before they name a sequence."""
_OPPOSITE: Final[Mapping[str, str]] = {"left": "right", "right": "left", "top": "bottom", "front": "back"}
_NUMBERS: Final[Mapping[str, str]] = {
    "no": "0", "none": "0", "zero": "0", "without": "0", "not": "0", "one": "1", "single": "1", "only": "1",
    "two": "2", "both": "2", "couple": "2", "pair": "2", "four": "4", "all": "4", "every": "4", "each": "4",
}  # fmt: skip
_SPELLED: Final[Mapping[str, str]] = {
    "sides": "side", "corners": "corner", "edges": "edge", "stickers": "sticker", "matches": "match",
    "matching": "match", "pointing": "point", "points": "point", "facing": "point", "faces": "point", "me": "you",
    "shaped": "shape", "finished": "done", "goes": "go", "towards": "toward", "l": "corner shape", "bent": "shape",
}  # fmt: skip
_NEUTRAL: Final = frozenset({
    "up", "top", "get", "got", "see", "feel", "here", "yet", "just", "only", "now", "again", "please", "case", "shape",
    "correct", "sequence", "turns", "do", "does", "go", "come", "comes", "layer", "them", "my", "me", "cube", "stuck",
    "wrong", "was", "be", "if", "when", "like", "toward", "out", "they", "still", "some", "so",
})  # fmt: skip
"""Words that a case need not have: they may be said of any."""


def asked_for(text: str, scene: Scene) -> tuple[str, ...]:
    """The id of the sequence or case among `scene.taught` that somebody asks to be told about; of several cases, if it
    may be any of them."""
    if not scene.taught:
        return ()
    words = normalise(text)
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    asks = _ASKS.match(said)
    named = sequence_named(words, scene)
    if named and (asks or _NAMED_FIRST.search(said)) and not _BESIDE.search(said):
        return named[:1]
    if not asks:
        return ()
    clauses = (" ".join(clause.split()) for clause in " ".join(words).replace(HARD, SOFT).split(SOFT))
    return next(filter(None, (_cases_asked_for(part, scene) for part in (said, *clauses))), ())


def sequence_named(words: Sequence[str], scene: Scene) -> tuple[str, Collection[str]] | None:
    """The sequence that is named, with the words of its name; None if none is, or if it may be several. The most words
    count, and of as many those that stand closest together."""
    said = frozenset(words)
    found: list[tuple[int, int, str, Collection[str]]] = []
    for id, name in scene.taught:
        if "/" not in id and (used := _overlap(_name(name), said)):
            found.append((len(used), -_spread(words, used), id, used))
    best = max((each[:2] for each in found), default=())
    likeliest = [(id, used) for *score, id, used in found if tuple(score) == best]
    return likeliest[0] if len(likeliest) == 1 else None


def _spread(words: Sequence[str], used: Collection[str]) -> int:
    """The number of words from the first to the last of those used, where they stand closest together; a mark between
    them counts for many."""
    places = [at for at, word in enumerate(words) if word in used]
    parts = (words[start : end + 1] for start in places for end in places)
    return min(len(part) + _FAR * len({HARD, SOFT} & {*part}) for part in parts if set(used) <= set(part))


def _overlap(name: tuple[frozenset[str], frozenset[str]], said: Collection[str]) -> frozenset[str]:
    """The words of a sequence's name that were said, if they name it."""
    core, all_words = name
    contradicts = any(_OPPOSITE.get(word) in said and word not in said for word in all_words)
    return frozenset() if contradicts or not core <= set(said) else all_words & frozenset(said)


@lru_cache
def _name(name: str) -> tuple[frozenset[str], frozenset[str]]:
    """What must be said of a name, and all its words that count: "the ring to the right" is a ring."""
    words = [word for word in normalise(name) if word != "the"]
    end = next((at for at, word in enumerate(words) if word in _HEAD_ENDS), len(words))
    head = [word for word in words[:end] if word not in _SMALL]
    core = frozenset(head if not head or head[-1] in _COMMON else head[-1:])
    return core, frozenset(word for word in words if word not in _SMALL)


def _cases_asked_for(said: str, scene: Scene) -> tuple[str, ...]:
    """The cases that somebody may ask about: "what do I do with a dot"."""
    for link in _LINK.finditer(said):
        asks = link.start() and _DOES.search(said[: link.start()] + link.group())
        if asks and (found := _cases(said[link.end() :], scene)):
            return found
    return ()


def _cases(described: str, scene: Scene) -> tuple[str, ...]:
    """The cases that fit the words best: nothing is said that they have not. The present step's come first."""
    number, words = _counted(described)
    found: dict[str, tuple[int, bool]] = {}
    for id, name in scene.taught:
        if "/" not in id:
            continue
        other, own = _of_case(name)
        both = words & own
        right = number == other if number and other else number in ("", "1")
        if right and words <= own | _NEUTRAL and _tells(number, both):
            counts = 2 * bool(number and other)
            found[id] = (len(both) + counts, id.startswith(f"{scene.about}/"))
    best = [id for id, score in found.items() if score == max(found.values())]
    alike = tuple(id for id in best if id.split("/")[0] == best[0].split("/")[0])
    return alike if len(alike) <= _MOST else ()


def _tells(number: str, both: frozenset[str]) -> bool:
    """Whether it tells a case: its word for a shape, or two words, or a number of something."""
    return not both <= _NEUTRAL and (bool(number) or len(both) > 1 or not both <= _COMMON)


@lru_cache
def _of_case(name: str) -> tuple[str, frozenset[str]]:
    return _counted(" ".join(normalise(name)))


def _counted(described: str) -> tuple[str, frozenset[str]]:
    """The first number in a description, "" if there is none, and its other words that count."""
    words = described.split()
    number = next((_NUMBERS[word] for word in words if word in _NUMBERS), "")
    return number, frozenset(word for word in _spelled(words) if word not in _SMALL and word not in _NUMBERS)


def _spelled(words: Sequence[str]) -> Iterator[str]:
    for word in words:
        yield from _SPELLED.get(word, word).split()
