"""The last layer in one or two runs of few turns, from any of its 62,208 states.

No sequence is typed in. All sequences of up to five turns of U, R, F and L are enumerated. Where two of them
do the same to the two lower layers, doing one and then undoing the other is a sequence of up to ten turns
that only rearranges the top. The cheapest for each effect, with or without a turn of the top before it,
make up the library.

A plan is one or two sequences of the library, each in one of the four holds with the same face up, and a last
turn of the top. The cheapest way is tabulated for every state that one sequence can finish; then every first
sequence is tried. The library and the table take 0.2 s once, a plan 1 ms.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.cube.distance import places
from coach.cube.geometry import CORNERS, EDGES, POSITIONS, opposite
from coach.cube.search import AT_HAND, effort
from coach.cube.state import Cube, solved
from coach.cube.turns import Turn, inverse, join

Turns: TypeAlias = tuple[Turn, ...]

LOWER: Final = tuple(position for position in POSITIONS if "U" not in position)
"""The pieces of the two lower layers."""
_LONGEST: Final = 5
_TURNS: Final = tuple(AT_HAND)
_TOPS: Final[tuple[Turns, ...]] = ((), (Turn("U"),), (Turn("U", 3),), (Turn("U", 2),))
_ROTATIONS: Final[tuple[Turns, ...]] = ((), (Turn("U", 1, 3),), (Turn("U", 3, 3),), (Turn("U", 2, 3),))


def as_held(cube: Cube) -> Cube:
    """The cube as if its present hold were upright: every piece renamed, none moved.

    Places, pieces and turns of the result are as the learner sees them.
    """
    return Cube(cube.hold).inverse * cube


def last_layer_plan(cube: Cube) -> tuple[Turns, ...]:
    """Cheap turns that solve `cube`, in any hold in which only the face up is left to do: one or two runs
    to be called one after the other, none when it is solved.

    They turn U, R, F, L and the whole cube about the upright axis. After each run the lower layers are done
    again; planning anew then gives the second run, or another of the same effort. Raises ValueError if the
    lower layers are not done, or if no turning solves the cube.
    """
    if places(as_held(cube), LOWER) != places(solved(), LOWER):
        raise ValueError("the last layer can be planned only when the two lower layers are done")
    begins = [_begin(cube, rotation) for rotation in _ROTATIONS]
    begin = min(begins, key=lambda option: round(option.cost, 4))
    then, last = _finish().way(begin.state)
    if not cube.do(begin.turns + then + last).solved:
        raise ValueError("turning cannot solve this cube: a piece of its last layer was put in wrongly")
    if begin.run and then:
        return begin.turns, then + last
    whole = join(begin.turns + then + last)
    return (whole,) if whole else ()


@dataclass(frozen=True)
class _Begin:
    """A rotation and a sequence of the library (`run` says whether it has any turns), the state they lead to,
    and the effort of the whole plan that begins with them."""

    turns: Turns
    run: bool
    state: int
    cost: float


def _begin(cube: Cube, rotation: Turns) -> _Begin:
    """The cheapest plan for `cube` that begins with `rotation`."""
    library = _library()
    where = places(as_held(cube.do(rotation)), _PIECES)
    states = _states([library.goes[place] for place in where])
    costs = library.costs + _finish().costs[states]
    number = int(costs.argmin())
    sequence = library.sequences[number]
    cost = effort(rotation) + float(costs[number])
    return _Begin(rotation + sequence, bool(sequence), int(states[number]), cost)


# Three corners and three edges of the top identify a state: the laws of the cube settle the others.
_PIECES: Final = ("UFR", "UFL", "UBL", "UF", "UR", "UL")


def _weights() -> NDArray[np.intp]:
    """What each of the six pieces adds to a state's number, by the place of its first sticker."""
    weights = np.zeros((len(_PIECES), 54), np.intp)
    radix = 1
    for row, piece in zip(weights, _PIECES, strict=True):
        kind = EDGES if len(piece) == 2 else CORNERS
        spots = [place for position, spots in kind.items() if "U" in position for place in spots]
        row[spots] = radix * np.arange(len(spots))
        radix *= len(spots)
    return weights


_WEIGHTS: Final = _weights()
_STATES: Final = 12**3 * 8**3


def _states(where: Sequence[NDArray[np.uint8]]) -> NDArray[np.intp]:
    """The numbers of many states: `where[i]` has the place of piece i's first sticker in each of them."""
    numbers = np.zeros(len(where[0]), np.intp)
    for row, place in zip(_WEIGHTS, where, strict=True):
        numbers += row[place]
    return numbers


@dataclass(frozen=True, eq=False)
class _Library:
    """Sequences that keep the lower layers; number 0 has no turns. None ends with a turn of the top.

    `goes[place, i]` is where sequence i takes the sticker at `place`; `costs[i]` is its effort.
    """

    sequences: tuple[Turns, ...]
    goes: NDArray[np.uint8]
    costs: NDArray[np.float64]


@cache
def _library() -> _Library:
    plain = _plain_library()
    sequences, goes, costs = [plain.sequences[:1]], [plain.goes[:, :1]], [plain.costs[:1]]
    for top in _TOPS:
        sequences.append(tuple(top + sequence for sequence in plain.sequences[1:]))
        goes.append(plain.goes[list(solved().do(inverse(top)).stickers), 1:])
        costs.append(effort(top) + plain.costs[1:])
    return _Library(sum(sequences, ()), np.concatenate(goes, axis=1), np.concatenate(costs))


