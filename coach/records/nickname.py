"""Learners are identified by a nickname, however it is typed."""

from __future__ import annotations

from typing import Final
from unicodedata import normalize

_LONGEST: Final = 40


def shown(name: str) -> str:
    """The nickname as typed, without extra spaces. Raises ValueError with a readable message if it is invalid."""
    plain(name)
    return " ".join(name.split())


def plain(name: str) -> str:
    """The form used for comparison: "ADA" and " ada " are one learner. Raises ValueError as `shown` does."""
    bare = normalize("NFC", " ".join(name.split()).casefold())
    if not any(map(str.isalnum, bare)) or len(bare) > _LONGEST or not bare.isprintable():
        raise ValueError(f"A learner's name has 1 to {_LONGEST} letters; {name[:_LONGEST]!r} cannot be one.")
    return bare
