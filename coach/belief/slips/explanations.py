"""Every way in which a learner may have gone wrong on a trail of calls, with its prior chance.

A slip at call number i leaves the calls before it as they were and is followed by the calls after it. If P
is what the first i calls do, t the call and a what was done instead, the cube afterwards is what it would be
if P a t' P' had been done before everything else. So a slip is one permutation, its `shift`: no turns need be
replayed, and the shifts of two slips are multiplied.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import chain, product
from typing import Final, Literal, TypeAlias, get_args

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Fell
from coach.belief.slips.trail import Trail
from coach.cube import FACE_TURNS, Cube, Turn, inverse, opposite
from coach.cube.search import ROTATIONS_TO

SlipKind: TypeAlias = Literal[
    "left-out",
    "twice",
    "reversed",
    "half-done",
    "neighbour",
    "mirror",
    "other",
    "hold",
    "cube-turned",
    "top-turned",
    "stopped",
    "ahead",
    "swapped",
    "fell",
]
KINDS: Final[tuple[SlipKind, ...]] = get_args(SlipKind)
Shift = NDArray[np.uint8]

RATE: Final = 0.03
"""The chance of a slip at one call. This and the shares below are estimates without a source, until the
learner's own slips are counted."""
_SHARES: Final[Mapping[SlipKind, float]] = {
    "left-out": 0.22, "twice": 0.16, "reversed": 0.26, "half-done": 0.16, "neighbour": 0.02, "mirror": 0.05,
    "other": 0.003,
}  # fmt: skip
"""The share of each single way to do a call wrongly; there are up to eight neighbours and eight others."""
_STOPPED: Final = 0.06
"""The share of doing nothing from some call on, until the calls end or something is said."""
_AHEAD: Final = 0.01
"""The share of having done a given number of the next turns as well."""
_MOST_AHEAD: Final = 3
"""Consider at most this many turns done ahead."""
_TOLD: Final = 0.1
"""The share of a slip that the learner described and that would not be considered otherwise."""
_TURNED: Final = {"y": 0.012, "x": 0.006, "z": 0.006, "": 0.0005}
_TOP_TURNED: Final = {1: 0.004, 2: 0.002, 3: 0.004}
"""The share of each turn of the top besides the first or the last turn of a run, by its quarters."""
_AT_A_BEGINNING: Final = 3.0
"""Multiply the chance of a wrong hold by this where a run begins."""
_FELL: Final[Mapping[bool | None, float]] = {True: 20.0, None: 1.0, False: 0.02}
"""How much likelier it is that something turned when the cube fell than that nothing did, by what the learner says of
it. This and the next three are estimates without a source."""
_TWO_SIDES: Final = 0.2
"""The share of falls in which two sides turned, and not one."""
_HALF_IN_A_FALL: Final = 0.1
"""How likely a side makes a half turn in a fall, for each time it makes a given quarter turn."""
_NOT_DONE: Final = 0.3
"""The chance that a call after which the cube fell was not done before."""


@dataclass(frozen=True)
class Slip:
    """Instead of call number `at` (0: the first of the trail), the learner did `done`; or that was done to the cube
    when it "fell" after `at` calls."""

    kind: SlipKind
    at: int
    done: tuple[Turn, ...]


def leading(slips: Sequence[Slip], kinds: Collection[SlipKind] = ("stopped", "swapped", "hold")) -> list[Slip]:
    """The slips worth telling: the first of two swapped calls, the first call not done where a run was broken off, the
    beginning of a wrong hold, and all others. Only slips of these `kinds` belong together."""
    return [slip for before, slip in zip((None, *slips), slips, strict=False)
            if not (before and before.kind == slip.kind and slip.kind in kinds)]  # fmt: skip


@dataclass(frozen=True)
class Ways:
    """The ways to go wrong at one place: their slips, shifts [ways, 54], chances [ways], and kinds [ways] as
    numbers of KINDS."""

    slips: tuple[Slip, ...]
    shifts: Shift
    chances: NDArray[np.float64]
    kinds: NDArray[np.intp]


@dataclass(frozen=True)
class Slips:
    """Explanations as arrays. Explanation i consists of the consecutive slips `slips[i]`. Observations after event
    `first[i]` see the cube shifted by `shift[i]`, those after event `last[i]` by `both[i]`."""

    slips: tuple[tuple[Slip, ...], ...]
    chances: NDArray[np.float64]
    first: NDArray[np.int32]
    last: NDArray[np.int32]
    shift: Shift
    both: Shift


