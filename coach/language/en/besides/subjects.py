"""What a sentence is about: somebody or something else than the cube, or another side than the one asked for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.meaning import Scene

_ON_CUBE: Final = frozenset(re.findall(r"\w+", """
    cube cubes layer layers top tops bottom side sides face faces edge edges corner corners piece pieces row rows cross
    one ones two three four five six nine all both middle middles centre centres front back left right whole line lines
    colour colours sticker stickers rest other others lot thing things everything pattern mark marks dot dots upper
    lower first second third last puzzle block job work picture shape plus order same stuff bits bit parts part
"""))
_SUBJECT: Final = re.compile(
    r"(?:(?:oh|well|so|and|but|okay|sorry|i think|i guess|now) )*"
    r"(?:he|she|some(?:one|body)|every(?:one|body)|(?:the|a|an|my|your|our|his|her|their) (?P<noun>(?:\w+ )??\w+)) "
    r"(?:has|have|is|was|did|does|had|got|can|could|will|took|found)\b"
)
_VERDICT: Final = frozenset({"yes", "yeah", "yep", "yup", "aye", "right", "correct", "no", "nope", "not"})
_ELSEWHERE: Final = (
    r"(?: one| side)?(?: is| are)? (?:(?:on|at|to|in|is) )?(?:(?:the|my|its) )?"
    r"(?:top|left|right|back|rear|behind|bottom|underneath|below|above)\b"
)


def of_somebody_else(words: Sequence[str], scene: Scene) -> bool:
    """Whether it tells something of a person, an animal or a thing off the cube, without a yes or no: "the cat has
    it"."""
    found = _SUBJECT.match(_said(words))
    if found is None or _VERDICT & set(words):
        return False
    on_cube = _ON_CUBE | {word for name in scene.names for word in normalise(name)}
    return not on_cube & set((found["noun"] or "").split())


def of_front(words: Sequence[str], names: Sequence[str]) -> list[str]:
    """Those of `names` that may be in front: neither denied nor said to be anywhere else."""
    said = _said(words)
    plain = {name: re.escape(" ".join(normalise(name))) for name in names}
    return [name for name, way in plain.items() if not re.search(rf"\bnot {way}\b|\b{way}s?{_ELSEWHERE}", said)]


def _said(words: Sequence[str]) -> str:
    return " ".join(word for word in words if word not in (HARD, SOFT))
