"""What a learner says about a turn that went wrong, as slips: what they may have done instead of which call."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.belief.slips.explanations import Slip, kind_of
from coach.cube import Turn, inverse, opposite
from coach.language.telling import EARLIER, NamedTurn, Telling, Way

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


def meant(telling: Telling, calls: Sequence[Turn], run: int | None = None) -> tuple[tuple[Slip, ...], ...]:
    """What may have been done instead of `calls`: the possibilities, each as its slips. Empty if the learner does not
    speak of one of the last calls. None done means those of the last run, which begins with call number `run`."""
    turns = [at for at, call in enumerate(calls) if not call.whole][::-1]
    if telling.how == "none":
        since = len(turns) if telling.back is None else telling.back
        left = () if run is None else range(max(run, min(turns[:since], default=run)), len(calls))
        return (tuple(Slip("stopped" if len(left) > 1 else "left-out", at, ()) for at in left),) if left else ()
    if telling.whole:
        return (*_of_whole_cube(telling, calls),)
    if telling.how == "swapped":
        return (*_swapped(telling, calls, turns),)
    if telling.how == "added":
        return (*_added(telling, calls, turns),)
    for at in _spoken_of(telling, calls, turns):
        done = dict.fromkeys(_done(telling, calls[at]))
        if (calls[at],) in done:
            return ()  # it was done as called
        if done:
            return tuple((Slip(kind_of(calls[at], what), at, what),) for what in done)
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
