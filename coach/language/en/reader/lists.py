"""From chances to a row of colours or a sequence of turns."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from coach.language.en.reader.heads import HEAD, TAGS, UNSEEN
from coach.language.en.reader.network import Read
from coach.language.meaning import Meaning

UNKNOWN = "?"
"""Stands for a sticker of which the learner cannot tell the colour."""


def colours(read: Read, names: Mapping[str, str], asked: int) -> tuple[Meaning | None, float]:
    """The colours of a row of `asked` stickers, with the chance. `names` are the learner's words for the faces."""
    logs = np.array([read.of(f"at-{place}") for place in range(asked)])
    said = [HEAD["at-0"].classes[at] for at in logs.argmax(1)]
    chance = float(np.exp(logs.max(1).sum()))
    told = tuple(UNKNOWN if face == UNSEEN else names[face] for face in said if face)
    return (Meaning(colours=told) if told else None), chance


def turns(read: Read) -> tuple[Meaning | None, float]:
    """The turns said aloud, with the chance."""
    said = tuple(TAGS[tag] for tag in read.tags.argmax(1) if tag)
    return (Meaning(turns=said) if said else None), float(np.exp(read.tags.max(1).sum()))
