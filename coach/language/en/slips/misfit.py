"""Whether a learner says that what is asked or told does not go with their cube: "I can't make that fit"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT

_DENIES: Final = re.compile(
    r"\b(?:not|no|none|nothing|never|nowhere|neither|hardly|impossible|nonsense|different|otherwise"
    r"|(?:is|are|was) (?:it|that|this) supposed to|how (?:can|could|should|would|does|do|is|will))\b"
)
_FIT: Final = re.compile(
    r"\b(?:fits?|fitting|match(?:es|ing)?|agrees?|works?(?: out)?|goes together|go together|adds? up|appl(?:y|ies)"
    r"|correspond\w*|tall(?:y|ies)|makes? (?:any |no )?sense|comes? out|look like (?:that|this))\b"
)
_ON_MINE: Final = re.compile(
    r"\b(?:that|this|it|them|those|these|like|so|there|anywhere|have|see|find|got|looks?)\b.*"
    r"\b(?:mine|(?:my|this) cube)\b"
    r"|\b(?:mine|(?:my|this) cube) (?:just |simply |really )?(?:is|looks|does|will|can|has|feels|seems)\b"
)
_OF_PROGRESS: Final = re.compile(
    r"\b(?:yet|done|turned|ready|solved|finished|moved|dropped|fell|back|hand|hands|wait|time|far|much|slow\w*|fast\w*)\b"
)
"""With these it is about how far they are."""


_NOT_IN: Final = re.compile(
    r"\b(?:corner|edge|piece|one)s? (?:is|are|was|were|has|have|did) (?:not|never|no longer)(?: \w+){0,2}?"
    r" (?:in|there|home|placed|stay)\b"
    r"|\b(?:corner|edge|piece|one)s? (?:\w+ )?(?:fell|came|come|popped|dropped|went|gone) (?:back )?out\b"
)


def not_in(words: Sequence[str]) -> bool:
    """Whether it says that a piece is not in."""
    return bool(_NOT_IN.search(" ".join(word for word in words if word not in (HARD, SOFT))))


def does_not_fit(words: Sequence[str]) -> bool:
    """Whether it says that nothing of it goes with the learner's cube."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    if not _DENIES.search(said) or _OF_PROGRESS.search(said):
        return False
    return bool(_FIT.search(said) or _ON_MINE.search(said))