def prefixes(turns: Sequence[Turn]) -> Shift:
    """[turns + 1, 54] what the first 0, 1, 2 ... of `turns` do to the places: state = start[prefix]."""
    result = np.empty((len(turns) + 1, 54), np.uint8)
    result[0] = np.arange(54)
    for number, turn in enumerate(turns):
        result[number + 1] = result[number][_permutation((turn,))]
    return result


def inverted(permutations: Shift) -> Shift:
    """The inverse of each of `permutations` [..., 54]."""
    return np.argsort(permutations, axis=-1, kind="stable").astype(np.uint8)


def single_slips(trail: Trail, habits: Mapping[SlipKind, int] | None = None) -> Slips:
    """All explanations with one slip, with a run that was broken off or continued ahead of the calls, and with a run
    that was done in a wrong hold which was then put right.

    `habits` counts the learner's earlier slips by kind."""
    parts = list(_places(trail, habits or {}))
    parts += [_ahead(trail, habits or {})] if trail.turns and trail.coming else []
    parts += [_broken_off(trail, habits or {}), _put_right(trail, habits or {})] if trail.runs else []
    parts += _falls(trail)
    return joined([part for part in parts if len(part.slips)])


def _event_numbers(trail: Trail) -> list[int]:
    """The event number of each call."""
    return [number for number, event in enumerate(trail.events) if isinstance(event, Turn)]


def _places(trail: Trail, habits: Mapping[SlipKind, int]) -> Iterator[Slips]:
    """The ways to do each call wrongly; last, turning the cube after all of them."""
    turns = trail.turns
    before = prefixes(turns)
    back = inverted(before)
    events = _event_numbers(trail)
    begun = {next((i for i, e in enumerate(events) if e >= run), len(events)) for run in trail.runs}
    ended = {at - 1 for at in (*begun, *(() if trail.coming else (len(turns),)))}
    factors = np.array([1.0 + habits.get(kind, 0) for kind in KINDS])
    for at, turn in enumerate((*turns, None) if turns else ()):
        options = _options(turn, at in begun, at in ended)
        last = min(at, len(turns) - 1)
        shifts = before[at][options.shifts[:, back[last + 1]]]
        number = np.full(len(shifts), events[last], np.int32)
        never = np.full(len(shifts), np.iinfo(np.int32).max, np.int32)
        chances = RATE * options.chances * factors[options.kinds]
        yield Slips(_placed(turn, at in begun, at in ended, at), chances, number, never, shifts, shifts)


@lru_cache(maxsize=2000)
def _placed(turn: Turn | None, begins: bool, ends: bool, at: int) -> tuple[tuple[Slip], ...]:
    """The slips of the options at call number `at`, each on its own. Each trail needs thousands, mostly the same as the
    previous one; 30 concurrent lessons share about 1000 cached results."""
    return tuple((Slip(slip.kind, at, slip.done),) for slip in _options(turn, begins, ends).slips)


@cache
def _options(turn: Turn | None, begins: bool, ends: bool) -> Ways:
    """The ways to do `turn` wrongly, where a run begins or ends or not, or to turn the whole cube if it is None; shifts
    are what is done instead."""
    if turn is None:
        return _turned(begins)
    done: dict[tuple[Turn, ...], SlipKind] = _rotated_wrongly(turn) if turn.whole else _turned_wrongly(turn)
    slips = [Slip(kind, 0, what) for what, kind in done.items()]
    chances = [_SHARES[kind] for kind in done.values()]
    if not turn.whole:
        turned = _turned(begins)
        slips += [Slip(slip.kind, 0, (*slip.done, turn)) for slip in turned.slips]
        chances += turned.chances.tolist()
        for quarters, share in _TOP_TURNED.items() if turn.face != "U" else ():
            besides = [(Turn("U", quarters), turn)] * begins + [(turn, Turn("U", quarters))] * ends
            slips += [Slip("top-turned", 0, done) for done in besides]
            chances += [share] * len(besides)
    return _as_ways(slips, chances)


def _turned_wrongly(turn: Turn) -> dict[tuple[Turn, ...], SlipKind]:
    done: dict[tuple[Turn, ...], SlipKind] = {(): "left-out"}
    return done | {(what,): kind_of(turn, (what,)) for what in FACE_TURNS if what != turn}


def kind_of(turn: Turn, instead: tuple[Turn, ...]) -> SlipKind:
    """The kind of slip of doing one turn, or nothing, `instead` of `turn`."""
    if not instead:
        return "left-out"
    (done,) = instead
    if done.face == turn.face:
        if turn.quarters == 2:
            return "half-done"
        return "twice" if done.quarters == 2 else "reversed"
    if (done.quarters == 2) != (turn.quarters == 2):
        return "other"
    return "mirror" if done.face == opposite(turn.face) else "neighbour"


