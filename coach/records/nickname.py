"""Learners are told apart by a nickname, however it is typed."""

from __future__ import annotations

from typing import Final
from unicodedata import normalize

_LONGEST: Final = 40


def shown(name: str) -> str:
    """The nickname as it was typed, without needless spaces. Raises ValueError, in words, for one that cannot be."""
    plain(name)
    return " ".join(name.split())


def plain(name: str) -> str:
    """The nickname as it is compared: "ADA" and " ada " are one learner. Raises ValueError as `shown` does."""
    bare = normalize("NFC", " ".join(name.split()).casefold())
    if not bare or len(bare) > _LONGEST or not bare.isprintable():
        raise ValueError(f"A learner's name has 1 to {_LONGEST} letters; {name[:_LONGEST]!r} cannot be one.")
    return bare
