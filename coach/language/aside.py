"""What an answer tells beside its meaning. With it nobody in the conversation has to look at text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.language.telling import Telling

Mark = Literal[
    "only-stop", "only-onward", "stop", "finishes", "goes-on", "yes-first", "no-first", "nothing-wrong",
    "answers-wrong", "corrects-answer", "anew", "why", "slipped", "not-done", "held-wrong", "corrects", "row-before",
]  # fmt: skip
"""What is plainly said somewhere in an answer; "only-": nothing else is said, "-first": it begins with it. "held-wrong"
is also said by naming another side as the front; "corrects" and "row-before" are said around the colours of a row."""

Remark = Literal["rows-told", "rows-left", "fell", "edges-again"]
"""What is said beside any question: asking which rows have been heard, or how many are to come; that the cube fell; to
be asked for the edges once more."""


@dataclass(frozen=True)
class RowPutRight:
    """A row of stickers that was told wrongly: the one told last, or `before` that, or `named` by its face and number.
    `colours` are the learner's words by place within it, from 0 on the left to 2; of the two words `instead` the second
    is right where the first was told. Nothing of both where they only say that it was wrong."""

    colours: Mapping[int, str] = field(default_factory=dict)
    instead: tuple[str, str] | None = None
    before: bool = False
    named: tuple[str, int] | None = None


@dataclass(frozen=True)
class Aside:
    """`marks` as above; `hints` are the kinds of slips that may be spoken of, and `telling` is what is told of one.
    `remark` is what is said beside any question, `row` how a row is put right, `row_named` the face and number of a row
    that is named. `word` is the key of the sentence that explains the word asked about."""

    marks: frozenset[Mark] = frozenset()
    hints: frozenset[str] = frozenset()
    telling: Telling = field(default_factory=Telling)
    remark: Remark | None = None
    row: RowPutRight | None = None
    row_named: tuple[str, int] | None = None
    word: str | None = None
