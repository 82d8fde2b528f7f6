"""What an answer has said so far, as statements about the states of the top layer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from coach.language.en import cells
from coach.language.en.cells import CELLS, EDGES, ROWS, Mask, corner, touching
from coach.language.en.phrase import Phrase

REACH = 6
"""Clauses back that a correction can still replace something."""


@dataclass
class Statement:
    """One thing said: its sort (for self-correction), the states in which it is true, what it is about."""

    sort: str
    mask: Mask
    kind: str = ""
    up: tuple[str, ...] = ()  # the pieces it says are up
    clause: int = 0
    said: frozenset[str] = frozenset()  # the directions it names
    lone: bool = False  # "one on the left", which may be all there is


@dataclass
class Story:
    """The statements of an answer, and what the next clause may refer to."""

    asked: str
    number: int = 0  # of the clause being taken in
    statements: list[Statement] = field(default_factory=list)
    closed: set[str] = field(default_factory=set)  # kinds of which no more are up
    wanted: dict[str, int] = field(default_factory=dict)  # how many of a kind are up, if said
    open_ended: bool = False
    correcting: int | None = None
    kind: str = ""  # what "the ones" are
    centre: bool = False
    figure: bool = False
    view: str | None = None  # the side that is looked at
    told_side: str | None = None  # the side of the sticker told of last
    topic: tuple[str, ...] = ()  # the corners that are spoken of
    block: bool = False  # a square whose place is still to come
    four: bool = False
    row: Phrase | None = None  # a row that is still to be filled in
    row_up: list[str] = field(default_factory=list)
    universe: tuple[str, ...] = ()  # "everything", with exceptions
    excepted: list[str] = field(default_factory=list)
    dubious: bool = False  # it contradicts itself, or denies as nobody does: something may have been misheard

    def add(self, statement: Statement) -> None:
        """Take a statement in. After a correction mark it replaces the last one of its sort, and without
        one those of its sort that cannot be true together with it."""
        statement.clause = self.number
        if self.correcting == self.number:
            self._replace(statement.sort)
        if statement.sort in ("place", "line", "count"):
            kept = [old for old in self.statements if not self._overrides(statement, old)]
            self.dubious |= len(kept) < len(self.statements) and self.correcting is None
            self.statements = kept
        self.statements.append(statement)

    @staticmethod
    def _overrides(new: Statement, old: Statement) -> bool:
        """The later of two statements of a sort that cannot both be true counts."""
        single = new.sort != "place" or len(old.up) < 2
        return old.sort == new.sort and single and not old.mask & new.mask

    def _replace(self, sort: str) -> None:
        for at in range(len(self.statements) - 1, -1, -1):
            old = self.statements[at]
            if old.clause < self.number - REACH:
                return
            if old.clause != self.number and old.sort == sort:
                del self.statements[at]
                return

    def up(self, sort: str, stickers: Iterable[str], kind: str = "") -> None:
        """These stickers show the top colour."""
        stickers = tuple(stickers)
        self.add(Statement(sort, cells.both(map(cells.shows, stickers)), kind, stickers))

    def down(self, sort: str, stickers: Iterable[str], kind: str = "") -> None:
        """These stickers do not show the top colour."""
        self.add(Statement(sort, cells.both(map(cells.hides, stickers)), kind))

    def count(self, kind: str, many: int) -> None:
        """So many pieces of a kind are up."""
        self.wanted[kind] = many
        self.add(Statement("count", cells.count(CELLS[kind], many), kind, CELLS[kind] if many == 4 else ()))

    @property
    def last(self) -> Statement | None:
        return self.statements[-1] if self.statements else None

    @property
    def mask(self) -> Mask:
        """The states in which all of it is true."""
        return cells.both(statement.mask for statement in self.statements)

    def said(self, sort: str) -> bool:
        """Something of this sort was said."""
        return any(statement.sort == sort for statement in self.statements)

    def ups(self, kind: str) -> set[str]:
        """The pieces of a kind said to be up, by their places."""
        return {cell for statement in self.statements for cell in statement.up if cell in CELLS[kind]}

    def sure(self, kind: str, shown: bool) -> set[str]:
        """The pieces of a kind that must be up, or cannot be."""
        settled = cells.settled(self.mask) if self.mask else {}
        return {cell for cell in CELLS[kind] if settled.get(cell) is shown}

    @property
    def pending(self) -> bool:
        """A count was said whose places are not known yet."""
        return any(len(self.ups(kind)) < many for kind, many in self.wanted.items() if many)

    # --- what phrases refer to

    def kind_of(self, phrase: Phrase) -> str:
        """Which kind of piece a phrase is about; "" when that cannot be told."""
        if phrase.kind:
            return phrase.kind
        if len(phrase.dirs) == 2 or (phrase.hand and (phrase.dirs or self.asked == "corner")):
            return "corner"
        if self.asked == "edge" and phrase.number == 2 and len(phrase.dirs) == 1:
            return ""
        refers = phrase.pronoun or phrase.number is not None or phrase.every or self.pending
        if self.kind and (refers or self.asked != "edge"):
            return self.kind
        return self.asked

    def spots_of(self, phrase: Phrase) -> tuple[str, ...]:
        """The pieces that a phrase takes in, of the kind it is about."""
        kind = self.kind_of(phrase)
        return spots(phrase, kind) if kind in CELLS else ()


def spots(phrase: Phrase, kind: str) -> tuple[str, ...]:
    """The pieces of a kind that a place takes in: one, or the two corners of a side."""
    dirs = list(phrase.dirs)
    if phrase.hand:
        many = phrase.plural or phrase.every or phrase.number == 2
        dirs = [d for d in dirs if d in "FB"] + [phrase.hand]
        if kind == "corner" and len(dirs) == 1 and not many:
            dirs.insert(0, "F")
    if kind == "edge":
        return tuple(EDGES[d] for d in dirs)
    if len(dirs) == 2:
        spot = corner(*dirs)
        return (spot,) if spot else ()
    return touching(dirs[0]) if dirs else ()


def line_of(phrase: Phrase) -> tuple[str, ...]:
    """The stickers of a row or column, the centre left out."""
    if phrase.row in ("row2", "column2"):
        return ("U3", "U5") if phrase.row == "row2" else ("U1", "U7")
    return ROWS[phrase.dirs[0]] if len(phrase.dirs) == 1 else ()


def opposed(dirs: Sequence[str]) -> bool:
    """Two directions that follow each other are opposite ("from left to right")."""
    return any(cells.OPPOSITE[one] == two for one, two in pairwise(dirs))
