"""Words that carry numbers until an answer is whole, so that whatever moves them they can be found again."""

from __future__ import annotations

import re

MARK = "\ue000"
"""Stands behind a word, with the numbers of what it tells: no letter, so that no change of a word takes it along."""
_MARKED = re.compile(MARK + r"(\d*)")


def numbered(text: str) -> tuple[str, dict[int, int]]:
    """The text without marks, and which word (of text.split()) tells each number that stood in them."""
    told = {
        int(number): at
        for at, word in enumerate(text.split())
        if (found := _MARKED.search(word))
        for number in found[1]
    }
    return _MARKED.sub("", text), told
