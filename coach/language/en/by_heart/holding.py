"""What an answer says about a case and how the cube is held for it: the case by its name, and the hold as a look."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.language.en.by_heart import placing
from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.network import Network
from coach.language.en.reader.reader import readings
from coach.language.meaning import Meaning, Question, Scene

_LOOKS: Final[Mapping[str, Question]] = {"top-cross": "look-top-edges", "top-face": "look-top-corners"}
"""The moment in which the hold of a case of that step is described like what is seen there."""
_NAMES: Final = frozenset({"dot", "line", "corner", "cross"})
"""The names of the cases of the top cross."""
_SIDES: Final = {
    "back": "U1", "behind": "U1", "left": "U3", "right": "U5", "front": "U7", "me": "U7", "facing": "U7",
}  # fmt: skip
"""The sides of the top by their words, for cases that are held by their sides."""
_WAYS: Final[Mapping[str, re.Pattern[str]]] = {
    "F0": re.compile(r"\b(?:points?|pointing|faces|facing|looks|looking) (?:(?:to|towards|toward|at) )?me\b"),
    "L2": re.compile(r"\b(?:points?|pointing|faces|facing|looks|looking) (?:to |towards )?(?:the )?left\b"),
}
"""Where the sticker of the front left corner points."""
_COUNT: Final = {"no": 0, "none": 0, "one": 1, "two": 2}
_COUNTED: Final = re.compile(r"\b(?:no|one|two)(?= (?:\w+ )?corners?\b)")
_LIKELY: Final = 0.5
_DENIALS: Final = frozenset({"not", "no", "none", "never", "dont", "isnt"})

def held(network: Network, text: str, words: Sequence[str], scene: Scene) -> Weighted:
    """What is said of a case of the step `scene.about`, and of its hold, with probabilities."""
    if "mistake" in words:
        return [(Meaning(command="mistake"), 1.0)]
    if (of_placing := placing.told(network, text, words, scene)) is not None:
        return of_placing
    named = readings(network, text, "hold", scene)
    best, chance = max(named, key=lambda each: each[1])
    case = best if chance >= _LIKELY else None
    if case and case.command:
        return named
    name = _named(words) or (case.case if case else None)
    name = name if scene.about in ("", "top-cross") else None
    look, sure = _look(network, text, words, scene)
    if look is None:
        return [(Meaning(case=name), max(chance, _LIKELY))] if name else named
    return [(replace(look, case=name), sure)]


def _named(words: Sequence[str]) -> str | None:
    """The case of the top cross that is named, if one is."""
    names = _NAMES & set(words)
    return None if len(names) != 1 or _DENIALS & set(words) else next(iter(names))


def _look(network: Network, text: str, words: Sequence[str], scene: Scene) -> tuple[Meaning | None, float]:
    if scene.about in ("", "top-face") and (pointing := _pointing(words)):
        return pointing, 1.0
    moments = [_LOOKS[scene.about]] if scene.about in _LOOKS else [] if scene.about else [*_LOOKS.values()]
    for moment in moments:
        looks = readings(network, text, moment, scene)
        told = [(meaning, chance) for meaning, chance in looks if meaning and not meaning.command]
        look, chance = max(told, key=lambda each: each[1], default=(None, 0.0))
        if chance >= _LIKELY:
            return look, chance
    sides = {} if scene.about in _LOOKS else {_SIDES[word]: True for word in words if word in _SIDES}
    return (Meaning(look=sides), 1.0) if sides and not _DENIALS & set(words) else (None, 0.0)


def _pointing(words: Sequence[str]) -> Meaning | None:
    """Where the sticker of the front left corner points, and how many corners are said to be up."""
    said = " ".join(words)
    place = next((place for place, way in _WAYS.items() if way.search(said)), None)
    if place is None or (_DENIALS - {"no", "none"}) & set(words):
        return None
    counted = {_COUNT[word] for word in _COUNTED.findall(said)}
    corners = counted.pop() if len(counted) == 1 else None
    return Meaning(look={place: True}, corners=corners)
