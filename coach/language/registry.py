"""The available languages by code. Each is a module that is imported on first use."""

from __future__ import annotations

from importlib import import_module
from typing import Final, cast

from coach.language.language import Language

_MODULES: Final = {"en": "coach.language.en.language"}
"""Modules by language code; a module's `load()` returns the `Language`."""


def register(code: str, module: str) -> None:
    """Add a language from outside this package."""
    _MODULES[code] = module


def load(code: str = "en") -> Language:
    """A new instance of the language with that code, for the caller to keep. Raises ValueError if there is none."""
    if code not in _MODULES:
        raise ValueError(f"There is no language {code!r} here. There are: {', '.join(_MODULES)}.")
    return cast(Language, import_module(_MODULES[code]).load())
