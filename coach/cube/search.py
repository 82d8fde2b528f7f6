"""The cheapest turns to a goal for any set of pieces, when every turn has its own cost in effort.

All short sequences are tried from the start and from the goal, and those that meet in between are joined:
with four turns on each side this finds the cheapest of all sequences of up to eight face turns, with whole
rotations wherever they pay. The sequences are the same for every search, so they are built once.
A piece is identified by where its first sticker is, as in `distance.places`.

A rotation moves no piece relative to the others; it only changes what a turn is called in the hands. So the
sequences consist of face turns as called in the hold of the start, and the hold only affects the cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.cube.distance import places
from coach.cube.geometry import POSITIONS, WHOLE_TURNS, compose
from coach.cube.state import Cube
from coach.cube.turns import FACE_TURNS, ROTATIONS, Turn, inverse, join

Cost: TypeAlias = Mapping[Turn, float]
_CostKey: TypeAlias = frozenset[tuple[Turn, float]]


def _usual_cost() -> dict[Turn, float]:
    quarter = {"U": 1.0, "R": 1.0, "F": 1.1, "L": 1.1, "D": 1.2, "B": 4.0}
    cost = {turn: quarter[turn.face] * (1.3 if turn.quarters == 2 else 1.0) for turn in FACE_TURNS}
    return cost | {turn: 2.5 for turn in ROTATIONS if turn.face == "U"}


EFFORT: Final[Cost] = _usual_cost()
"""The usual effort for the hands; a quarter turn of the right side is 1. One rotation about the upright
axis costs less than a turn of the back, which is therefore never called."""
AT_HAND: Final[Cost] = {
    turn: cost for turn, cost in EFFORT.items() if turn in FACE_TURNS and turn.face in "URFL"
}
"""Only the four faces that both hands reach without letting go, in one hold."""


def effort(turns: Iterable[Turn], cost: Cost = EFFORT) -> float:
    """The sum of the costs of `turns`."""
    return sum(cost[turn] for turn in turns)


def cheapest(
    cube: Cube, pieces: Iterable[str], cost: Cost = EFFORT, most: int = 8
) -> tuple[Turn, ...] | None:
    """The cheapest turns after which all of `pieces` (those to place and those to keep) are at home.

    Home is relative to the centres; any hold will do, before and after. None if it takes more than
    `most` face turns, or more than can be searched (see `reach`).
    """
    pieces = tuple(pieces)
    hold = Cube(cube.hold)
    return cheapest_moves(places(cube, pieces), places(hold, pieces), cost, most)


def plan(cube: Cube, pieces: Iterable[str]) -> tuple[Turn, ...] | None:
    """Turns that bring all of `pieces` home with the usual effort, like `cheapest`; if eight are too few,
    up to ten without the back, the bottom and rotations.

    That is always enough for the bottom cross, and for one more corner or middle edge of the two lower
    layers while others are kept at home. It takes 20 ms, plus 0.2 s once.
    """
    pieces = tuple(pieces)
    found = cheapest(cube, pieces)
    return cheapest(cube, pieces, AT_HAND, 10) if found is None else found


def cheapest_between(cube: Cube, goal: Cube, cost: Cost = EFFORT, most: int = 8) -> tuple[Turn, ...] | None:
    """The cheapest turns from `cube` to `goal`, ignoring the hold; otherwise like `cheapest`."""
    target = goal.upright * Cube(cube.hold)
    # Pieces are named by where they belong in the target, so that all searches share the work around the goal.
    return cheapest_moves(places(target.inverse * cube, POSITIONS), places(Cube(), POSITIONS), cost, most)


def cheapest_moves(
    start: tuple[int, ...], goal: tuple[int, ...], cost: Cost = EFFORT, most: int = 8, kinds: tuple[int, ...] = ()
) -> tuple[Turn, ...] | None:
    """The cheapest turns that bring the piece at place start[i] to place goal[i], for all i.

    Both are places of a sticker in the hold of the start; otherwise like `cheapest`. Pieces of the same kind (kinds[i],
    below 20; by default each is of its own) may take one another's goals.
    """
    kinds = kinds or tuple(range(len(start)))
    if not len(start) == len(goal) == len(kinds):
        raise ValueError("every piece needs a start and a goal")
    key = frozenset(cost.items())
    sequences = _sequences(_efforts(key).turns)
    far = min(most, sequences.radius)
    near = sequences.count(min(most - far, sequences.radius))
    for there, back in _meetings(start, goal, kinds, key, near, far):
        turns = sequences.turns_of(there) + inverse(sequences.turns_of(back))
        # Different states collide in less than one of 10^9 searches; the next meeting is tried then.
        if _alike(_moved(start, turns), kinds) == _alike(goal, kinds):
            return _with_rotations(join(turns), key)
    return None


def _alike(where: tuple[int, ...], kinds: tuple[int, ...]) -> list[tuple[int, int]]:
    """Where pieces of each kind are, whichever of them."""
    return sorted(zip(kinds, where, strict=True))


def reach(cost: Cost = EFFORT) -> int:
    """The most face turns that `cheapest` can find: 8 with all faces, 10 with four and no rotations."""
    return 2 * _sequences(_efforts(frozenset(cost.items())).turns).radius


def _moved(start: tuple[int, ...], turns: Iterable[Turn]) -> tuple[int, ...]:
    for turn in turns:
        start = tuple(map(turn.permutation.index, start))
    return start


@dataclass(frozen=True, eq=False)
class _Sequences:
    """All sequences of up to `radius` of `turns` in which no face turns twice in a row, short ones first.

    Sequence i is sequence `parent[i]` followed by turn number `last[i]`; `goes[place, i]` is where it takes
    the sticker at `place`. `starts[n]` is the number of sequences shorter than n.
    """

    turns: tuple[Turn, ...]
    parent: NDArray[np.int32]
    last: NDArray[np.int8]
    goes: NDArray[np.uint8]
    starts: tuple[int, ...]

    @property
    def radius(self) -> int:
        return len(self.starts) - 2

    def count(self, length: int) -> int:
        """How many sequences have up to `length` turns."""
        return self.starts[length + 1] if length >= 0 else 0

    def levels(self) -> Iterator[slice]:
        """The sequences of one turn, of two turns, and so on."""
        return (slice(first, end) for first, end in pairwise(self.starts[1:]))

    def turns_of(self, i: int) -> tuple[Turn, ...]:
        if i == 0:
            return ()
        return (*self.turns_of(int(self.parent[i])), self.turns[self.last[i]])


_MOST_SEQUENCES: Final = 200_000


@cache
def _sequences(turns: tuple[Turn, ...]) -> _Sequences:
    """The sequences of `turns`, up to the length at which there would be too many of them (0.1 s)."""
    destination = np.array([Cube(turn.permutation).inverse.stickers for turn in turns], dtype="S54")
    moves = destination.view(np.uint8).reshape(len(turns), 54)
    face = np.array([turn.face for turn in turns])
    parents, lasts = [np.zeros(1, np.int32)], [np.full(1, -1, np.int8)]
    goes = [np.arange(54, dtype=np.uint8)[:, None]]
    starts = [0, 1]
    while goes[-1].shape[1] * len(turns) <= _MOST_SEQUENCES:
        parent, last = np.divmod(np.arange(goes[-1].shape[1] * len(turns)), len(turns))
        allowed = (face[last] != face[lasts[-1][parent]]) | (len(goes) == 1)
        parent, last = parent[allowed], last[allowed]
        goes.append(moves[last, goes[-1][:, parent]])
        parents.append((parent + starts[-2]).astype(np.int32))
        lasts.append(last.astype(np.int8))
        starts.append(starts[-1] + len(parent))
    return _Sequences(
        turns, np.concatenate(parents), np.concatenate(lasts), np.concatenate(goes, axis=1), tuple(starts)
    )


ROTATIONS_TO: Final = {
    hold: tuple(Turn(face, quarters, 3) for face, quarters in way) for hold, way in WHOLE_TURNS.items()
}
"""The turns of the whole cube from the upright hold to each of the 24, by its key of WHOLE_TURNS."""


@dataclass(frozen=True, eq=False)
class _Efforts:
    """What turning costs in each hold that rotations lead to; hold 0 is that of the start.

    `step[hold, turn]` is the cost of one of `turns` (named as at the start), infinite if its name in that
    hold has none; `rotate[a, b]` is the cost of `ways[a, b]`, the cheapest rotations from hold a to b.
    """

    turns: tuple[Turn, ...]
    names: tuple[tuple[Turn, ...], ...]
    step: NDArray[np.float32]
    rotate: NDArray[np.float32]
    ways: Mapping[tuple[int, int], tuple[Turn, ...]]


@cache
def _efforts(key: _CostKey) -> _Efforts:
    cost = dict(sorted(key, key=str))  # so that ties between plans are always broken the same way
    _check(cost)
    paths = _rotations(cost)
    holds = list(paths)
    names = tuple(tuple(turn.seen_after(ROTATIONS_TO[hold]) for turn in FACE_TURNS) for hold in holds)
    step = np.array([[cost.get(name, np.inf) for name in row] for row in names], np.float32)
    used = np.flatnonzero(np.isfinite(step).any(axis=0))
    ways = {
        (a, b): paths[compose(Cube(holds[a]).inverse.stickers, holds[b])]
        for a in range(len(holds))
        for b in range(len(holds))
    }
    rotate = np.array([[effort(ways[a, b], cost) for b in range(len(holds))] for a in range(len(holds))])
    return _Efforts(
        tuple(FACE_TURNS[i] for i in used),
        tuple(tuple(row[i] for i in used) for row in names),
        step[:, used],
        rotate.astype(np.float32),
        ways,
    )


def _check(cost: Cost) -> None:
    """Raise ValueError for costs with which the search would not find the cheapest turns."""
    if any(turn.layers == 2 for turn in cost) or min(cost.values(), default=0) <= 0:
        raise ValueError("costs are for face turns and rotations only, and all greater than 0")
    for face in {turn.face for turn in cost if not turn.whole}:
        quarter, half, back = (cost.get(Turn(face, quarters), np.inf) for quarters in (1, 2, 3))
        if not max(quarter, half, back) < np.inf:
            raise ValueError(f"{face}, {face}2 and {face}' all need a cost, or none of them")
        if half > 2 * min(quarter, back) or abs(quarter - back) > half:
            raise ValueError(f"one turn of {face} costs more than two that do the same")


def _rotations(cost: Mapping[Turn, float]) -> dict[bytes, tuple[Turn, ...]]:
    """The holds that the rotations in `cost` lead to, with the cheapest way to each."""
    found: dict[bytes, tuple[Turn, ...]] = {Cube().stickers: ()}
    changed = True
    while changed:
        changed = False
        for hold, way in list(found.items()):
            for turn in cost:
                after = compose(hold, turn.permutation)
                longer = (*way, turn)
                if turn.whole and (after not in found or effort(longer, cost) < effort(found[after], cost)):
                    found[after] = longer
                    changed = True
    return found


def _least_sums(left: NDArray[np.float32], right: NDArray[np.float32]) -> NDArray[np.float32]:
    """The matrix product with (least, plus) in place of (plus, times)."""
    result = np.full((len(left), right.shape[1]), np.inf, np.float32)
    for k in range(right.shape[0]):
        np.minimum(result, left[:, k, None] + right[k], out=result)
    return result


@lru_cache(maxsize=8)
def _sequence_costs(key: _CostKey) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """The least cost, for every sequence and hold, of doing the sequence from the start and ending in the
    hold, and of undoing it starting in the hold (and ending in any)."""
    efforts = _efforts(key)
    sequences = _sequences(efforts.turns)
    step = efforts.step.T
    undo = step[[efforts.turns.index(turn.inverse) for turn in efforts.turns]]
    shape = (len(sequences.parent), len(efforts.rotate))
    doing, undoing = np.empty(shape, np.float32), np.empty(shape, np.float32)
    doing[0], undoing[0] = efforts.rotate[0], 0
    for level in sequences.levels():
        parent, last = sequences.parent[level], sequences.last[level]
        doing[level] = _least_sums(doing[parent] + step[last], efforts.rotate)
        undoing[level] = _least_sums(undoing[parent] + undo[last], efforts.rotate.T)
    return doing, undoing


_HASHES: Final = np.random.default_rng(3).integers(1 << 63, size=(len(POSITIONS), 54), dtype=np.uint64)

_ENDS: Final = np.uint64((1 << 19) - 1)


def _hashed(
    sequences: _Sequences, where: tuple[int, ...], kinds: tuple[int, ...], count: int
) -> NDArray[np.uint64]:
    """A hash of the placements that each of the first `count` sequences makes of `where`."""
    result = np.zeros(count, np.uint64)
    for kind, place in zip(kinds, where, strict=True):
        result += _HASHES[kind].take(sequences.goes[place, :count])
    return result


@dataclass(frozen=True, eq=False)
class _Goal:
    """What is known from the goal backwards: the `states` (hashes, ascending), the `least` cost from each to
    the goal in every hold, and the `sequences` that lead there, grouped by state from index `first` on. `ends`
    tells, by the last bits of a hash, whether any state has them."""

    states: NDArray[np.uint64]
    ends: NDArray[np.bool_]
    least: NDArray[np.float32]
    first: NDArray[np.intp]
    sequences: NDArray[np.intp]


@lru_cache(maxsize=32)
def _around(goal: tuple[int, ...], kinds: tuple[int, ...], key: _CostKey, length: int) -> _Goal:
    sequences = _sequences(_efforts(key).turns)
    hashes = _hashed(sequences, goal, kinds, sequences.count(length))
    order = np.argsort(hashes, kind="stable")
    ascending = hashes[order]
    first = np.flatnonzero(np.append(True, ascending[1:] != ascending[:-1]))
    least = np.minimum.reduceat(_sequence_costs(key)[1][order], first, axis=0)
    ends = np.zeros(_ENDS + 1, np.bool_)
    ends[ascending & _ENDS] = True
    return _Goal(ascending[first], ends, least, np.append(first, len(order)), order)


def _meetings(
    start: tuple[int, ...], goal: tuple[int, ...], kinds: tuple[int, ...], key: _CostKey, near: int, far: int
) -> Iterator[tuple[int, int]]:
    """Pairs of sequences that lead to the same state, cheapest first: one of the first `near` from the start,
    and one of up to `far` turns from the goal."""
    around = _around(goal, kinds, key, far)
    doing, undoing = _sequence_costs(key)
    hashes = _hashed(_sequences(_efforts(key).turns), start, kinds, near)
    maybe = np.flatnonzero(around.ends[hashes & _ENDS])  # this alone rules most of them out
    state = np.searchsorted(around.states, hashes[maybe]).clip(max=len(around.states) - 1)
    there = around.states[state] == hashes[maybe]
    met, state = maybe[there], state[there]
    costs = doing[met] + around.least[state]
    for i in np.argsort(costs.min(axis=1), kind="stable"):
        hold = int(costs[i].argmin())
        if not np.isfinite(costs[i, hold]):
            return
        at = state[i]
        ways = around.sequences[around.first[at] : around.first[at + 1]]
        yield int(met[i]), int(ways[undoing[ways, hold].argmin()])


def _with_rotations(turns: tuple[Turn, ...], key: _CostKey) -> tuple[Turn, ...]:
    """`turns`, called as at the start, with the rotations that make them cheapest."""
    efforts = _efforts(key)
    holds = range(len(efforts.rotate))
    best: dict[int, tuple[float, tuple[Turn, ...]]] = {0: (0.0, ())}
    for turn in turns:
        number = efforts.turns.index(turn)
        options = {
            hold: min(
                (spent + float(efforts.rotate[before, hold] + efforts.step[hold, number]), before)
                for before, (spent, _) in best.items()
            )
            for hold in holds
        }
        best = {
            hold: (spent, (*best[before][1], *efforts.ways[before, hold], efforts.names[hold][number]))
            for hold, (spent, before) in options.items()
        }
    return min(best.values(), key=lambda option: option[0])[1]
