"""What an answer says besides its meaning, so that the conversation never has to look at text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.language.telling import Telling

Mark = Literal[
    "only-stop", "only-onward", "only-here", "asks-here", "only-ready", "only-yes", "only-okay", "stop", "finishes",
    "goes-on", "yes-first", "no-first", "nothing-wrong", "answers-wrong", "corrects-answer", "anew", "why", "slipped",
    "not-done", "held-wrong", "misfit", "corrects", "row-before", "past", "only-um", "unfinished", "begins",
    "asks-hold", "one-fell", "spares", "faster", "did-all", "not-in", "of-corners",
]  # fmt: skip
"""Plainly said somewhere in an answer; "only-": nothing else is said, "-first": the answer begins with it. "here":
they are there, "asks-": whether the coach is; "ready": they are, or are back. "held-wrong" includes naming another
side as the front; "misfit": what is asked or told does not go with their cube; "not-in": a piece is not in;
"of-corners": it is about corners and no edges; "corrects" and "row-before" are said around the colours of a row, which
"past" tells as something that was. "unfinished": what they do on their own is done in part; "did-all": not only the
last turn is done but all that is to be; "begins": they ask how it begins. "faster": they speak of the speed, not only
of getting on. Of a class: "asks-hold", the hold is to be said again; "one-fell", somebody's cube fell; "spares",
nobody needs what is being done."""

Remark = Literal[
    "rows-told", "rows-left", "fell", "edges-again", "not-again", "reminds", "its-name", "its-hand", "just-undo",
    "to-practice", "to-lesson", "what-next",
]  # fmt: skip
"""A remark that may come with any question: asking which rows have been heard or how many are left, saying that the
cube fell, or asking to repeat the edges. About a sequence: not to do it again after all, or that it was to be done
again; asking what it is called, for which hand it is, whether the last turn may just be taken back, or only what comes
next. Wishing for another kind of session, practice by heart or a lesson."""


@dataclass(frozen=True)
class RowPutRight:
    """The correction of a wrongly told row: the last one, the one `before` that, or one `named` by face and number (no
    face: the side that is spoken of).

    `colours` maps places, from 0 on the left and from -1 on the right, to the learner's words; past 2 they go on into
    the next row of the side. `instead` holds the wrong word and the right one, `exchanged` two places, or two words,
    that change places. All are empty if the learner only says that the row was wrong. If it is not `sure` that it is a
    correction, they have to be asked. It `answers` if the row asked for is told as well.
    """

    colours: Mapping[int, str] = field(default_factory=dict)
    instead: tuple[str, str] | None = None
    before: bool = False
    named: tuple[str, int] | None = None
    exchanged: tuple[int, int] | tuple[str, str] | None = None
    sure: bool = True
    answers: bool = False


@dataclass(frozen=True)
class Attendance:
    """Who else is in a class now: `size` pupils, or `change` more than before (less than none: fewer). None where no
    number is said."""

    size: int | None = None
    change: int | None = None


@dataclass(frozen=True)
class Aside:
    """`marks` as above; `hints` are the kinds of slips that may be meant, and `telling` is what is told about one.
    `remark` is a remark on the side, `row` the correction of a row, `row_named` the face and number of a row that is
    named, `side` the face that is said to be all of one colour. `word` is the key of the sentence that explains the
    word asked about. `sticker` is the one that is seen: the face of its side, and the word for its colour.
    `turns_done` tells how many turns from the first are done, if they have not done all. `front` is the word of the
    one side that they say is in front. `sides` are the words for sides that are named with them, by face, while the
    learner's words are asked for. `asks_for` are the ids of what they ask to be told out of what is
    taught (see `Scene`): one sequence, or one case or several that it may be. `attendance`:
    some of a class have come or gone."""

    marks: frozenset[Mark] = frozenset()
    hints: frozenset[str] = frozenset()
    telling: Telling = field(default_factory=Telling)
    remark: Remark | None = None
    row: RowPutRight | None = None
    row_named: tuple[str, int] | None = None
    side: str | None = None
    word: str | None = None
    sticker: tuple[str, str] | None = None
    turns_done: int | None = None
    front: str | None = None
    sides: Mapping[str, str] = field(default_factory=dict)
    asks_for: tuple[str, ...] = ()
    attendance: Attendance | None = None
