"""From probabilities to a row of colours or a sequence of turns."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

import numpy as np

from coach.language.en.reader.heads import HEAD, TAGS, UNSAID, UNSEEN
from coach.language.en.reader.network import Read
from coach.language.en.reader.roles import is_named
from coach.language.meaning import USUAL_COLOURS, Meaning

_DENIES = re.compile(r"^(not?|nope|nah|never|none|wrong|instead|but|only)\b|n't\b")
_ALL = frozenset({
    "all", "both", "each", "every", "everything", "three", "3", "nine", "9", "triple", "whole", "full", "only", "just",
    "nothing", "same", "solid", "entire", "completely", "totally", "everywhere",
})  # fmt: skip
_FEW, _ONE = 4, 0.5
"""This few words with one colour ("it's blue") may be about one sticker, so that all have it is less sure."""
UNKNOWN = "?"
"""Stands for a sticker whose colour the learner cannot tell."""


def colours(
    read: Read, words: Sequence[str], names: Mapping[str, str], asked: int
) -> tuple[Meaning | None, float]:
    """The colours of a row of `asked` stickers, limited to those named in `words` (roles), with the probability.
    `names` are the learner's words for the faces."""
    if plain := _plainly(words, asked):
        return Meaning(colours=tuple(names[face] for face in plain)), 1.0
    named = [value in (UNSAID, UNSEEN) or is_named(value, words) for value in HEAD["at-0"].classes]
    logs = np.array([read.of(f"at-{place}") for place in range(asked)])
    logs = np.where(named, logs, -np.inf)
    logs -= np.log(np.exp(logs).sum(1, keepdims=True))
    said = [HEAD["at-0"].classes[at] for at in logs.argmax(1)]
    chance = float(np.exp(logs.max(1).sum()))
    if _is_one_of_many(words, said):
        chance *= _ONE
    told = tuple(UNKNOWN if face == UNSEEN else names[face] for face in said if face)
    return (Meaning(colours=told) if told else None), chance


def _is_one_of_many(words: Sequence[str], said: Sequence[str]) -> bool:
    """Whether a few words name one colour, and nothing says that all stickers have it."""
    bare = [re.sub(r"\W", "", word.casefold()) for word in words]
    named = [word for word in bare if any(role in word for role in USUAL_COLOURS.values())]
    alike = UNSAID not in said and len(set(said)) == 1
    return alike and len(bare) <= _FEW and len(named) == 1 and not _ALL & set(bare)


def agrees(words: Sequence[str], claimed: Sequence[str]) -> bool | None:
    """Whether the colours named in `words` (roles) are those of the claimed row; None if that is open.

    A learner who repeats the row confirms it, whatever else they say; "it's yellow" confirms three yellow ones. Denials
    are left to the reader.
    """
    named = [role for word in words for role in USUAL_COLOURS.values() if role in word.casefold()]
    if not named or any(_DENIES.search(word.casefold()) for word in words):
        return None
    if _runs(named) == _runs(claimed):
        return True
    return False if len(named) == len(claimed) > 1 else None


def _runs(colours: Sequence[str]) -> list[str]:
    """The colours in order, with runs of the same colour reduced to one."""
    return [colour for at, colour in enumerate(colours) if not at or colours[at - 1] != colour]


def _plainly(words: Sequence[str], asked: int) -> list[str]:
    """The faces of a row told with exactly one colour word per sticker: this needs no learning."""
    bare = [word.strip(".,;!").casefold() for word in words]
    faces = [face for word in bare for face, role in USUAL_COLOURS.items() if role == word]
    return faces if len(faces) == len(bare) == asked else []


def turns(read: Read) -> tuple[Meaning | None, float]:
    """The turns said aloud, with the probability."""
    said = tuple(TAGS[tag] for tag in read.tags.argmax(1) if tag)
    return (Meaning(turns=said) if said else None), float(np.exp(read.tags.max(1).sum()))
