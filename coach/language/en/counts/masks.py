"""The words around counts (`counts.toml`), and numbers that count no people."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, Final

DIGITS: Final = r"\d+"


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("counts.toml").read_text("utf-8"))


def ways(name: str) -> str:
    """The ways to say that, as the alternatives of a regular expression, the longest first; N is any number."""
    listed: list[str] = _table()["words"][name]
    return "(?:" + "|".join(sorted(listed, key=len, reverse=True)).replace("N", DIGITS) + ")"


KEPT: Final = frozenset(word for word in _table()["words"]["beside"].split())
"""Words around a number that change nothing."""


def _patterns(name: str) -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(rf"(?<!\w)(?:{way.replace('N', DIGITS)})") for way in _table()[name].values())


_OTHER: Final = _patterns("other")
_PAST: Final = _patterns("past")


def masked(said: str) -> str:
    """The words without numbers that count no people: minutes, grades, the one there, who is missing."""
    for other in _OTHER:
        said = other.sub(" other ", said)
    for past in _PAST:
        rest = past.sub(" other ", said)
        said = rest if re.search(r"\d", rest) else said
    return " ".join(said.split())