def _rotated_wrongly(turn: Turn) -> dict[tuple[Turn, ...], SlipKind]:
    done: dict[tuple[Turn, ...], SlipKind] = {}
    for what in ROTATIONS_TO.values():
        if what != (turn,):
            same_axis = len(what) == 1 and what[0].face == turn.face
            done[what] = "left-out" if not what else "reversed" if same_axis else "other"
    return done


@cache
def _turned(begins: bool) -> Ways:
    """The ways to turn the whole cube without being asked to."""
    kind: SlipKind = "hold" if begins else "cube-turned"
    slips, chances = [], []
    for way in ROTATIONS_TO.values():
        if way:
            axis = str(way[0])[0] if len(way) == 1 else ""
            slips.append(Slip(kind, 0, way))
            chances.append(_TURNED[axis] * (_AT_A_BEGINNING if begins else 1.0))
    return _as_ways(slips, chances)


def _as_ways(slips: Sequence[Slip], chances: Sequence[float]) -> Ways:
    shifts = np.array([_permutation(slip.done) for slip in slips], np.uint8)
    return Ways(tuple(slips), shifts, np.array(chances), np.array([KINDS.index(slip.kind) for slip in slips]))


def _broken_off(trail: Trail, habits: Mapping[SlipKind, int]) -> Slips:
    """Runs in which nothing was done from some call on. Missing only the last call counts as "left-out" instead."""
    turns, events = trail.turns, _event_numbers(trail)
    begun = {*trail.runs}
    parts, start = [], 0
    for end in range(1, len(turns) + 1):
        follows = end < len(turns) and events[end] == events[end - 1] + 1 and events[end] not in begun
        if follows:
            continue
        last = next((n for n in range(end, start, -1) if not turns[n - 1].whole), start)
        parts += [(at, last) for at in range(start, last - 1) if not turns[at].whole]
        start = end
    if not parts:
        return joined([])
    before = prefixes(turns)
    back = inverted(before)
    slips = tuple(tuple(Slip("stopped", n, ()) for n in range(at, end)) for at, end in parts)
    chances = np.full(len(parts), RATE * _STOPPED * (1 + habits.get("stopped", 0)))
    ended = np.array([events[end - 1] for _, end in parts], np.int32)
    never = np.full(len(parts), np.iinfo(np.int32).max, np.int32)
    shifts = np.array([before[at][back[end]] for at, end in parts], np.uint8)
    return Slips(slips, chances, ended, never, shifts, shifts)


def _ahead(trail: Trail, habits: Mapping[SlipKind, int]) -> Slips:
    """The last call, done together with some that would have come next."""
    turns, at = trail.turns, len(trail.turns) - 1
    done = [(turns[at], *trail.coming[:more]) for more in range(1, min(_MOST_AHEAD, len(trail.coming)) + 1)]
    before = prefixes(turns)
    back = inverted(before)
    shifts = np.array([before[at][_permutation(what)[back[at + 1]]] for what in done], np.uint8)
    chances = np.full(len(done), RATE * _AHEAD * (1 + habits.get("ahead", 0)))
    last = np.full(len(done), _event_numbers(trail)[at], np.int32)
    never = np.full(len(done), np.iinfo(np.int32).max, np.int32)
    return Slips(tuple((Slip("ahead", at, what),) for what in done), chances, last, never, shifts, shifts)


def _falls(trail: Trail) -> Iterator[Slips]:
    """What may have turned each time that the cube fell. If it fell while a turn was called, that may not have been
    done; after a no, the call is said again."""
    before = prefixes(trail.turns)
    back, calls = inverted(before), 0
    for number, event in enumerate(trail.events):
        calls += isinstance(event, Turn)
        if not isinstance(event, Fell):
            continue
        options = _fallen(event.turned)
        fell = tuple((Slip("fell", calls, slip.done),) for slip in options.slips)
        yield _lasting(fell, options.chances, number - 1, before[calls][options.shifts[:, back[calls]]])
        called = trail.events[number - 1] if number else None
        if isinstance(called, Turn) and not called.whole and event.turned is not False:
            undone = tuple((Slip("left-out", calls - 1, ()), *slip) for slip in fell)
            chances = options.chances * _NOT_DONE / (1 - _NOT_DONE)
            yield _lasting(undone, chances, number - 1, before[calls - 1][options.shifts[:, back[calls]]])
            if event.turned is None:
                left_out = ((Slip("left-out", calls - 1, ()),),)
                yield _lasting(left_out, np.array([_NOT_DONE]), number - 1, before[calls - 1][back[calls]][None])


