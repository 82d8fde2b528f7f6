"""Phrases as a grammar for PocketSphinx."""

from collections.abc import Iterable
from typing import Any


def jsgf(phrases: Iterable[str], many: bool = False) -> str:
    """A JSGF grammar of exactly these phrases; with `many`, of one or more of them in a row.

    Common beginnings are shared, so that hundreds of phrases decode about as fast as their first words.
    """
    tree: dict[str, Any] = {}
    for phrase in phrases:
        node = tree
        for word in phrase.split():
            node = node.setdefault(word, {})
        node[""] = {}  # a phrase may end here
    said = f"({_branches(tree)})+" if many else _branches(tree)
    return f"#JSGF V1.0; grammar moment; public <phrase> = {said};"


def _branches(node: dict[str, Any]) -> str:
    """What can follow, as JSGF; "" where only the end can."""
    if not (ways := [f"{word} {_branches(rest)}".strip() for word, rest in node.items() if word]):
        return ""
    return f"[{' | '.join(ways)}]" if "" in node else f"({' | '.join(ways)})"
