"""What a reader finds in a clause: noun phrases, and what the clause says of them."""

from __future__ import annotations

from dataclasses import dataclass, field

AXIS = {"F": "depth", "B": "depth", "L": "width", "R": "width"}


@dataclass
class Phrase:
    """A noun phrase: how many of what, where; `down` when it is denied."""

    number: int | None = None
    every: bool = False  # "all", "both", "each"
    whole: bool = False  # "the whole row"
    none: bool = False
    some: bool = False  # an unknown number
    rest: bool = False  # "the others"
    excepted: bool = False  # after "everything but"
    kind: str | None = None  # "edge" or "corner", if said
    plural: bool = False
    definite: bool = False  # "the"
    pronoun: bool = False  # "one", "ones", "it"
    dirs: list[str] = field(default_factory=list)  # F B L R, one or two
    hand: str | None = None  # "by my right hand"
    side: str | None = None  # the direction that was called a side or face
    row: str | None = None  # "row" (with a direction), "row2", "column2"
    part: str | None = None  # of the row named before
    end: bool = False  # "at the near end"
    ends: bool = False  # "one at each end"
    each_side: bool = False
    between: bool = False  # "the one between them"
    centre: bool = False
    everything: bool = False  # "the whole top"
    sticker: bool = False
    square: bool = False
    colours: list[str] = field(default_factory=list)
    bare: bool = False  # a direction straight after "and"
    listed: bool = False  # joined to the phrase before
    down: bool = False

    def __bool__(self) -> bool:
        return self.placed or self.number is not None or any(
            (self.every, self.none, self.some, self.kind, self.rest, self.sticker, self.ends, self.each_side,
             self.between, self.part)
        )  # fmt: skip

    @property
    def placed(self) -> bool:
        """It names a place."""
        return bool(self.dirs or self.hand or self.row or self.centre or self.everything)

    @property
    def named(self) -> bool:
        """It has a head of its own: a noun, a pronoun or a number."""
        return bool(self.kind or self.pronoun or self.number)


@dataclass
class Clause:
    """A clause: its phrases, and what it says of them."""

    phrases: list[Phrase] = field(default_factory=list)
    starts: bool = False  # it begins a sentence
    predicate: bool = False  # it has a verb after a subject
    affirmed: bool = False  # "is up", "is done", "yes"
    denied: bool = False  # "is not", "no"
    inverted: bool = False  # "none is missing"
    doubled: bool = False  # "none of them is not yellow"
    exhaustive: bool = False  # "the ones that are not", "is missing": the others are
    colour: bool = False  # the top colour is named
    facing: bool = False
    faces: list[str] = field(default_factory=list)  # where the top colour faces
    outward: bool = False
    unfaced: bool = False  # "is not facing me"
    sideways: bool = False  # "on the sides"
    left_or_right: bool = False  # the word "sideways" itself
    view: str | None = None  # the side that is looked at
    tail: list[str] = field(default_factory=list)  # a direction after a complete place
    has_ends: bool = False
    shape: str | None = None
    shape_denied: bool = False
    line: str | None = None  # "LR" or "FB"
    span: list[str] = field(default_factory=list)  # directions with "from" and "to" between them
    motion: bool = False  # "goes", "runs"
    relation: str | None = None
    relation_denied: bool = False
    only: bool = False
    closes: bool = False  # "nothing else"
    another: bool = False
    more: bool = False  # there may be more, not said yet
    unsure: bool = False
    corrects: str | None = None
    reason: bool = False  # after "because"
    same: bool = False  # "so is"
    topic: bool = False  # "of the right two"