def _plain_library() -> _Library:
    """The sequences that do not start with a turn of the top either."""
    numbers, goes = _short_sequences()
    spent = np.append([effort([turn]) for turn in _TURNS], 0.0)[numbers].sum(axis=1)
    one, other = _alike_below(goes)
    ends = _FACES[numbers[np.arange(len(numbers)), (numbers >= 0).sum(axis=1) - 1]]
    # Where both end with the same face, a shorter pair does the same.
    kept = ends[one] != ends[other]
    one, other = np.append(0, one[kept]), np.append(0, other[kept])
    undone = np.argsort(goes[other], axis=1).astype(np.uint8)
    effect = np.take_along_axis(undone, goes[one].astype(np.intp), axis=1).T
    costs = spent[one] + spent[other]
    cheapest = _cheapest_of_each(_states([effect[POSITIONS[piece][0]] for piece in _PIECES]), costs)
    sequences = tuple(
        _turns(numbers[a]) + inverse(_turns(numbers[b]))
        for a, b in zip(one[cheapest], other[cheapest], strict=True)
    )
    return _Library(sequences, effect[:, cheapest], costs[cheapest])


_FACES: Final = np.array([*(turn.face for turn in _TURNS), ""])


def _turns(numbers: NDArray[np.int8]) -> Turns:
    return tuple(_TURNS[number] for number in numbers if number >= 0)


def _short_sequences() -> tuple[NDArray[np.int8], NDArray[np.uint8]]:
    """All sequences of up to `_LONGEST` turns that do not start with the top, the empty one first: the
    numbers of their turns (-1 after the last) and where each takes the sticker at each place."""
    moves = np.array([tuple(turn.inverse.permutation) for turn in _TURNS], np.uint8)
    follows = np.array([[_may_follow(last, face) for face in _FACES[:-1]] for last in _FACES])
    numbers = [np.full((1, _LONGEST), -1, np.int8)]
    goes = [np.arange(54, dtype=np.uint8)[None]]
    for length in range(_LONGEST):
        parent, turn = np.divmod(np.arange(len(goes[-1]) * len(_TURNS)), len(_TURNS))
        allowed = follows[numbers[-1][parent, length - 1], turn]
        parent, turn = parent[allowed], turn[allowed]
        longer = numbers[-1][parent]
        longer[:, length] = turn
        numbers.append(longer)
        goes.append(moves[turn[:, None], goes[-1][parent]])
    return np.concatenate(numbers), np.concatenate(goes)


def _may_follow(last: str, face: str) -> bool:
    """Whether `face` may turn after `last` ("" at the start). Opposite faces turn in one order only."""
    if not last:
        return face != "U"
    return face != last and (face != opposite(last) or face > last)


def _alike_below(goes: NDArray[np.uint8]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """All pairs of different sequences that do the same to the lower layers, in both orders."""
    below = goes[:, [POSITIONS[piece][0] for piece in LOWER]]
    group = np.unique(below, axis=0, return_inverse=True)[1].ravel()
    order = np.argsort(group, kind="stable")
    pairs = [np.stack((order[i], order[i + apart])) for apart, i in _runs_of_equals(group[order])]
    one, other = np.concatenate(pairs, axis=1)
    return np.append(one, other), np.append(other, one)


def _runs_of_equals(ascending: NDArray[np.intp]) -> Iterator[tuple[int, NDArray[np.intp]]]:
    """Each distance 1, 2 ... with all i where ascending[i] == ascending[i + distance], while there are any."""
    for apart in range(1, len(ascending)):
        i = np.flatnonzero(ascending[apart:] == ascending[:-apart])
        if not i.size:
            return
        yield apart, i


def _cheapest_of_each(states: NDArray[np.intp], costs: NDArray[np.float64]) -> NDArray[np.intp]:
    """The indices of the cheapest entry for each state (the first of equals), in ascending order."""
    order = np.lexsort((costs, states))
    return np.sort(order[np.unique(states[order], return_index=True)[1]])


@dataclass(frozen=True, eq=False)
class _Finish:
    """What at most one sequence of the library finishes: `costs[state]` (infinite where none does), and
    `ways[state]`, the numbers of the rotation, the sequence and the last turn of the top combined in one."""

    costs: NDArray[np.float64]
    ways: NDArray[np.intp]

    def way(self, state: int) -> tuple[Turns, Turns]:
        """A rotation with a sequence (both empty if none is needed), and the last turn of the top."""
        rotation, number, top = np.unravel_index(self.ways[state], _ways_shape())
        sequence = _library().sequences[number]
        return _ROTATIONS[rotation] + sequence if sequence else (), _TOPS[top]


def _ways_shape() -> tuple[int, int, int]:
    return len(_ROTATIONS), len(_library().sequences), len(_TOPS)


@cache
def _finish() -> _Finish:
    library = _library()
    comes = np.argsort(library.goes, axis=0).astype(np.uint8)
    states = np.empty(_ways_shape(), np.intp)
    costs = np.empty(_ways_shape(), np.float64)
    # A movement solves the state in which every sticker lies where the movement takes it home from.
    for (i, rotation), (j, top) in product(enumerate(_ROTATIONS), enumerate(_TOPS)):
        before = np.frombuffer(solved().do(rotation).stickers, np.uint8)
        after = solved().do(top).do(inverse(rotation)).stickers
        states[i, :, j] = _states([before[comes[after[POSITIONS[piece][0]]]] for piece in _PIECES])
        costs[i, :, j] = effort(rotation) + library.costs + effort(top)
    ways = _cheapest_of_each(states.ravel(), costs.ravel())
    finish = _Finish(np.full(_STATES, np.inf), np.zeros(_STATES, np.intp))
    finish.costs[states.ravel()[ways]] = costs.ravel()[ways]
    finish.ways[states.ravel()[ways]] = ways
    return finish
