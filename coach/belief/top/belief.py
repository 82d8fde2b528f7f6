"""What the coach knows about the cube in the learner's hands: the set of patterns still possible.

A pattern is 54 letters, one for each sticker place of the learner's hold: the face that the sticker's
colour belongs to (one of FACES, as on the solved cube), or "." for a sticker of the top layer that is only
known not to have the top colour. All patterns of a belief are equally likely: the 216 orientation states
are, and turns and looks do not change that.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

from coach.cube import FACE_PLACES, PLACE_NUMBER, TOP_CENTRE, Claim, Cube, Turn, claim_holds, shown, turned
from coach.method import Condition
from coach.method.last_layer import LOWER, build, orders, orientation_states

TOP_EDGES: Final = ("U1", "U3", "U5", "U7")
TOP_CORNERS: Final = ("U0", "U2", "U6", "U8")
_SHAPES: Final = {
    "dot": (frozenset(),),
    "line": (frozenset({"U1", "U7"}), frozenset({"U3", "U5"})),
    "corner": tuple(frozenset(pair) for pair in (("U1", "U3"), ("U1", "U5"), ("U3", "U7"), ("U5", "U7"))),
    "cross": (frozenset(TOP_EDGES),),
}


def pattern_of(cube: Cube) -> str:
    """What is known of an orientation state: the lower layers, and where the top colour shows."""
    return "".join(
        face if home in _KNOWN_HOMES else "."
        for home, face in zip(cube.stickers, cube.faces, strict=True)
    )


_KNOWN_HOMES: Final = frozenset({*LOWER, *FACE_PLACES["U"]})


@dataclass(frozen=True)
class Belief:
    """The patterns still possible, in the learner's present hold. Empty after contradictory reports."""

    patterns: frozenset[str]

    def __bool__(self) -> bool:
        return bool(self.patterns)

    def __len__(self) -> int:
        return len(self.patterns)

    def after(self, turns: Iterable[Turn]) -> Belief:
        """The belief once the learner has done `turns` (of faces or of the whole cube)."""
        turns = tuple(turns)
        return Belief(frozenset(turned(pattern, turns) for pattern in self.patterns))

    def seeing(self, look: Mapping[str, bool]) -> Belief:
        """The patterns that show the top colour, or not, at the places of `look`."""
        wanted = [(PLACE_NUMBER[place], shown) for place, shown in look.items()]
        return self._only(lambda p: all((p[place] == p[TOP_CENTRE]) == shown for place, shown in wanted))

    def meeting(self, condition: Condition) -> Belief:
        """The patterns that meet a condition of the method."""
        return self._only(condition.holds)

    def counting(self, edges: int | None = None, corners: int | None = None) -> Belief:
        """The patterns with this many top edges and corners that show the top colour."""
        return self._only(
            lambda p: (
                (edges is None or len(shown(p, TOP_EDGES)) == edges)
                and (corners is None or len(shown(p, TOP_CORNERS)) == corners)
            )
        )

    def shaped(self, shape: str) -> Belief:
        """The patterns whose top edges make a "dot", "corner", "line" or "cross"."""
        return self._only(lambda p: frozenset(shown(p, TOP_EDGES)) in _SHAPES[shape])

    def answering(self, claim: Claim, answer: bool) -> Belief:
        """The patterns that are left once the learner has said whether all of `claim` holds."""
        return self._only(lambda p: claim_holds(p, claim) == answer)

    def _only(self, keep: Callable[[str], bool]) -> Belief:
        return Belief(frozenset(filter(keep, self.patterns)))

    def sure(self, claim: Claim) -> bool:
        """Whether `claim` holds in every pattern still possible."""
        return all(claim_holds(pattern, claim) for pattern in self.patterns)

    def views(self, places: Iterable[str]) -> frozenset[tuple[bool, ...]]:
        """All the different views of `places` that are possible: top colour or not at each."""
        numbers = [PLACE_NUMBER[place] for place in places]
        return frozenset(tuple(p[n] == p[TOP_CENTRE] for n in numbers) for p in self.patterns)


def shapes(name: str) -> tuple[frozenset[str], ...]:
    """The sets of top edges that make the shape `name`."""
    return _SHAPES[name]


def shape_of(pattern: str) -> str:
    """The name of the shape that the top edges make: "dot", "corner", "line" or "cross"."""
    seen = frozenset(shown(pattern, TOP_EDGES))
    return next(name for name, ways in _SHAPES.items() if seen in ways)


@cache
def order_states() -> Belief:
    """The top all in one colour with its pieces in any of their 288 orders, held upright."""
    return Belief(frozenset(build(edges=edges, corners=corners).faces for edges, corners in orders()))


@cache
def any_top() -> Belief:
    """The two lower layers done and nothing known about the top: the 216 orientation states."""
    return Belief(frozenset(map(pattern_of, orientation_states())))
