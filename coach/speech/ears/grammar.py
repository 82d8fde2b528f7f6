"""Phrases as a grammar for PocketSphinx."""

from collections.abc import Iterable
from typing import Any

START, END = 0, 1  # states of a network
Arc = tuple[int, int, float] | tuple[int, int, float, str]
"""From one state to another with a probability, on hearing a word or without one."""


def jsgf(phrases: Iterable[str]) -> str:
    """A JSGF grammar of exactly these phrases.

    Common beginnings are shared, so that hundreds of phrases decode about as fast as their first words.
    """
    return f"#JSGF V1.0; grammar moment; public <phrase> = {_branches(_tree(phrases))};"


def network(phrases: Iterable[str]) -> list[Arc]:
    """A network of states for one or more of these phrases in a row: it begins in START and ends in END.

    Common endings are shared as well as beginnings. Of 1843 sentences in a row that decodes 17 times faster than
    the same as JSGF, which cannot share them (25 November 2026).
    """
    arcs: list[Arc] = [(END, START, 1.0)]
    states: dict[tuple[tuple[tuple[str, int], ...], bool], int] = {}

    def state(node: dict[str, Any]) -> int:
        """The state from which what `node` holds can follow; the same for all that can be followed by the same."""
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
    """What can follow, as JSGF; "" where only the end can."""
    if not (ways := [f"{word} {_branches(rest)}".strip() for word, rest in node.items() if word]):
        return ""
    return f"[{' | '.join(ways)}]" if "" in node else f"({' | '.join(ways)})"
