"""What an answer means, what was asked, and what the understander may know of the moment."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, Literal, get_args

Question = Literal[
    "look-top-edges",
    "look-top-corners",
    "claim",
    "piece",
    "row",
    "face",
    "ready",
    "continue",
    "other",
    "turn",
]
QUESTIONS: tuple[Question, ...] = get_args(Question)


@dataclass(frozen=True)
class Meaning:
    """What was said, and what follows from it within the answer; a field left out was not said.

    `look` tells by sticker ("U1") whether it shows the top colour. `shape`, `edges` and `corners` describe
    the top where the places were left open. `place` is a position ("UFR") and `shows` tells which face of
    the hold each named colour of the piece is on. `colours` lists stickers in the order they were read.
    """

    look: Mapping[str, bool] = field(default_factory=dict)
    shape: str | None = None
    edges: int | None = None
    corners: int | None = None
    place: str | None = None
    shows: Mapping[str, str] = field(default_factory=dict)
    colours: tuple[str, ...] = ()
    command: str | None = None

    def to_json(self) -> dict[str, Any]:
        """Only the keys that were said, ready for `json.dumps`."""
        said: dict[str, Any] = {}
        for entry in fields(self):
            value = getattr(self, entry.name)
            if value is None or (not isinstance(value, int) and not value):
                continue
            if isinstance(value, Mapping):
                value = dict(value)
            said[entry.name] = list(value) if isinstance(value, tuple) else value
        return said

    def __bool__(self) -> bool:
        return bool(self.to_json())


@dataclass(frozen=True)
class Scene:
    """What the understander may know: the hold, the piece asked for, and the learner's own names.

    `piece` holds the colours of the piece asked for, `marks` the learner's names for colours ("bumpy" ->
    "yellow"), `names` the colour words in use. `about` tells questions of the kind "other" apart. `claim` holds
    what a question of the kind "claim" says of stickers on top: whether they show the top colour.
    """

    up: str = "yellow"
    front: str = "green"
    piece: tuple[str, ...] = ()
    marks: Mapping[str, str] = field(default_factory=dict)
    names: tuple[str, ...] = ("white", "yellow", "green", "blue", "orange", "red")
    about: str = ""
    claim: Mapping[str, bool] = field(default_factory=dict)
