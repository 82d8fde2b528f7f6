"""Denials and their reasons: "no, there's blue in front" says no, and which sticker shows it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.meaning import Scene

_OPENS: Final = re.compile(
    r"(?:(?:um|oh|well|hm+|so|but|and|sorry|actually|okay) )*"
    r"(?:no|nope|nah|nay|not (?:yet|quite|really|at all))\b(?: no\b)*"
)
_SAYS_ELSE: Final = re.compile(
    r" (?:wait|hang on|hold on|sorry|problem|worries|worry|idea|clue|doubt|need|matter|rush|hurry|question|not sure"
    r"|i (?:mean|meant|said|am not sure|do not know))\b"
)
"""After a "no", this says something else ("no idea", "no wait"), unless a denial follows."""
_DENIES: Final = re.compile(
    r"\b(?:it|that|this|one|there|they|piece|corner|edge) (?:is|are|has|have) not\b|\bstill\b|\bthere (?:is|are)\b"
)
_SIDES: Final[Mapping[str, str]] = {
    "F": r"in (?:the )?front|(?:at|on|to) the front(?: side| face)?|(?:facing|faces|towards) me"
         r"|the front (?:side |face )?has",
    "B": r"(?:at|on|in|to) the (?:back|rear)(?: side| face)?|behind|the back (?:side |face )?has",
    "L": r"(?:on|at|to|in) (?:the|my) left(?: hand)?(?: side| face)?|the left (?:hand )?(?:side |face )?has",
    "R": r"(?:on|at|to|in) (?:the|my) right(?: hand)?(?: side| face)?|the right (?:hand )?(?:side |face )?has",
    "U": r"(?:on|at|in) (?:the )?top(?: side| face)?|the top (?:side |face )?has",
    "D": r"(?:on|at|in) the bottom(?: side| face)?|underneath|the bottom (?:side |face )?has",
}
_OTHERWISE: Final = re.compile(r"\b(?:not|should|instead|missing|next|where|swapped|never|nothing|from|row|line)\b")
"""With these, the colour is not simply seen at the side."""


def denies(words: Sequence[str]) -> bool:
    """Whether an answer begins by denying, whatever reason follows."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    opening = _OPENS.match(said)
    return bool(opening and (_DENIES.search(said) or not _SAYS_ELSE.match(said, opening.end())))


def reason(text: str, scene: Scene) -> tuple[str, str] | None:
    """The sticker that an answer gives as its reason: the face of its side and the learner's word for its colour; None
    if it does not name one of each."""
    said = _OPENS.sub("", " ".join(word for word in normalise(text) if word not in (HARD, SOFT)), count=1)
    if _OTHERWISE.search(said):
        return None
    sides = [face for face, ways in _SIDES.items() if re.search(rf"\b(?:{ways})\b", said)]
    named = [word for word in scene.names if re.search(rf"\b{re.escape(' '.join(normalise(word)))}s?\b", said)]
    return (sides[0], named[0]) if len(sides) == len(named) == 1 else None
