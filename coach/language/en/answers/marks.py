"""Words carry numbers until an answer is complete, so that they can be found again however they are moved."""

from __future__ import annotations

import re

MARK = "\ue000"
"""Follows a word, with the numbers of what it tells. It is not a letter, so no change to the word affects it."""
_MARKED = re.compile(MARK + r"(\d*)")


def numbered(text: str) -> tuple[str, dict[int, int]]:
    """The text without marks, and for each number in them the index of its word in text.split()."""
    told = {
        int(number): at
        for at, word in enumerate(text.split())
        if (found := _MARKED.search(word))
        for number in found[1]
    }
    return _MARKED.sub("", text), told
