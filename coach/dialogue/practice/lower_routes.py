"""From the pieces of a lower step at home into each of its cases: the fewest turns, made up of the method's sequences.

In the case exactly one piece of the step is not at home, so that there is no doubt which one is to be placed.
"""

from __future__ import annotations

from heapq import heappop, heappush
from itertools import count, product
from typing import Final, TypeAlias

from coach.cube import POSITIONS, Cube, Turn, inverse, join
from coach.cube.last_layer_plan import as_held
from coach.cube.search import effort
from coach.method import TURNS_ABOUT_UP, Method, Move, PlacingStep, PlannedStep
from coach.method.placing import TOP_TURNS, Placement

Turns: TypeAlias = tuple[Turn, ...]
Lower: TypeAlias = PlacingStep | PlannedStep

_MOST: Final = 4000
"""Look at this many states at most."""


def rule_of(step: Lower) -> PlacingStep:
    """How the step is done piece by piece."""
    return step.rule if isinstance(step, PlannedStep) else step


def pieces_until(method: Method, step: Lower) -> tuple[str, ...]:
    """The pieces that the lower steps have placed, up to this one."""
    steps = [each for each in method.steps if isinstance(each, PlacingStep | PlannedStep)]
    return tuple(piece for each in steps[: steps.index(step) + 1] for piece in each.pieces)


def away(cube: Cube, pieces: tuple[str, ...]) -> tuple[str, ...]:
    """Those of `pieces` that are not at home; the cube is held upright."""
    lies = cube.pieces
    return tuple(piece for piece in pieces if lies[piece][1] != POSITIONS[piece])


def next_move(method: Method, step: Lower, cube: Cube) -> tuple[str, Move] | None:
    """The piece of the step that alone is not at home, and how to place it; None if that is not how the cube, held
    upright, is."""
    missing = away(cube, pieces_until(method, step))
    if len(missing) != 1 or missing[0] not in step.pieces:
        return None
    (piece,) = missing
    return piece, rule_of(step).move(cube.pieces[piece][1], POSITIONS[piece])


def routes(method: Method, step: Lower) -> dict[str, Turns]:
    """The turns into each case, by its id, from a cube on which the pieces up to this step are at home. No way is only
    the turns of the case backwards, if there is any other."""
    pieces, wanted = pieces_until(method, step), {case.id for case in rule_of(step).cases}
    tokens = [(turns, Cube().do(turns)) for turns in _tokens(rule_of(step))]
    found: dict[str, Turns] = {}
    easy: dict[str, Turns] = {}
    number = count()
    waiting: list[tuple[float, int, Cube, Turns]] = [(0.0, next(number), Cube(), ())]
    seen: set[tuple[Placement, ...]] = set()
    while waiting and wanted - found.keys() and len(seen) < _MOST:
        _, _, cube, turns = heappop(waiting)
        key = tuple(cube.pieces[piece][1] for piece in pieces)
        if key in seen:
            continue
        seen.add(key)
        if there := next_move(method, step, cube):
            ways = easy if _undoes(there[1], turns) else found
            ways.setdefault(there[1].case.id, turns)
        for token, made in tokens:
            after = join((*turns, *token))
            heappush(waiting, (effort(after), next(number), as_held(cube * made), after))
    return easy | found


def _tokens(rule: PlacingStep) -> list[Turns]:
    sequences = {case.sequence: None for case in rule.cases}
    ways = product(TURNS_ABOUT_UP, TOP_TURNS, sequences)
    return [rotation + top + sequence for rotation, top, sequence in ways]


def _undoes(move: Move, turns: Turns) -> bool:
    """Whether what is to be done only takes back the last turns."""
    back = join(inverse(turns))
    return back[: len(move.turns)] == move.turns or join((*turns, *move.turns)) == ()
