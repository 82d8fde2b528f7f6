"""Answers to a claim: a description is compared with the claim; otherwise the network's verdict counts, and is doubted
where an error would cost most."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from coach.language.en.reader.heads import HEAD
from coach.language.en.reader.lists import agrees
from coach.language.en.reader.network import Read
from coach.language.en.reader.roles import role
from coach.language.meaning import USUAL_COLOURS, Meaning, Scene

Weighted = list[tuple[Meaning | None, float]]
YES: Final = Meaning(command="yes")
NO: Final = Meaning(command="no")
_ROW: Final = 3
COMPARED: Final = 0.97
"""The confidence of a verdict from comparing a description with the claim."""
_TOLD, _PLAINLY = 0.5, 0.9
_AFFIRMS: Final = frozenset({"yes", "yep", "yup", "yeah", "aye", "indeed"})
_DENIES: Final = frozenset({"no", "nope", "nah", "not", "isn't", "aren't", "never", "wrong", "instead"})
_EXCEPTS: Final = _DENIES | {"but", "except", "apart", "bar", "nearly", "almost", "only"}
_HEDGES: Final = frozenset({"think", "guess", "maybe", "perhaps", "probably", "almost", "nearly", "left"})
_ASKING: Final = frozenset({"what", "what's", "whats", "why", "how", "where", "which", "when", "who"})
_VERBS: Final = frozenset({"is", "are", "was", "were", "does", "do", "did", "should", "can"})
_MORE: Final = frozenset({"cross", "layer", "layers", "cube", "corners", "edges"})
_SIDES: Final = frozenset({"top", "bottom", "side", "sides"})
_FINISHED: Final = frozenset({"done", "finished", "complete", "solved", "sorted", "ready"})
_IT: Final = frozenset({"that", "this", "it", "these", "those", "they"})
_SOUNDS: Final = frozenset({"", "h", "hm", "hmm", "hmmm", "er", "erm", "um", "uh", "oh", "so", "well", "and", "but"})


def compared(read: Read, words: Sequence[str], scene: Scene) -> Meaning | None:
    """Yes or no, if what the words (roles) describe plainly is what was claimed, or plainly another row."""
    so = None
    if len(scene.claimed) == _ROW:
        so = agrees(words, [role(word, scene) for word in scene.claimed])
    if so is None and not _DENIES & set(bare(words)):
        so = _verdict(read, scene.claim, _PLAINLY) or None
    return None if so is None else YES if so else NO


def with_doubt(read: Read, words: Sequence[str], scene: Scene, commanded: Weighted) -> Weighted:
    """The network's reading of an answer, with less weight for a verdict that the rest of the answer contradicts."""
    said = bare(words)
    doubted = _doubted(read, said, scene)
    if said[0] in _AFFIRMS and _HEDGES & set(said):  # "yes, only one left I think": ask again
        commanded = [(None if meaning == NO else meaning, chance) for meaning, chance in commanded]
    return [(meaning, chance / 2 if meaning in doubted else chance) for meaning, chance in commanded]


def bare(words: Sequence[str]) -> list[str]:
    """The words without marks, in lower case."""
    return [re.sub(r"[^\w']", "", word.casefold()) for word in words]


def _doubted(read: Read, said: Sequence[str], scene: Scene) -> list[Meaning]:
    """The verdicts contradicted by the rest of the answer: a false no starts a search, a false yes goes on as if all
    were well, but a doubt only leads to another question."""
    doubted: list[Meaning] = []
    so = _verdict(read, scene.claim, _TOLD)
    if so is not None:
        doubted.append(NO if so else YES)
    if said[0] in _AFFIRMS and not _EXCEPTS & set(said):
        doubted.append(NO)
    if asks(said) or _contradicts(said, scene):
        doubted.append(YES)
    return doubted + ([YES, NO] if _of_something_else(said, scene) else [])


def _of_something_else(said: Sequence[str], scene: Scene) -> bool:
    """Whether they speak, without a yes or no, of more than the row or the sticker that is claimed, or of other
    colours: "the bottom cross is there, I swear"."""
    told = set(said)
    denies = any(word.endswith("n't") or word == "cannot" for word in said)
    if scene.claim or not 0 < len(scene.claimed) <= _ROW or denies or told & (_AFFIRMS | _DENIES):
        return False
    named = told & set(USUAL_COLOURS.values())
    others = bool(named) and not named & {role(word, scene) for word in scene.claimed}
    return bool(told & _MORE) or bool(told & _SIDES and (told & _FINISHED or others))


def _contradicts(said: Sequence[str], scene: Scene) -> bool:
    """Whether a yes comes with other colours than those of the row that is claimed, or with a cross."""
    told = set(said)
    if scene.claim or not 0 < len(scene.claimed) <= _ROW or not told & _AFFIRMS or told & _EXCEPTS:
        return False
    named = told & set(USUAL_COLOURS.values())
    return "cross" in told or (bool(named) and not named & {role(word, scene) for word in scene.claimed})


def asks(said: Sequence[str]) -> bool:
    """Whether its word order makes it a question: "is that how it should be" is no yes, even without a mark."""
    start = next((at for at, word in enumerate(said) if word not in _SOUNDS), 0)
    first, second = (*said[start : start + 2], "", "")[:2]
    return first in _ASKING or (first in _VERBS and second in _IT)


def described(read: Read, scene: Scene) -> Meaning | None:
    """Yes or no from a bare description: no if it differs from the claim, yes if it covers all of it."""
    so = _verdict(read, scene.claim, _TOLD)
    return None if so is None else YES if so else NO


def _verdict(read: Read, claim: Mapping[str, bool], sure: float) -> bool | None:
    asked = [cell for cell in claim if cell in HEAD]  # nobody mentions the middle
    said = {cell: shown for cell in asked if (shown := _shown(read, cell, sure)) is not None}
    if any(claim[cell] != shown for cell, shown in said.items()):
        return False
    return True if asked and len(said) == len(asked) else None


def _shown(read: Read, cell: str, sure: float) -> bool | None:
    _, shown, hidden = np.exp(read.of(cell))
    return None if max(shown, hidden) < sure else bool(shown > hidden)
