"""What a recogniser is limited to at each moment, generated from the vocabulary file."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import product

from coach.language.en.lexicon import read_toml
from coach.language.meaning import Question, Scene

_SLOT = re.compile(r"\{(\w+)\}")
_SPEAKABLE = re.compile(r"[^a-z' ]+")


@lru_cache(maxsize=1)
def _file() -> dict[str, dict[str, list[str]]]:
    return read_toml("vocabulary.toml")


def phrases(asked: Question, scene: Scene) -> tuple[str, ...]:
    """Every phrase that can be heard in answer to `asked`, and the commands that are always open.

    Lower case, letters, apostrophes and spaces only, each phrase once.
    """
    return _expanded(asked, scene.up, scene.names, tuple(scene.marks))


@lru_cache(maxsize=64)
def _expanded(asked: Question, up: str, names: tuple[str, ...], marks: tuple[str, ...]) -> tuple[str, ...]:
    lists = _file()["lists"] | {"colour": [*names, *marks]}
    templates = _file()[asked]["phrases"] + _file()["always"]["phrases"]
    spoken = (phrase for template in templates for phrase in _fill(template.replace("yellow", up), lists))
    return tuple(dict.fromkeys(" ".join(_SPEAKABLE.sub(" ", phrase.casefold()).split()) for phrase in spoken))


def _fill(template: str, lists: dict[str, list[str]]) -> list[str]:
    """The template with every choice for each of its slots."""
    parts = _SLOT.split(template)
    choices = [lists[part] if at % 2 else [part] for at, part in enumerate(parts)]
    return ["".join(choice) for choice in product(*choices)]


def offers(asked: Question) -> tuple[str, ...]:
    """The few easily heard answers to offer."""
    return tuple(_file()["offers"].get(asked, ()))
