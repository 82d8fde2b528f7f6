"""Helps a recogniser to transcribe free speech, and converts its transcript to the lesson's spelling."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from coach.language.en.reader import turns
from coach.language.meaning import Question


@lru_cache(maxsize=1)
def _file() -> dict[str, dict[str, Any]]:
    return tomllib.loads(files(__package__).joinpath("transcripts.toml").read_text("utf-8"))


@lru_cache(maxsize=16)
def _patterns(asked: Question) -> tuple[tuple[re.Pattern[str], str], ...]:
    tables = (_file()["always"], _file().get(f"spelling-{asked}", {}))
    return tuple((re.compile(pattern, re.I), words) for table in tables for words, pattern in table.items())


def before(asked: Question) -> str:
    """What might have been said before an answer to `asked`; "" if nothing helps."""
    return str(_file()["before"].get(asked, ""))


def words(asked: Question) -> tuple[tuple[str, ...], ...]:
    """The words that answers to `asked` are made of, in each manner of answering; none if they may be any."""
    return tuple(tuple(listed.split()) for listed in _file()["words"].get(asked, ()))


def respell(text: str, asked: Question) -> str:
    """A transcript with the lesson's words in place of those that sound like them; "" if it cannot be what was said."""
    for pattern, words in _patterns(asked):
        text = pattern.sub(words, text)
    return "" if asked == "recite" and turns.are_broken(text.split()) else text
