"""The names of the parts of a sequence, where its turns are said: each stands for the turns of that part."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from coach.language.meaning import Scene

_BETWEEN: Final = r"\W+(?:(?:and|then|a|the)\W+)*"
"""What may stand between the words of a name."""


def spelled_out(text: str, scene: Scene) -> str:
    """The answer with the calls of its turns in place of the name of each part; the longest name counts."""
    for name, calls in sorted(scene.parts, key=lambda part: -len(part[0])):
        text = _named(name).sub(f", {calls}, ", text)
    return text


@lru_cache
def _named(name: str) -> re.Pattern[str]:
    words = [word for word in re.findall(r"\w+", name.lower()) if word not in ("and", "then", "the")]
    return re.compile(rf"(?:\bthe )?\b{_BETWEEN.join(words)}\b", re.IGNORECASE)