@cache
def _fallen(turned: bool | None) -> Ways:
    """What may have turned when the cube fell."""
    one = [(turn,) for turn in FACE_TURNS]
    two = [pair for pair in product(FACE_TURNS, repeat=2) if pair[0].face != pair[1].face]
    slips, chances = [], list[float]()
    for ways, share in (one, 1 - _TWO_SIDES), (two, _TWO_SIDES):
        likely = np.array([_HALF_IN_A_FALL ** sum(turn.quarters == 2 for turn in done) for done in ways])
        slips += [Slip("fell", 0, done) for done in ways]
        chances += (_FELL[turned] * share * likely / likely.sum()).tolist()
    return _as_ways(slips, chances)


def _lasting(slips: tuple[tuple[Slip, ...], ...], chances: NDArray[np.float64], first: int, shifts: Shift) -> Slips:
    """Explanations that hold from event number `first` on."""
    begins, never = np.full(len(slips), first, np.int32), np.full(len(slips), np.iinfo(np.int32).max, np.int32)
    return Slips(slips, chances, begins, never, shifts, shifts)


def really(trail: Trail, slips: Sequence[Slip]) -> Trail:
    """The trail with what was really done if these are the slips."""
    done, fallen = ({slip.at: slip.done for slip in slips if (slip.kind == "fell") == fell} for fell in (False, True))
    return trail.with_done(done, fallen)


def with_told(slips: Slips, trail: Trail, told: Sequence[tuple[Slip, ...]]) -> Slips:
    """`slips`, plus those of `told` that are not among them."""
    known = {*slips.slips}
    new = tuple(each for each in told if each not in known)
    if not new:
        return slips
    events = _event_numbers(trail)
    first, last = (np.array([events[each[end].at] for each in new], np.int32) for end in (0, -1))
    shift, both = (np.array([_shift(trail.turns, each[:end]) for each in new], np.uint8) for end in (1, None))
    return joined([slips, Slips(new, np.full(len(new), RATE * _TOLD), first, last, shift, both)])


def _shift(turns: Sequence[Turn], slips: Sequence[Slip]) -> Shift:
    """The shift of `slips` done one after the other."""
    done = {slip.at: slip.done for slip in slips}
    end = slips[-1].at + 1
    really = chain.from_iterable(done.get(at, (turn,)) for at, turn in enumerate(turns[:end]))
    return np.asarray(_permutation(tuple(really))[inverted(prefixes(turns[:end]))[end]], np.uint8)


def _put_right(trail: Trail, habits: Mapping[SlipKind, int]) -> Slips:
    """Runs that were done in a wrong hold, which was put right when the next hold was told."""
    turns, events = trail.turns, _event_numbers(trail)
    before = prefixes(turns)
    back = inverted(before)
    starts = [next((i for i, e in enumerate(events) if e >= run), len(turns)) for run in trail.runs]
    options = _turned(True)
    parts = []
    for start, end in zip(starts, [*starts[1:], len(turns)], strict=True):
        if start == end:
            continue
        there = before[start][options.shifts[:, back[start]]]
        home = before[end][inverted(options.shifts)[:, back[end]]]
        slips = tuple(
            (
                Slip("hold", start, (*way.done, *turns[start : start + 1])),
                Slip("hold", end, (*inverse(way.done), *turns[end : end + 1])),
            )
            for way in options.slips
        )
        chances = RATE * options.chances / 2 * (1 + habits.get("hold", 0))
        first = np.full(len(slips), events[start], np.int32)
        last = np.full(len(slips), events[end - 1], np.int32)
        parts.append(Slips(slips, chances, first, last, there, np.take_along_axis(there, home, axis=1)))
    return joined(parts)


def joined(parts: Sequence[Slips]) -> Slips:
    """All explanations of `parts`, one after the other."""
    if not parts:
        none = np.zeros(0, np.int32)
        return Slips((), np.zeros(0), none, none, np.zeros((0, 54), np.uint8), np.zeros((0, 54), np.uint8))
    return Slips(
        tuple(chain.from_iterable(part.slips for part in parts)),
        np.concatenate([part.chances for part in parts]),
        np.concatenate([part.first for part in parts]),
        np.concatenate([part.last for part in parts]),
        np.concatenate([part.shift for part in parts]),
        np.concatenate([part.both for part in parts]),
    )


@lru_cache(maxsize=10_000)
def _permutation_bytes(turns: tuple[Turn, ...]) -> bytes:
    return Cube().do(turns).stickers


def _permutation(turns: tuple[Turn, ...]) -> Shift:
    return np.frombuffer(_permutation_bytes(turns), np.uint8)
