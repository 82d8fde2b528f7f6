"""One generated answer with all that it says: what a reader of answers is trained on.

Answers are in role words: the learner's word for the colour (or mark) of a face is replaced by a fixed word, whatever
the arrangement: top yellow, bottom white, front green, back blue, right orange, left red, as the cube is held then.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.language.meaning import USUAL_COLOURS

Moment = Literal[
    "look-top-edges", "look-top-corners", "piece", "row", "face", "claim", "ready", "turn", "continue", "step",
    "do", "recite", "hands", "hold",
]  # fmt: skip
ROLES: Mapping[str, str] = {face: USUAL_COLOURS[face] for face in "UDFBRL"}
"""The words that stand for the colours in all answers, in the order in which the generators draw."""


@dataclass(frozen=True)
class Sample:
    """What somebody says in a moment (`text`), and what it tells; nothing that it does not say.

    `cells` tells of sticker places ("U1", "F0": the top face's eight and the twelve side stickers of the top layer)
    whether they show the top colour: what is said and what follows from it within the answer. `shape`, `edges` and
    `corners` describe the top where the places are left open. `place` is the position of the piece ("UFR", "DF", "FL"),
    `layer` ("U", "M", "D") where only that is said; `shows` which face of the hold each colour (role word) of the piece
    is on, and `piece` the colours of the piece that was asked for. `stickers` are the colours of a row in order, each
    as the number of the word that names it (of text.split()) and how many stickers it stands for; a number of -1 is one
    that the learner cannot tell. `turns` are turns said aloud, in WCA notation, none that was taken back; `turn_words`
    the same, each with the number of the word at which it begins. `command` is as in Meaning; `step`, `number`, `case`
    are what was named or described. `complete`: the answer settles all that was asked for.

    An answer to a claim with cells or stickers and no command is a bare description: it says neither yes nor no. What
    is nothing for the coach has no command and tells nothing at all.
    """

    moment: Moment
    text: str
    cells: Mapping[str, bool] = field(default_factory=dict)
    shape: str | None = None
    edges: int | None = None
    corners: int | None = None
    place: str | None = None
    layer: str | None = None
    piece: tuple[str, ...] = ()
    shows: Mapping[str, str] = field(default_factory=dict)
    stickers: tuple[tuple[int, int], ...] = ()
    turns: tuple[str, ...] = ()
    turn_words: tuple[tuple[int, str], ...] = ()
    command: str | None = None
    step: str | None = None
    number: int | None = None
    case: str | None = None
    complete: bool = True
