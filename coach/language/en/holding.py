"""What an answer says about a case and how the cube is held for it: the case by its name, and the hold as a look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.network import Network
from coach.language.en.reader.reader import readings
from coach.language.meaning import Meaning, Question, Scene

_LOOKS: Final[Mapping[str, Question]] = {"top-cross": "look-top-edges", "top-face": "look-top-corners"}
"""The moment in which the hold of a case of that step is described like what is seen there."""
_SIDES: Final = {
    "back": "U1", "behind": "U1", "left": "U3", "right": "U5", "front": "U7", "me": "U7", "facing": "U7",
}  # fmt: skip
"""The sides of the top by their words, for cases that are held by their sides."""
_LIKELY: Final = 0.5
_DENIALS: Final = frozenset({"not", "no", "none", "never", "dont", "isnt"})

def held(network: Network, text: str, words: Sequence[str], scene: Scene) -> Weighted:
    """What is said of a case of the step `scene.about`, and of its hold, with probabilities."""
    named = readings(network, text, "hold", scene)
    best, chance = max(named, key=lambda each: each[1])
    case = best if chance >= _LIKELY else None
    if case and case.command:
        return named
    look, sure = _look(network, text, words, scene)
    if look is None:
        return [(case, chance)] if case and scene.about == "top-cross" else [(None, 1.0)]
    if case and scene.about == "top-cross":
        return [(replace(look, case=case.case), min(chance, sure))]
    return [(look, sure)]


def _look(network: Network, text: str, words: Sequence[str], scene: Scene) -> tuple[Meaning | None, float]:
    if scene.about in _LOOKS:
        looks = readings(network, text, _LOOKS[scene.about], scene)
        told = [(meaning, chance) for meaning, chance in looks if meaning and not meaning.command]
        look, chance = max(told, key=lambda each: each[1], default=(None, 0.0))
        return (look, chance) if chance >= _LIKELY else (None, 0.0)
    sides = {_SIDES[word]: True for word in words if word in _SIDES}
    if not sides or _DENIALS & set(words):
        return None, 0.0
    return Meaning(look=sides), 1.0
