"""How speakers name places on top: in their own words, by near and far, the body, hands, clock, compass, rows."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Final

from coach.language.en.answers.looks.top import SIDE, SIDES
from coach.language.en.answers.phrasing import pick, word

# Each way to name the depth: a word, and the phrase for being there.
_BODY = "(tummy|belly|stomach|chest|lap|body|navel|belt|belt buckle|apron|belly button|waist|shirt)"
_DEPTH: Final[Mapping[str, Mapping[str, tuple[str, str]]]] = {
    "plain": {"B": ("back", "(at|in|on) the back"), "F": ("front", "(at|in|on) the front|in front")},
    "rear": {"B": ("rear", "(at|on) the rear|behind"), "F": ("front", "(at the|in) front")},
    "far": {
        "B": ("(far|far|far away|farthest|furthest|distant)",
        "(at|on) the far (side|end)|far away|over there|far from me"),
        "F": ("(near|near|close|nearest|closest)", "(at|on) the near side|near me|close to me|next to me|nearest me"),
    },
    "self": {
        "B": ("(away|far)", "[on the side] away from me|over on the other side|opposite me|across from me|behind"),
        "F": ("(near|front)", "on my side|in front of me|facing me|towards me|by me|right here|where I am"),
    },
    "body": {
        "B": ("(away side|away|back)", "on the away side|(towards|by) the (wall|window|screen|door)|away from my "
        + _BODY),
        "F": ("(" + _BODY + " side|" + _BODY + ")", "(by|at|near|towards|next to|close to) my " + _BODY +
        "|on the tummy side"),
    },
    "page": {
        "B": ("(top|top|top|upper|upper|upstairs)", "(at|on) [the] top|up top|up there"),
        "F": ("(bottom|bottom|bottom|lower|lower|downstairs)", "(at|on) [the] bottom|down here|down by me"),
    },
}  # fmt: skip
_LINED: Final = frozenset(("plain", "rear", "far", "page"))  # whose words also fit a row
_WAYS: Final = ("plain",) * 8 + ("rear",) + ("far",) * 4 + ("self",) * 3 + ("body",) * 2 + ("page",)

_EDGE_FRAMES: Final[Mapping[str, Mapping[str, str]]] = {
    "clock": {
        "B": "(twelve|twelve o'clock|twelve o'clock|noon|midday)", "R": "(three|three o'clock|three o'clock)",
        "F": "(six|six o'clock|six o'clock)", "L": "(nine|nine o'clock|nine o'clock)",
    },
    "compass": {"B": "north", "R": "east", "F": "south", "L": "west"},
    "rows": {
        "B": "(row one column two|R1C2|[the] middle of the (top|back|first|far) row|[the] top row [the] middle one)",
        "R": "(row two column three|R2C3|[the] right end of the middle row|[the] middle row on the right)",
        "F":
        "(row three column two|R3C2|[the] middle of the (bottom|front|last|near) row"
        "|[the] bottom row [the] middle one)",
        "L": "(row two column one|R2C1|[the] left end of the middle row|[the] middle row on the left)",
    },
    "number": {"B": "number two", "R": "number six", "F": "number eight", "L": "number four"},
}  # fmt: skip
_CORNER_FRAMES: Final[Mapping[str, Mapping[str, str]]] = {
    "clock": {
        "BL": "(half past ten|ten thirty|half past ten|half ten|between nine and twelve)", "BR":
        "(half past one|one thirty|half past one|half one|between twelve and three)",
        "FR": "(half past four|four thirty|half past four|half four|between three and six)", "FL":
        "(half past seven|seven thirty|half past seven|half seven|between six and nine)",
    },
    "compass": {
        "BL": "(north west|northwest|NW)", "BR": "(north east|northeast|NE)",
        "FR": "(south east|southeast|SE)", "FL": "(south west|southwest|SW)",
    },
    "rows": {
        "BL": "(row one column one|R1C1|[the] left end of the (top|back|first) row)",
        "BR": "(row one column three|R1C3|[the] right end of the (top|back|first) row)",
        "FR": "(row three column three|R3C3|[the] right end of the (bottom|front|last) row)",
        "FL": "(row three column one|R3C1|[the] left end of the (bottom|front|last) row)",
    },
    "number": {"BL": "number one", "BR": "number three", "FR": "number nine", "FL": "number seven"},
}  # fmt: skip
_HANDS: Final[Mapping[str, str]] = {"L": "left", "R": "right"}
_EDGE_AT_HAND = (
    "(by|at|near|next to|under|close to) my {s} (hand|thumb|hand|palm|wrist|elbow|sleeve)|on the {s} hand side"
    "|on my {s}"
    "|by my {s} hand, the one (I write with|with the ring|I eat with)|towards my {s} (arm"
    "|elbow|ear)"
)
_FROM_MIDDLE: Final[Mapping[str, str]] = {
    "B": "(above|beyond|behind|past)", "F": "(below|in front of|before|under)",
    "L": "(to the left of|left of)", "R": "(to the right of|right of)",
}  # fmt: skip
_FINGER = "(thumb|hand|thumb|knee|pinky|little finger|wrist|elbow|hip|sleeve)"


class Places:
    """One speaker's names for places; they mostly stick to one way of naming throughout the answer."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.frame = random.choices(
            ("words", "hands", "clock", "compass", "rows", "number"), cum_weights=(76, 84, 91, 94, 99, 100)
        )[0]
        self.way = pick(random, _WAYS)
        if self.frame == "hands" and random.random() < 0.6:
            self.way = pick(random, ("body", "body", "self", "far"))
        self.loose = random.random() < 0.25  # mixes ways of naming

    def depth(self, side: str) -> tuple[str, str]:
        """The word for back or front, and the phrase for being there."""
        way = pick(self.random, _WAYS) if self.loose else self.way
        short, at = _DEPTH[way][side]
        return word(self.random, short), word(self.random, at)

    def short_depth(self, side: str) -> str:
        return self.depth(side)[0]

    def side(self, side: str) -> tuple[str, str]:
        """A whole side of the top in plain words, and the phrase for being there."""
        if self.frame == "compass" and self._framed():
            wind = _EDGE_FRAMES["compass"][side]
            return word(self.random, "{w}|{w}ern", w=wind), word(self.random, "in the {w}|(to|on) the {w}|{w}",
            w=wind)
        if side in "BF":
            return self.depth(side)
        at = word(self.random, "(on|to) the {s}|on the {s}|on {s}|on (my|the) {s} [hand] side|on my {s}|{s}",
        s=_HANDS[side])
        return word(self.random, "{s}|{s}|{s}-hand", s=_HANDS[side]), at

    def short(self, cell: str) -> str:
        """The place in as few words as this speaker ever uses."""
        if cell in SIDE:
            return self._short_edge(SIDE[cell])
        return self._short_corner(SIDES[cell])

    def at(self, cell: str) -> str:
        """Where it is: "at the back", "on the left"."""
        if cell in SIDE:
            return self._edge_at(SIDE[cell])
        return self._corner_at(SIDES[cell])

    def np(self, cell: str) -> str:
        """The piece at the place: "the back one", "the one on my left"."""
        if cell in SIDE:
            return self._edge(SIDE[cell])
        return self._corner(SIDES[cell])

    def item(self, cell: str) -> str:
        """Either way of naming a piece, for lists."""
        return self.short(cell) if self.random.random() < 0.35 else self.np(cell)

    # Edges

    def _framed(self) -> bool:
        return self.frame not in ("words", "hands") and not (self.loose and self.random.random() < 0.4)

    def _short_edge(self, side: str) -> str:
        if self._framed():
            return word(self.random, _EDGE_FRAMES[self.frame][side])
        return self.depth(side)[0] if side in "BF" else _HANDS[side]

    def _edge_at(self, side: str) -> str:
        if self._framed():
            return word(self.random, "at " + _EDGE_FRAMES[self.frame][side])
        if self.way in _LINED and self.random.random() < 0.06:
            return word(self.random, _FROM_MIDDLE[side] + " (the middle|the centre|the center|centre)")
        if side in "BF":
            return self.depth(side)[1]
        pattern = _EDGE_AT_HAND if self.frame == "hands" else "(on|at|to|on) the {s}|on my {s}|on the {s} side|{s}"
        return word(self.random, pattern, s=_HANDS[side])

    def _edge(self, side: str) -> str:
        if self._framed():
            return word(self.random, "[the one at] " + _EDGE_FRAMES[self.frame][side])
        if side in "BF":
            short, at = self.depth(side)
            if self.way in _LINED and self.random.random() < 0.08:
                return word(self.random, "the (one|edge|piece) in the middle of the {d} (row|side|row|edge)", d=short)
            return word(self.random, "the {s} one|the {s} (edge|piece|one|square|bit)|the one {at}|{s}|the {s}",
            s=short, at=at)
        if self.frame == "hands":
            return word(self.random, "the one (" + _EDGE_AT_HAND + ")", s=_HANDS[side])
        if self.random.random() < 0.08:
            return word(self.random, "the (one|edge|piece) in the middle of the {s} (column|side)", s=_HANDS[side])
        return word(
            self.random,
            "the {s} one|the {s} (edge|piece|square|bit)|the one on (the|my) {s}|{s}|the {s}|my {s}"
            "|the {s}-hand (one|edge)"
            "|{s} side|the {s} side",
            s=_HANDS[side],
        )

    # Corners

    def _short_corner(self, sides: str) -> str:
        if self._framed():
            return word(self.random, _CORNER_FRAMES[self.frame][sides])
        return word(self.random, "{d} {s}|{d} {s}|{s} {d}", d=self.depth(sides[0])[0], s=_HANDS[sides[1]])

    def _corner_at(self, sides: str) -> str:
        if self._framed():
            return word(self.random, "at " + _CORNER_FRAMES[self.frame][sides]).replace("at between", "between")
        short, at = self.depth(sides[0])
        if self.frame == "hands":
            if sides[0] == "F":
                return word(self.random, "(by|near|under|next to) my {s} " + _FINGER, s=_HANDS[sides[1]])
            pattern = (
                "{at}[,] (on my {s} hand's side|(by|near|on) my {s} hand)|far (away|off) on my {s} hand|(behind"
                "|past|beyond) my {s} (hand|thumb)"
            )
        else:
            pattern = "{at}[,] (on|to) (the|my) {s}|(in|at|on) the {d} {s}|on the {s}[,] {at}|{at} {s}"
        return word(self.random, pattern, at=at, d=short, s=_HANDS[sides[1]])

    def _corner(self, sides: str) -> str:
        if self._framed():
            return word(self.random, "[the one at] " + _CORNER_FRAMES[self.frame][sides]).replace(
                "at between", "between"
            )
        if self.frame == "hands" and self.random.random() < 0.7:
            return "the one " + self._corner_at(sides)
        short, at = self.depth(sides[0])
        if self.way in _LINED and self.random.random() < 0.08:
            return word(
                self.random,
                "the {s} (end|one|corner|end) of the {d} (row|side)|the {d} (end|one|corner|end) of the {s} (side"
                "|column)",
                d=short,
                s=_HANDS[sides[1]],
            )
        return word(
            self.random,
            "the {d} {s} one|the {d} {s} (corner|piece|)|the {s} one {at}|the {s} {d} (one|corner|)|{d} {s}"
            "|the {d} one on (the|my) {s}|the one {at} on (the|my) {s}|the corner between {d} and {s}|{s} {d}",
            d=short, at=at, s=_HANDS[sides[1]],
        )  # fmt: skip
