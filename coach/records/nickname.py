"""Learners are identified by a nickname, however it is typed."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Final
from unicodedata import combining, normalize

_LONGEST: Final = 40
_NEARLY: Final = 0.8
"""Names at least this similar may be one and the same, by difflib's ratio."""


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


def similar(name: str, known: Iterable[str]) -> list[str]:
    """Those of the nicknames that are nearly `name`, such as "Tomás" for "tomas", the most similar first."""
    by_letters = {_letters(other): other for other in known if plain(other) != plain(name)}
    return [by_letters[each] for each in get_close_matches(_letters(name), by_letters, n=2, cutoff=_NEARLY)]


def _letters(name: str) -> str:
    """The nickname without accents and case."""
    return "".join(letter for letter in normalize("NFD", plain(name)) if not combining(letter))
