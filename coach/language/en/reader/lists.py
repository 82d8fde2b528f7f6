"""From chances to a row of colours or a sequence of turns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from coach.language.en.reader.heads import HEAD, TAGS, UNSAID, UNSEEN
from coach.language.en.reader.network import Read
from coach.language.meaning import USUAL_COLOURS, Meaning

UNKNOWN = "?"
"""Stands for a sticker of which the learner cannot tell the colour."""


def colours(
    read: Read, words: Sequence[str], names: Mapping[str, str], asked: int
) -> tuple[Meaning | None, float]:
    """The colours of a row of `asked` stickers, with the chance: of those that were named in `words` (roles). `names`
    are the learner's words for the faces."""
    if plain := _plainly(words, asked):
        return Meaning(colours=tuple(names[face] for face in plain)), 1.0
    named = [value in (UNSAID, UNSEEN) or _is_named(value, words) for value in HEAD["at-0"].classes]
    logs = np.array([read.of(f"at-{place}") for place in range(asked)])
    logs = np.where(named, logs, -np.inf)
    logs -= np.log(np.exp(logs).sum(1, keepdims=True))
    said = [HEAD["at-0"].classes[at] for at in logs.argmax(1)]
    chance = float(np.exp(logs.max(1).sum()))
    told = tuple(UNKNOWN if face == UNSEEN else names[face] for face in said if face)
    return (Meaning(colours=told) if told else None), chance


def _plainly(words: Sequence[str], asked: int) -> list[str]:
    """The faces of a row told in so many colours and not a word more: this needs no learning."""
    bare = [word.strip(".,;!").casefold() for word in words]
    faces = [face for word in bare for face, role in USUAL_COLOURS.items() if role == word]
    return faces if len(faces) == len(bare) == asked else []


def _is_named(face: str, words: Sequence[str]) -> bool:
    return any(USUAL_COLOURS[face] in word.casefold() for word in words)


def turns(read: Read) -> tuple[Meaning | None, float]:
    """The turns said aloud, with the chance."""
    said = tuple(TAGS[tag] for tag in read.tags.argmax(1) if tag)
    return (Meaning(turns=said) if said else None), float(np.exp(read.tags.max(1).sum()))
