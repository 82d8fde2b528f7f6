"""The languages there are, by code. Each is a module that is imported when it is first wanted."""

from __future__ import annotations

from importlib import import_module
from typing import Final, cast

from coach.language.language import Language

_MODULES: Final = {"en": "coach.language.en.language"}
"""A module by language code; its `load()` returns the `Language`."""


def register(code: str, module: str) -> None:
    """Add a language from outside this package."""
    _MODULES[code] = module


def load(code: str = "en") -> Language:
    """The language with that code, anew: whoever needs it longer keeps it. Raises ValueError when there is none."""
    if code not in _MODULES:
        raise ValueError(f"There is no language {code!r} here. There are: {', '.join(_MODULES)}.")
    return cast(Language, import_module(_MODULES[code]).load())
