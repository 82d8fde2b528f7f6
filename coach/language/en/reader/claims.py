"""Answers to a claim: what they describe is compared with what was claimed; the rest is the network's verdict, doubted
where a wrong one would cost most."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from coach.language.en.reader.heads import HEAD
from coach.language.en.reader.lists import agrees
from coach.language.en.reader.network import Read
from coach.language.en.reader.roles import role
from coach.language.meaning import Meaning, Scene

Weighted = list[tuple[Meaning | None, float]]
YES: Final = Meaning(command="yes")
NO: Final = Meaning(command="no")
_ROW: Final = 3
COMPARED: Final = 0.97
"""How surely what is described and what was claimed settle it, once they are compared."""
_TOLD, _PLAINLY = 0.5, 0.9
_AFFIRMS: Final = frozenset({"yes", "yep", "yup", "yeah", "aye", "indeed"})
_DENIES: Final = frozenset({"no", "nope", "nah", "not", "isn't", "aren't", "never", "wrong", "instead"})
_EXCEPTS: Final = _DENIES | {"but", "except", "apart", "bar", "nearly", "almost", "only"}
_HEDGES: Final = frozenset({"think", "guess", "maybe", "perhaps", "probably", "almost", "nearly", "left"})
_ASKING: Final = frozenset({"what", "what's", "whats", "why", "how", "where", "which", "when", "who"})
_VERBS: Final = frozenset({"is", "are", "was", "were", "does", "do", "did", "should", "can"})
_IT: Final = frozenset({"that", "this", "it", "these", "those", "they"})
_SOUNDS: Final = frozenset({"", "h", "hm", "hmm", "hmmm", "er", "erm", "um", "uh", "oh", "so", "well", "and", "but"})


def compared(read: Read, words: Sequence[str], scene: Scene) -> Meaning | None:
    """Yes or no, where what the words (roles) describe is plainly what was claimed, or plainly another row."""
    so = None
    if len(scene.claimed) == _ROW:
        so = agrees(words, [role(word, scene) for word in scene.claimed])
    if so is None and not _DENIES & set(bare(words)):
        so = _verdict(read, scene.claim, _PLAINLY) or None
    return None if so is None else YES if so else NO


def with_doubt(read: Read, words: Sequence[str], scene: Scene, commanded: Weighted) -> Weighted:
    """The network's reading of an answer, its verdict doubted where what else was said speaks against it."""
    said = bare(words)
    doubted = _doubted(read, said, scene)
    if said[0] in _AFFIRMS and _HEDGES & set(said):  # "yes, only one left I think": asked about once more
        commanded = [(None if meaning == NO else meaning, chance) for meaning, chance in commanded]
    return [(meaning, chance / 2 if meaning in doubted else chance) for meaning, chance in commanded]


def bare(words: Sequence[str]) -> list[str]:
    """The words without marks, in small letters."""
    return [re.sub(r"[^\w']", "", word.casefold()) for word in words]


def _doubted(read: Read, said: Sequence[str], scene: Scene) -> list[Meaning]:
    """The verdicts that what else was said speaks against: a false no sets off a search, a false yes goes on as if all
    were well; who is doubted is only asked again."""
    doubted: list[Meaning] = []
    so = _verdict(read, scene.claim, _TOLD)
    if so is not None:
        doubted.append(NO if so else YES)
    if said[0] in _AFFIRMS and not _EXCEPTS & set(said):
        doubted.append(NO)
    if asks(said):
        doubted.append(YES)
    return doubted


def asks(said: Sequence[str]) -> bool:
    """Whether it is a question by its order: "is that how it should be" is no yes, also where no mark is heard."""
    start = next((at for at, word in enumerate(said) if word not in _SOUNDS), 0)
    first, second = (*said[start : start + 2], "", "")[:2]
    return first in _ASKING or (first in _VERBS and second in _IT)


def described(read: Read, scene: Scene) -> Meaning | None:
    """Yes or no by a bare description: no where it tells otherwise than was claimed, yes where it tells all of it."""
    so = _verdict(read, scene.claim, _TOLD)
    return None if so is None else YES if so else NO


def _verdict(read: Read, claim: Mapping[str, bool], sure: float) -> bool | None:
    asked = [cell for cell in claim if cell in HEAD]  # the middle is never told of
    said = {cell: shown for cell in asked if (shown := _shown(read, cell, sure)) is not None}
    if any(claim[cell] != shown for cell, shown in said.items()):
        return False
    return True if asked and len(said) == len(asked) else None


def _shown(read: Read, cell: str, sure: float) -> bool | None:
    _, shown, hidden = np.exp(read.of(cell))
    return None if max(shown, hidden) < sure else bool(shown > hidden)
