"""What a learner says about a turn that went wrong, as slips: what they may have done instead of which call."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from coach.belief.slips.explanations import Slip, SlipKind, kind_of
from coach.cube import Turn, inverse, opposite
from coach.language.telling import EARLIER, NamedTurn, Telling, Way

_T = TypeVar("_T")
_WAYS: Final[Mapping[str, Mapping[str, int]]] = {
    "U": {"left": 1, "right": 3}, "D": {"right": 1, "left": 3}, "R": {"up": 1, "down": 3}, "L": {"down": 1, "up": 3},
    "F": {"right": 1, "left": 3}, "B": {},
}  # fmt: skip
"""The quarter turns of each face, by the direction in which its visible part moves (for the front, its upper part)."""
_CLOCK: Final = {"clockwise": 1, "anticlockwise": 3}
_LATE: Final = 2
"""Look for the turn among this many last ones if the learner does not say which it was, the last one first."""
_NAMED: Final = 4
"""Look for the turn among this many last ones if the learner names its side."""


def meant(
    telling: Telling, calls: Sequence[Turn], runs: Sequence[int] = (), parts: Sequence[range] = (), over: bool = False
) -> tuple[tuple[Slip, ...], ...]:
    """What may have been done instead of `calls`: the possibilities, each as its slips. Empty if the learner does not
    speak of one of them. `runs` has the numbers of the calls that runs begin with, the last run being spoken of first;
    `parts` are the calls of each part of the sequence at hand. While turns are called it is one of the last that is
    spoken of; once they are `over`, it may be any."""
    turns = [at for at, call in enumerate(calls) if not call.whole][::-1]
    if telling.how == "none":
        if not runs:
            return ()
        since = len(turns) if telling.back is None else telling.back
        return _left_out(range(max(*runs, min(turns[:since], default=max(runs))), len(calls)), "stopped")
    if telling.whole:
        return (*_of_whole_cube(telling, calls),)
    if telling.how == "swapped":
        return (*_swapped(telling, calls, turns),)
    if telling.how == "added":
        return (*_added(telling, calls, turns),)
    if telling.of_parts:
        part = _nth(parts, telling.nth)
        return _left_out([at for at in part if not calls[at].whole], "left-out") if part else ()
    if telling.nth or (over and telling.faces and telling.back is None):
        if counted := _counted(telling, calls, runs, parts):
            return counted
        if telling.nth:
            return ()
    for at in _spoken_of(telling, calls, turns):
        done = dict.fromkeys(_done(telling, calls[at]))
        if (calls[at],) in done:
            return ()  # it was done as called
        if done:
            return _instead(calls[at], at, done)
    return ()


def _instead(call: Turn, at: int, done: Iterable[tuple[Turn, ...]]) -> tuple[tuple[Slip, ...], ...]:
    return tuple((Slip(kind_of(call, what), at, what),) for what in done)


def _left_out(calls: Sequence[int], kind: SlipKind) -> tuple[tuple[Slip, ...], ...]:
    """All of these calls left out."""
    return (tuple(Slip(kind if len(calls) > 1 else "left-out", at, ()) for at in calls),) if calls else ()


def _nth(of: Sequence[_T], number: int | None) -> _T | None:
    """The one of that number, from 1 or back from -1."""
    if not number or abs(number) > len(of):
        return None
    return of[number - (number > 0)]


def _counted(
    telling: Telling, calls: Sequence[Turn], runs: Sequence[int], parts: Sequence[range]
) -> tuple[tuple[Slip, ...], ...]:
    """What may have been done instead of the call with that number, or of any where none is said. They may count the
    calls of the side that they name, or all, of the whole run or of the part at which they are; and if no call of the
    last run fits, it was one before."""
    ends = [*runs[1:], len(calls)] if runs else [len(calls)]
    for start, end in reversed([*zip(runs or [0], ends, strict=True)]):
        within = [range(start, end)]
        within += [range(part.start, end) for part in parts if part.start < end < part.stop]
        slips = dict[tuple[Slip, ...], None]()
        for scope in within:
            faces = [at for at in scope if not calls[at].whole]
            fitting = [at for at in faces if any(what != (calls[at],) for what in _done(telling, calls[at]))]
            if telling.nth:
                counts = {_nth(faces, telling.nth), _nth(fitting, telling.nth)}
                fitting = [at for at in fitting if at in counts]
            for at in fitting:
                slips |= dict.fromkeys(_instead(calls[at], at, _done(telling, calls[at])))
        if slips:
            return (*slips,)
    return ()


def _of_whole_cube(telling: Telling, calls: Sequence[Turn]) -> Iterator[tuple[Slip, ...]]:
    """The last turn of the whole cube, left out or done the other way."""
    at = next((at for at in reversed(range(len(calls))) if calls[at].whole), None)
    if at is not None:
        done = () if telling.how == "skipped" else inverse((calls[at],))
        if done != (calls[at],):
            yield (Slip(kind_of(calls[at], done), at, done),)


def _spoken_of(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[int]:
    """The calls that may be meant, likeliest first: those the learner points out, then those whose side is named."""
    told = range(_LATE) if telling.back is None else (telling.back,)
    said = [turns[back] for back in told if 0 <= back < len(turns)]
    yield from said
    named = [at for at in turns[telling.back == EARLIER : _NAMED] if calls[at].face in telling.faces]
    yield from (at for at in named if at not in said)


def _swapped(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[tuple[Slip, ...]]:
    """The last two calls done in the wrong order."""
    if len(turns) < 2 or turns[0] != turns[1] + 1:
        return
    later, sooner = calls[turns[0]], calls[turns[1]]
    named = (telling.did.face, telling.called.face)
    if later.face != sooner.face and named in (("", ""), (later.face, sooner.face)):
        yield Slip("swapped", turns[1], (later,)), Slip("swapped", turns[0], (sooner,))


def _added(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[tuple[Slip, ...]]:
    """Another turn done after the last call."""
    face, way = telling.did.face, telling.did.way
    if turns and face:
        told = _quarters(face, way)
        for quarters in [told] if told else (1, 3):
            yield (Slip("ahead", turns[0], (calls[turns[0]], Turn(face, quarters))),)


def _done(telling: Telling, call: Turn) -> Iterator[tuple[Turn, ...]]:
    """What may have been done instead of `call`, if that is the call meant."""
    did, called = _resolved(telling.did, call), _resolved(telling.called, call)
    if not _is_of(called, call):
        return
    face = did.face or call.face
    if telling.how and face != call.face and not telling.called.face:
        return  # then the side says which turn is meant
    if telling.how == "skipped":
        if _is_of(did, call):
            yield ()
    elif face == call.face:
        yield from ((Turn(face, quarters),) for quarters in _otherwise(telling, did.way, call))
    else:
        yield from ((Turn(face, quarters),) for quarters in _on_other_side(telling, did.way, face, call))


def _resolved(part: NamedTurn, call: Turn) -> NamedTurn:
    """The part with "left" or "right" resolved: the direction of a horizontal layer, otherwise the side."""
    if not part.either:
        return part
    if call.face in "UD" and not part.way:
        return replace(part, way=part.either)
    return part if part.face else replace(part, face=part.either[0].upper())


def _is_of(part: NamedTurn, call: Turn) -> bool:
    """Whether the part named is the call, or may be."""
    right_way = call.quarters == 2 or not part.way or _quarters(call.face, part.way) == call.quarters
    return part.face in ("", call.face) and right_way


def _quarters(face: str, way: Way) -> int | None:
    return _CLOCK.get(way) or _WAYS[face].get(way)


def _otherwise(telling: Telling, way: Way, call: Turn) -> Iterator[int]:
    """The quarter turns that the called face may have made; as called if nothing else is said."""
    told = _quarters(call.face, way)
    if telling.how == "twice":
        yield 2
    elif telling.how == "once":
        yield from [told] if told else (1, 3) if call.quarters == 2 else [call.quarters]
    elif call.quarters == 2:
        yield 2  # a half turn is the same in both directions
    elif told:
        yield told
    elif telling.how == "other-way" or (telling.called.way and not way and not telling.faces):
        yield 4 - call.quarters
    else:
        yield call.quarters


def _on_other_side(telling: Telling, way: Way, face: str, call: Turn) -> Iterator[int]:
    """The quarter turns that another side may have made: as told; otherwise the opposite side in the direction called,
    any other side in either direction."""
    if call.quarters == 2 or telling.how == "twice":
        yield 2
        return
    same = next((way for way, quarters in _WAYS[call.face].items() if quarters == call.quarters), "")
    told = _quarters(face, way)
    if told is None and face == opposite(call.face):
        told = _WAYS[face].get(same)
        told = 4 - told if told and telling.how == "other-way" else told
    yield from [told] if told else (1, 3)
