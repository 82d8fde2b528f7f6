"""Builds sentences from wordings with choices, and from tables and files of them.

In a wording `(a|b)` is one of these, `[a]` is this or nothing, `{name}` is a given text or, in a grammar, another rule.
In a grammar a rule with more wordings is chosen more often, so that a short "yes" occurs but does not crowd out all the
other ways; in a wording on its own every option is equally likely.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import accumulate
from random import Random
from typing import TypeVar

T = TypeVar("T")
_SCAN = re.compile(r"[()\[\]|]|\{[\w-]+\}|[^()\[\]|{}]+")
_GROWTH = 0.35  # preference for the richer wording: 0 chooses evenly, 1 by the number of sentences
_SPACE_BEFORE = re.compile(r" (?=[,.!?;:…]|(?<=\w )'(?:d|ve|ll|re|m|s)\b)")
_MARKS = re.compile(r"[,.!?;:…]{2,}")
_ARTICLE = re.compile(r"\b([Aa]) (?=[aeio](?!u|ne\b|nce\b)\w)")
_START = re.compile(r"(?:^|[.!?] )[a-z]")


@dataclass(frozen=True, slots=True)
class _Name:
    name: str


@dataclass(frozen=True, slots=True)
class _Choice:
    options: Sequence[Sequence[_Part]]
    weights: Sequence[float] | None = None  # cumulative; None: equally likely
    size: float = 1.0


_Part = str | _Name | _Choice
_Chooser = Callable[[list[list[_Part]]], _Choice]


def pick(random: Random, ways: Sequence[T]) -> T:
    """One of these, all equally likely (faster than `choice`)."""
    return ways[int(random.random() * len(ways))]


def choose(random: Random, *ways: str) -> str:
    """One of these wordings."""
    return ways[int(random.random() * len(ways))]


def options(text: str) -> tuple[str, ...]:
    """The wordings of one thing, separated by bars."""
    return tuple(text.split("|"))


def joined(random: Random, items: Sequence[str]) -> str:
    """The items as one list, joined the way speakers do."""
    if len(items) == 1:
        return items[0]
    between = pick(random, (", ", ", ", " and ", ", then ", ", and ", " and also ", ", um, ", "... "))
    last = pick(random, (" and ", " and ", " and ", ", and ", " and also ", ", plus ", ", ", " plus ", " and then "))
    return between.join(items[:-1]) + last + items[-1]


def word(random: Random, wording: str, **values: str) -> str:
    """The wording with every choice made and the values filled in."""
    said: list[str] = []
    _expand(random, _even(wording), values, _NO_RULES, said)
    return "".join(said)


@cache
def _even(wording: str) -> _Choice:
    return _parsed(wording, lambda options: _Choice(options))


def _no_rule(name: str) -> _Choice:
    raise KeyError(name)


_NO_RULES: Callable[[str], _Choice] = _no_rule


def _expand(
    random: Random, choice: _Choice, values: Mapping[str, str], rule: Callable[[str], _Choice], said: list[str]
) -> None:
    ways, weights = choice.options, choice.weights
    if len(ways) == 1:
        at = 0
    elif weights is None:
        at = int(random.random() * len(ways))
    else:
        at = bisect(weights, random.random() * weights[-1])
    for part in ways[at]:
        if isinstance(part, str):
            said.append(part)
        elif isinstance(part, _Choice):
            _expand(random, part, values, rule, said)
        elif part.name in values:
            said.append(values[part.name])
        else:
            _expand(random, rule(part.name), values, rule, said)


def _parsed(wording: str, choice: _Chooser) -> _Choice:
    tokens = _SCAN.findall(wording)
    tokens.reverse()
    parsed = choice(_options(tokens, choice))
    if tokens or wording.count("(") + wording.count("[") != wording.count(")") + wording.count("]"):
        raise ValueError(f"brackets do not match in: {wording}")
    return parsed


def _options(tokens: list[str], choice: _Chooser) -> list[list[_Part]]:
    """The alternatives up to the closing bracket; their tokens are consumed."""
    found: list[list[_Part]] = [[]]
    while tokens:
        token = tokens.pop()
        if token in (")", "]"):
            break
        if token == "|":
            found.append([])
        elif token == "(":
            found[-1].append(choice(_options(tokens, choice)))
        elif token == "[":  # as likely as not
            inner = choice(_options(tokens, choice))
            found[-1].append(_Choice([[inner], []], size=inner.size + 1))
        else:
            found[-1].append(_Name(token[1:-1]) if token[0] == "{" else token)
    return found


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
        self._free: dict[str, _Choice] = {}  # wordings that are in no file

    def __contains__(self, rule: str) -> bool:
        return rule in self._texts

    def say(self, random: Random, rule: str, **values: str) -> str:
        """A random sentence of a rule; the values stand in for rules that are not in the files."""
        return tidy(self._said(random, self._rule(rule), values))

    def phrase(self, random: Random, wording: str, **values: str) -> str:
        """A random sentence of a wording that is in no file, not capitalised."""
        if wording not in self._free:
            self._free[wording] = _parsed(wording, self._weighed)
        return " ".join(self._said(random, self._free[wording], values).split())

    def _said(self, random: Random, choice: _Choice, values: Mapping[str, str]) -> str:
        said: list[str] = []
        _expand(random, choice, values, self._rule, said)
        return " ".join(said)

    def _rule(self, name: str) -> _Choice:
        if name not in self._rules:
            self._rules[name] = self._weighed([[_parsed(text, self._weighed)] for text in self._texts[name]])
        return self._rules[name]

    def _weighed(self, options: Sequence[Sequence[_Part]]) -> _Choice:
        sizes = [self._size(option) for option in options]
        return _Choice(options, list(accumulate(min(size, 1e5) ** _GROWTH for size in sizes)), sum(sizes))

    def _size(self, option: Sequence[_Part]) -> float:
        size = 1.0
        for part in option:
            if isinstance(part, _Choice):
                size *= part.size
            elif isinstance(part, _Name):
                size *= self._rule(part.name).size if part.name in self._texts else 4.0
        return size


def tidy(text: str) -> str:
    """Single spaces, one mark at a time and none before a word, "an" where needed, capitalised sentences."""
    text = _SPACE_BEFORE.sub("", " ".join(text.replace("...", "…").split()))
    text = _MARKS.sub(_one_mark, text).strip(" ,;:").lstrip(",.?!; ")
    return capitals(_ARTICLE.sub(r"\1n ", text)).replace("…", "...")


def _one_mark(found: re.Match[str]) -> str:
    """The first of several marks that ends a sentence."""
    marks = found.group()
    return next((mark for mark in marks if mark in ".!?…"), marks[-1])


def capitals(text: str) -> str:
    """The text with its sentences capitalised."""
    return _START.sub(lambda found: found.group().upper(), text)
