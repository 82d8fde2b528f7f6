"""Every way in which a piece of the two lower layers can lie."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from coach.cube.geometry import CORNERS, EDGES, turning_order
from coach.language.en.answers.sample import ROLES

_SIDES = frozenset("FBRL")


@dataclass(frozen=True)
class Placement:
    """A piece by the colours of its home, where it is now, and which face each of its colours is on."""

    home: str
    position: str
    shows: dict[str, str]

    @property
    def colours(self) -> tuple[str, ...]:
        """Its colours, the one that the coach asks about first."""
        return tuple(self.shows)

    @property
    def layer(self) -> str:
        """The layer that it is in."""
        return self.position[0] if self.position[0] in "UD" else "M"

    @property
    def sides(self) -> str:
        """The one or two sides that it is on, front or back first."""
        return "".join(face for face in self.position if face in _SIDES)


def _placements(positions: dict[str, tuple[int, ...]]) -> tuple[Placement, ...]:
    found = []
    for home in (h for h in positions if h[0] != "U"):
        for position in positions:
            faces = turning_order(position)
            for turn in range(len(faces)):
                on = dict(zip(turning_order(home), faces[turn:] + faces[:turn], strict=True))
                found.append(Placement(home, position, {ROLES[face]: on[face] for face in home}))
    return tuple(found)


PLACEMENTS = {2: _placements(EDGES), 3: _placements(CORNERS)}
"""Every way in which an edge (2) or a corner (3) of the two lower layers can lie."""


def one_of_placements(random: Random) -> Placement:
    """Any piece of the two lower layers, anywhere, in any orientation."""
    ways = PLACEMENTS[2 if random.random() < 0.6 else 3]
    return ways[int(random.random() * len(ways))]
