"""A generated answer with everything that it says: the training data for the reader of answers.

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
"""The words that stand for colours in all answers, in the order in which the generators draw them."""


@dataclass(frozen=True)
class Sample:
    """What somebody says in a moment (`text`), and what it tells; nothing that it does not say.

    `cells` maps sticker places ("U1", "F0": the top face's eight and the twelve side stickers of the top layer) to
    whether they show the top colour: what is said and what follows from it within the answer. `shape`, `edges` and
    `corners` describe the top if the places are left open. `place` is the position of the piece ("UFR", "DF", "FL"),
    `layer` ("U", "M", "D") is set if only that is said; `shows` maps each colour (role word) of the piece to a face of
    the hold, and `piece` holds the colours of the piece asked for. `stickers` are the colours of a row in order, each
    as the index of the word that names it (in text.split()) and the number of stickers it stands for; an index of -1 is
    one that the learner cannot tell. `turns` are turns said aloud, in WCA notation, without those taken back;
    `turn_words` are the same, each with the index of its first word. `command` is as in Meaning; `step`, `number`,
    `case` are what was named or described. `complete`: the answer settles everything that was asked for.

    An answer to a claim with cells or stickers and no command is a bare description: it says neither yes nor no. An
    answer that is not for the coach has no command and tells nothing at all.
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
