"""What an answer means, what was asked, and what may be known of the moment to understand it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from types import MappingProxyType
from typing import Any, Literal

from coach.language.aside import Aside

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
    "do",
    "recite",
    "hold",
    "hands",
]
Command = Literal[
    "yes", "no", "unsure", "next", "ready", "done", "resume", "done-top", "repeat", "where", "help", "explain", "wait",
    "more-time", "pain", "slower", "faster", "louder", "softer", "on-my-word", "stop", "back", "restart-run", "mistake",
    "lost", "layers-broken", "correct", "read", "hint", "call-it", "alone", "whole-sequence", "quiz", "once-more",
    "how-am-i-doing",
]  # fmt: skip
"""See `commands` for each of them."""


Wished = Literal["do", "recite", "hold", "words", "other"]
"""A kind of exercise that a learner wishes for: on the cube, saying turns, telling a case, either of these two, or just
another one."""


@dataclass(frozen=True)
class Change:
    """What a learner wants changed about the lesson; a field left out was not said.

    `step`, `manner` and `style` are ids, `pause` is in seconds. `colours`: they want to be asked for
    their words. `confuse`: two of their words that they cannot tell apart. `hand`: the one that turns most. `exercise`:
    what they want to practise next.
    """

    step: str | None = None
    manner: str | None = None
    style: str | None = None
    pause: float | None = None
    colours: bool = False
    confuse: tuple[str, ...] = ()
    hand: Literal["right", "left"] | None = None
    exercise: Wished | None = None

    def to_json(self) -> dict[str, Any]:
        """Only the keys that were said, ready for `json.dumps`."""
        said = {entry.name: getattr(self, entry.name) for entry in fields(self)}
        told = {"colours": "ask" if self.colours else None, "confuse": list(self.confuse)}
        return {name: value for name, value in (said | told).items() if value}

    def __bool__(self) -> bool:
        return self != Change()


@dataclass(frozen=True)
class Meaning:
    """What was said, and what follows from it within the answer; a field left out was not said.

    `look` maps stickers ("U1") to whether they show the top colour. `shape`, `edges` and `corners` describe the top if
    the places were left open. `place` is a position ("UFR") and `shows` maps the named colours of the piece to faces of
    the hold. `colours` lists stickers in the order they were read, in the learner's own words, "?" for one that cannot
    be seen. `step` is the step that the learner is at, named or described. `turns` were said aloud; `number` is a
    number of people, `all_but` how many of a group are left out ("all" leaves out 0), `case` the name of a case, or of
    a share of a group, of a sequence or a layer where one is asked for. `change` is what they want changed about the
    lesson. `piece` holds the words of the piece in question, if it is not the piece asked for.
    """

    look: Mapping[str, bool] = field(default_factory=dict)
    shape: str | None = None
    edges: int | None = None
    corners: int | None = None
    place: str | None = None
    shows: Mapping[str, str] = field(default_factory=dict)
    colours: tuple[str, ...] = ()
    step: str | None = None
    turns: tuple[str, ...] = ()
    number: int | None = None
    all_but: int | None = None
    case: str | None = None
    change: Change | None = None
    piece: tuple[str, ...] = ()
    command: Command | None = None

    def to_json(self) -> dict[str, Any]:
        """Only the keys that were said, ready for `json.dumps`."""
        said: dict[str, Any] = {}
        for entry in fields(self):
            value = getattr(self, entry.name)
            if value is None or (not isinstance(value, int) and not value):
                continue
            if isinstance(value, Mapping | tuple):
                value = dict(value) if isinstance(value, Mapping) else list(value)
            said[entry.name] = value.to_json() if isinstance(value, Change) else value
        return said

    def __bool__(self) -> bool:
        return bool(self.to_json())


@dataclass(frozen=True)
class Reading:
    """What an answer means. `best` is the likeliest reading (None: nothing for the coach), `confidence` its calibrated
    probability, 0..1. Whether it is sure enough to act on (`acts`) depends on its effect."""

    best: Meaning | None = None
    confidence: float = 0.0
    acts: bool = False
    asks: bool = False
    """Whether it is at least likely enough to ask for confirmation."""
    aside: Aside = field(default_factory=Aside)

    @property
    def meaning(self) -> Meaning | None:
        """The meaning that the coach would act on."""
        return self.best if self.acts else None


USUAL_COLOURS: Mapping[str, str] = MappingProxyType(
    {"F": "green", "B": "blue", "R": "orange", "L": "red", "U": "yellow", "D": "white"}
)
"""The usual arrangement of colours with yellow on top and green in front. Common practice, no source."""


@dataclass(frozen=True)
class Scene:
    """What may be known of the moment to understand an answer.

    `colours` maps the faces, as the cube is held now, to the learner's own words (colours, or marks felt with the
    fingers); `piece` holds the words of the piece asked for. `about` distinguishes questions of the kind "other", and
    has the step of an exercise. For a question of the kind "claim", `claim` maps the stickers on top to whether they
    are claimed to show the top colour, and `claimed` lists the colours (or marks) of all stickers in the claim, in
    order. `seen` holds the words of the stickers that the coach believes the cube shows now, by place ("U1"). `others`
    are the words of other pieces that may be meant: those asked for before, the last one first, then those still to
    come. `taught` has what can be told, in the learner's words: sequences by their ids with their names, cases by the
    ids of step and case ("top-cross/dot") with what they are. `parts` are those of the sequence whose turns are being
    said: their names, with the calls of their turns in plain words. A class of `size` pupils is led, if there is one;
    for a question of the kind "hands", `rest` of them have not been counted yet.
    """

    colours: Mapping[str, str] = field(default_factory=lambda: USUAL_COLOURS)
    piece: tuple[str, ...] = ()
    about: str = ""
    claim: Mapping[str, bool] = field(default_factory=dict)
    claimed: tuple[str, ...] = ()
    seen: Mapping[str, str] = field(default_factory=dict)
    others: tuple[tuple[str, ...], ...] = ()
    taught: tuple[tuple[str, str], ...] = ()
    size: int | None = None
    rest: int | None = None
    parts: tuple[tuple[str, str], ...] = ()

    @property
    def up(self) -> str:
        """The word for the colour (or mark) on top."""
        return self.colours["U"]

    @property
    def names(self) -> tuple[str, ...]:
        """All six words."""
        return tuple(self.colours.values())

    @property
    def usual(self) -> bool:
        """Whether all six are words for the usual colours."""
        return set(self.names) == set(USUAL_COLOURS.values())
