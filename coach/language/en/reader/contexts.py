"""The context of the moment that the reader gets in front of the answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.language.meaning import Scene

_WORDS: Final = {
    "look-top-edges": "edges", "look-top-corners": "corners", "piece": "piece", "row": "row", "face": "face",
    "claim": "claim", "ready": "ready", "turn": "turn", "continue": "continue", "step": "step", "return": "return",
    "do": "do", "recite": "recite", "hands": "hands", "hold": "hold", "other": "continue",
}  # fmt: skip


def context(moment: str, piece: Sequence[str] = ()) -> str:
    """The words for a moment, and for a piece with its colours (roles), in the order of the usual arrangement."""
    return " ".join((_WORDS[moment], *sorted(piece)))


def moment(asked: str, scene: Scene) -> str:
    """The moment of a question; for the kind "other", its subject."""
    return scene.about if asked == "other" and scene.about in _WORDS else asked
