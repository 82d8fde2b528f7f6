"""A single colour or mark named in a short sentence: "bark there as well", "yes, I feel bark in the middle"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.meaning import Meaning, Question, Scene

_BESIDE: Final = frozenset(re.findall(r"\w+", """
    yes yeah yep yup aye um oh well so and i we feel feels felt can see have has got get it is that there here this one
    too as also again same the a an some of my me mine to like definitely sure surely certainly still another more mark
    colour sticker spot now just then seems looks look finger fingers under it's thats once second time both hm okay
    bit something kind sort found find touch touching next comes follows first then's
"""))
"""What may be said besides without changing anything."""
_YES: Final = frozenset({"yes", "yeah", "yep", "yup", "aye"})
_ASKS: Final = frozenset({"is", "can", "has", "have"})
_MIDDLE: Final = frozenset({"in", "middle", "centre"})
_OTHER_PLACE: Final = frozenset({"next", "first", "second", "follows", "comes", "another", "once", "time"})
_UP: Final = re.compile(
    r"(?:(?:yes|yeah|oh|well|so|and) )*(?:it|that|this|that one|they|both|all of them|all)(?: (?:one|ones))?"
    r"(?: (?:is|are|does|do))?"
    r"(?: (?:all|both|definitely|right|pointing|points|point|facing|faces|face|lying|lies|turned))*"
    r" (?:up|upwards|upward|on top|to the top|uppermost)(?: there| too| as well| also| yes)*"
)


def one_mark(words: Sequence[str], scene: Scene) -> str | None:
    """The learner's word for the only colour (or mark) that is named, if nothing else is said of it."""
    said = f" {' '.join(word for word in words if word not in (HARD, SOFT))} "
    named = set()
    for name in sorted(scene.names, key=len, reverse=True):
        said, count = re.subn(rf" {re.escape(' '.join(normalise(name)))}s? ", "  ", said)
        named |= {name} if count else set()
    return next(iter(named)) if len(named) == 1 and set(said.split()) <= _BESIDE | _MIDDLE else None


def settles(words: Sequence[str], asked: Question, scene: Scene) -> tuple[Meaning | None] | None:
    """What it plainly means, in a tuple; just None if that is for the reader."""
    if asked == "claim" and scene.claim and all(scene.claim.values()) and _UP.fullmatch(" ".join(words)):
        return (Meaning(command="yes"),)
    if asked == "claim" and scene.claimed and words[0] not in _ASKS and (mark := one_mark(words, scene)):
        return _of_claim(mark, words, scene)
    if asked == "row" and len(words) > 1 and words[0] not in _ASKS and (mark := one_mark(words, scene)):
        return (Meaning(colours=("?", mark) if "middle" in words or "centre" in words else (mark,)),)
    return None


def _of_claim(mark: str, words: Sequence[str], scene: Scene) -> tuple[Meaning | None] | None:
    """Whether that mark is what is claimed; among several it is open, unless a yes or no is said with it."""
    same = set(scene.claimed) == {mark}
    elsewhere = bool(_MIDDLE & set(words)) and not all(place.endswith("4") for place in scene.claim)
    if same and _YES & set(words):
        return (Meaning(command="yes"),)
    if elsewhere or _OTHER_PLACE & set(words) or (len(scene.claimed) > 1 and not same):
        return None if _YES & set(words) and mark in scene.claimed else (None,)
    if not same and _YES & set(words):
        return (None,)  # it contradicts itself
    return (Meaning(command="yes" if same else "no"),)
