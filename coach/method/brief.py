"""The brief manner: the whole solve of a known cube in few turns, leg by leg.

First the bottom cross, then corner and edge pairs of the two lower layers, always the one that takes the
least effort next, then the last layer. The turns are as called in the learner's hold, which rotations may
change; the bottom stays down and the back is never turned. A solve averages 46 face turns and 7 legs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from coach.cube import Cube, Turn, solved
from coach.cube.distance import CROSS, places
from coach.cube.last_layer_plan import LOWER, as_held, last_layer_plan
from coach.cube.search import cheapest, effort, plan
from coach.method.last_layer import TOP_CORNERS, TOP_EDGES
from coach.method.loading import default_method

_PAIRS: Final = (("DFR", "FR"), ("DBR", "BR"), ("DBL", "BL"), ("DFL", "FL"))
_TOP: Final = (*TOP_EDGES, *TOP_CORNERS)


@dataclass(frozen=True)
class Leg:
    """Turns that are called in one go.

    `step` is the id of the method's step whose work the leg does: a pair counts as "middle-edges" if its
    edge is brought home, and as "bottom-corners" if the edge was there already; in the last layer it is
    the first step that is not yet done. `pieces` (by home position) are those brought home; in the last
    layer, all pieces of the top that are not at home before. `turns` is never empty.
    """

    step: str
    pieces: tuple[str, ...]
    turns: tuple[Turn, ...]


def next_leg(cube: Cube) -> Leg | None:
    """The leg to do next, None if the cube is solved: usually 10 ms, 0.15 s at most. A leg depends only on
    the cube, so it may be asked for again after a slip. Raises ValueError for a cube that no turning
    solves."""
    held = as_held(cube)
    if away := _away(held, CROSS):
        step, pieces, turns = "bottom-cross", away, _cross(held)
    elif _away(held, LOWER):
        step, pieces, turns = _lower(held)
    elif runs := last_layer_plan(held):
        step, pieces, turns = _top_step(held), _away(held, _TOP), runs[0]
    else:
        return None
    return Leg(step, tuple(map(Cube(cube.hold).piece_at, pieces)), turns)


def _away(held: Cube, pieces: Iterable[str]) -> tuple[str, ...]:
    """Those of `pieces` that are not at home."""
    pieces = tuple(pieces)
    there, home = places(held, pieces), places(solved(), pieces)
    return tuple(piece for piece, now, then in zip(pieces, there, home, strict=True) if now != then)


def _cross(held: Cube) -> tuple[Turn, ...]:
    turns = cheapest(held, CROSS)
    if turns is None:
        raise AssertionError("every cross is at most eight turns from home")
    return turns


def _lower(held: Cube) -> tuple[str, tuple[str, ...], tuple[Turn, ...]]:
    """The step, pieces and turns of the cheapest next pair.

    A pair always has a plan: of all 8,256 ways in which one can lie with any others kept, all but 28 are
    solved in eight turns, and those 28 in ten without the back, the bottom and rotations.
    """
    pending = [pair for pair in _PAIRS if _away(held, pair)]
    kept = (*CROSS, *(piece for pair in _PAIRS if pair not in pending for piece in pair))
    for search in (_nearby, cheapest, plan):
        plans = {pair: search(held, sorted((*kept, *pair))) for pair in pending}
        found = {pair: turns for pair, turns in plans.items() if turns is not None}
        if found:
            pair = min(found, key=lambda pair: effort(found[pair]))
            pieces = _away(held, pair)
            return ("middle-edges" if pair[1] in pieces else "bottom-corners"), pieces, found[pair]
    raise AssertionError("every pair has a plan")


def _nearby(held: Cube, pieces: Iterable[str]) -> tuple[Turn, ...] | None:
    """The cheapest turns if seven are enough: several times as fast, and usually sufficient."""
    return cheapest(held, pieces, most=7)


def _top_step(held: Cube) -> str:
    steps = default_method().top_steps
    return next((step.id for step in steps if not step.done(held.faces)), steps[-1].id)
