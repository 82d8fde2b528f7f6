"""Sentences made from rules: each rule a list of wordings that may refer to other rules.

In a wording `{name}` stands for another rule or a given value, `(a|b)` for one of these, `[a]` for this or nothing.
What has more wordings is said more often, so that a short "yes" is heard but does not crowd out all the other ways.
"""

from __future__ import annotations

import random as rnd
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from itertools import accumulate

_SCAN = re.compile(r"[{}()|\[\]]|[^{}()|\[\]]+")
_GROWTH = 0.35  # how much more often the richer wording is said: 0 would be evenly, 1 by the number of sentences
_SPACES = re.compile(r"\s+")
_BEFORE_MARK = re.compile(r"\s+([,.?!…]|'(?:d|ve|ll|re|m|s)\b)")
_MARKS = re.compile(r"[,.?!]*([.?!])[,.]*|,(?:\s*,)+")


@dataclass(frozen=True)
class _Name:
    name: str


@dataclass(frozen=True)
class _Choice:
    options: Sequence[Sequence[_Part]]
    weights: Sequence[float]  # cumulative
    size: float


_Part = str | _Name | _Choice


class Grammar:
    """The rules of one or several files."""

    def __init__(self, *names: str) -> None:
        self._texts: dict[str, list[str]] = {}
        for name in names:
            table = tomllib.loads(files(__package__).joinpath(name).read_text(encoding="utf-8"))
            for key, value in table.items():
                for rule, wordings in value.items() if isinstance(value, Mapping) else [(key, value)]:
                    if rule in self._texts:
                        raise ValueError(f"{name}: the rule {rule} is there twice")
                    self._texts[rule] = wordings
        self._rules: dict[str, _Choice] = {}
        self._free: dict[str, _Choice] = {}  # wordings that stand in no file

    def __contains__(self, rule: str) -> bool:
        return rule in self._texts

    def say(self, random: rnd.Random, wording: str, **values: str) -> str:
        """One sentence of a rule; the values stand for rules that are not in the files."""
        out: list[str] = []
        self._expand(random, self._rule(wording), values, out)
        return tidy(" ".join(out))

    def phrase(self, random: rnd.Random, text: str, **values: str) -> str:
        """One way of saying a wording that stands in no file, without a capital at its beginning."""
        out: list[str] = []
        self._expand(random, self._wording(text), values, out)
        return " ".join(" ".join(out).split())

    def _expand(self, random: rnd.Random, choice: _Choice, values: Mapping[str, str], out: list[str]) -> None:
        options = choice.options
        at = random.choices(range(len(options)), cum_weights=choice.weights)[0] if len(options) > 1 else 0
        for part in options[at]:
            if isinstance(part, str):
                out.append(part)
            elif isinstance(part, _Choice):
                self._expand(random, part, values, out)
            elif part.name in values:
                out.append(values[part.name])
            else:
                self._expand(random, self._rule(part.name), values, out)

    def _rule(self, name: str) -> _Choice:
        if name not in self._rules:
            self._rules[name] = self._choice([self._parse(text) for text in self._texts[name]])
        return self._rules[name]

    def _wording(self, text: str) -> _Choice:
        if text not in self._free:
            self._free[text] = self._choice([self._parse(text)])
        return self._free[text]

    def _parse(self, text: str) -> Sequence[_Part]:
        tokens = _SCAN.findall(text)
        parts, rest = self._sequence(tokens, 0)
        if rest != len(tokens):
            raise ValueError(f"brackets do not match in: {text}")
        return parts[0] if len(parts) == 1 else [self._choice(parts)]

    def _sequence(self, tokens: Sequence[str], at: int) -> tuple[list[list[_Part]], int]:
        """The alternatives up to the bracket that closes, and where it stands."""
        options: list[list[_Part]] = [[]]
        while at < len(tokens) and tokens[at] not in (")", "]"):
            token = tokens[at]
            if token == "|":
                options.append([])
            elif token == "{":
                options[-1].append(_Name(tokens[at + 1]))
                at += 2
            elif token in ("(", "["):
                inner, at = self._sequence(tokens, at + 1)
                options[-1].append(self._choice([*inner, []] if token == "[" else inner, even=token == "["))
            else:
                options[-1].append(token)
            at += 1
        return options, at

    def _choice(self, options: Sequence[Sequence[_Part]], even: bool = False) -> _Choice:
        sizes = [self._size(option) for option in options]
        weights = [1.0 if even else min(size, 1e5) ** _GROWTH for size in sizes]
        if even:  # said as often as left out
            weights[-1] = max(1.0, len(options) - 1.0)
        return _Choice(options, list(accumulate(weights)), sum(sizes))

    def _size(self, option: Sequence[_Part]) -> float:
        size = 1.0
        for part in option:
            if isinstance(part, _Choice):
                size *= part.size
            elif isinstance(part, _Name):
                size *= self._rule(part.name).size if part.name in self._texts else 4.0
        return size


def tidy(text: str) -> str:
    """Single spaces, none before marks, one mark at a time, sentences begun with a capital."""
    text = _BEFORE_MARK.sub(r"\1", _SPACES.sub(" ", text).strip(" ,"))
    text = _MARKS.sub(lambda found: found.group(1) or ",", text).lstrip(",.?! ")
    return capitals(text)


_START = re.compile(r"(^|[.?!]\s+)([a-z])")


def capitals(text: str) -> str:
    """The text with capitals at the beginning of its sentences."""
    return _START.sub(lambda found: found.group(1) + found.group(2).upper(), text)
