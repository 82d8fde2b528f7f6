"""Words to typed tokens, by the lexicon file beside this module."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from coach.language.en.normalise import HARD, SOFT


@dataclass(frozen=True)
class Token:
    """A word or fixed expression: its kind ("dir", "noun", ...), its value, and the words it stands for."""

    kind: str
    value: str
    words: str


class Lexicon:
    """Longest-match lookup of words and fixed expressions."""

    def __init__(self, tables: Mapping[str, Mapping[str, Sequence[str]]]) -> None:
        self.tables = tables
        self._entries: dict[tuple[str, ...], tuple[str, str]] = {}
        for kind, values in tables.items():
            for value, phrases in values.items():
                for phrase in phrases:
                    self._entries.setdefault(tuple(phrase.split()), (kind, value))
        self._longest: dict[str, int] = {}
        for words in self._entries:
            self._longest[words[0]] = max(len(words) + (kind == "correct"), self._longest.get(words[0], 0))

    def tokens(self, words: Sequence[str], extra: Mapping[str, tuple[str, str]] | None = None) -> list[Token]:
        """Tokens for `words`; `extra` adds single words of the moment (the learner's own colour names).

        A word that the lexicon does not hold is a token of kind "word".
        """
        found: list[Token] = []
        at = 0
        while at < len(words):
            word = words[at]
            if word in (HARD, SOFT):
                found.append(Token("mark", word, word))
                at += 1
                continue
            if extra and word in extra:
                found.append(Token(*extra[word], word))
                at += 1
                continue
            for length in range(min(self._longest.get(word, 0), len(words) - at), 0, -1):
                entry = self._entries.get(tuple(words[at : at + length]))
                if entry is None and SOFT in words[at : at + length]:
                    entry = self._broken(words[at : at + length])
                if entry:
                    found.append(Token(*entry, " ".join(words[at : at + length])))
                    at += length
                    break
            else:
                found.append(Token("word", word, word))
                at += 1
        return found


    def _broken(self, words: Sequence[str]) -> tuple[str, str] | None:
        """A correction said with pauses ("no, sorry"), which stays one expression."""
        if words[-1] == SOFT:
            return None
        entry = self._entries.get(tuple(word for word in words if word != SOFT))
        return entry if entry and entry[0] == "correct" else None


def read_toml(name: str) -> dict[str, dict[str, list[str]]]:
    """A data file of this package."""
    return tomllib.loads(files(__package__).joinpath(name).read_text("utf-8"))


@lru_cache(maxsize=1)
def lexicon() -> Lexicon:
    """The words of descriptions (places, pieces, shapes, counts)."""
    return Lexicon(read_toml("lexicon.toml"))
