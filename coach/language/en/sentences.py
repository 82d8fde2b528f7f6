"""The coach's sentences in English."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from coach.language.en import naming
from coach.language.phrases import Phrases


@cache
def sentences() -> Phrases:
    """All of them, for a learner who looks at the cube."""
    table = _load("phrases.toml")
    return Phrases("en", naming, table, _overlaid(table, _load("touch.toml")))


def _load(name: str) -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath(name).read_text("utf-8"))


def _overlaid(table: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """`table` with its entries replaced by those with the same key in `over`."""
    both = {key: _overlaid(table[key], new) if isinstance(new, dict) else new for key, new in over.items()}
    return {**table, **both}
