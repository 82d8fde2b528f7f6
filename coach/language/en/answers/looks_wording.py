"""Wordings with choices: `(a|b)` is one of these, `[a]` this or nothing, `{name}` a given text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from random import Random
from typing import TypeVar

T = TypeVar("T")
_TOKEN = re.compile(r"[()\[\]|]|\{\w+\}|[^()\[\]|{}]+")
_SPACE_BEFORE = re.compile(r"\s+(?=[,.!?;:…])")
_MARKS = re.compile(r"(?<=[.!?…])(?:\s*[,;:])+|(?:[,;:]\s*)+(?=[.!?,;:…])")
_DOUBLED = re.compile(r"([.!?…])(?:\s*[.!?…])+")
_START = re.compile(r"(?:^|(?<=[.!?]\s))[a-z]")

_Part = str | tuple["_Parts", ...]
_Parts = tuple[_Part, ...]


@cache
def _parsed(pattern: str) -> _Parts:
    tokens = _TOKEN.findall(pattern)
    tokens.reverse()
    options = _options(tokens)
    return options[0] if len(options) == 1 else (options,)


def _options(tokens: list[str]) -> tuple[_Parts, ...]:
    """The alternatives up to the bracket that closes; the tokens are taken off."""
    options: list[list[_Part]] = [[]]
    while tokens:
        token = tokens.pop()
        if token in (")", "]"):
            break
        if token == "|":
            options.append([])
        elif token == "(":
            options[-1].append(_options(tokens))
        elif token == "[":
            inner = _options(tokens)
            options[-1].append((*inner, *((),) * len(inner)))
        else:
            options[-1].append(token)
    return tuple(tuple(option) for option in options)


def pick(random: Random, options: Sequence[T]) -> T:
    """One of these, each as often (faster than `choice`)."""
    return options[int(random.random() * len(options))]


def word(random: Random, pattern: str, **slots: str) -> str:
    """The pattern with one choice made at each place and the slots filled in."""
    said: list[str] = []
    _expand(random, _parsed(pattern), slots, said)
    return "".join(said)


def _expand(random: Random, parts: _Parts, slots: dict[str, str], said: list[str]) -> None:
    for part in parts:
        if isinstance(part, str):
            said.append(slots[part[1:-1]] if part[0] == "{" else part)
        else:
            _expand(random, part[int(random.random() * len(part))], slots, said)


def tidy(text: str) -> str:
    """Single spaces, one mark at a time, sentences that begin with a capital."""
    text = _SPACE_BEFORE.sub("", " ".join(text.replace("...", "…").split()))
    text = _DOUBLED.sub(r"\1", _MARKS.sub("", text)).strip(" ,;:")
    return _START.sub(lambda found: found.group().upper(), text).replace("…", "...")


def joined(random: Random, items: Sequence[str]) -> str:
    """The items as one list; a speaker's ways of stringing them together."""
    if len(items) == 1:
        return items[0]
    between = pick(random, (", ", ", ", " and ", ", then ", ", and ", " and also ", ", um, ", "... "))
    last = pick(random, (" and ", " and ", " and ", ", and ", " and also ", ", plus ", ", ", " plus ", " and then "))
    return between.join(items[:-1]) + last + items[-1]
