"""What a learner tells of a turn that went wrong as slips: what they may have done in place of which call."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.belief.slips.explanations import Slip, kind_of
from coach.cube import Turn, opposite
from coach.language.telling import EARLIER, NamedTurn, Telling, Way

_WAYS: Final[Mapping[str, Mapping[str, int]]] = {
    "U": {"left": 1, "right": 3}, "D": {"right": 1, "left": 3}, "R": {"up": 1, "down": 3}, "L": {"down": 1, "up": 3},
    "F": {"right": 1, "left": 3}, "B": {},
}  # fmt: skip
"""The quarter turns of each face by the way in which the part goes that one sees; in front, its upper part."""
_CLOCK: Final = {"clockwise": 1, "anticlockwise": 3}
_LATE: Final = 2
"""Who does not say which turn it was speaks of the last one, or of the one before if only that can be meant;"""
_NAMED: Final = 4
"""and of one of so many where its side is named."""


def meant(telling: Telling, calls: Sequence[Turn]) -> tuple[tuple[Slip, ...], ...]:
    """What may have been done instead of `calls`, each possibility as the slips it consists of; none where what is told
    is not of one of the last calls."""
    turns = [at for at, call in enumerate(calls) if not call.whole][::-1]
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


def _spoken_of(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[int]:
    """The calls that may be spoken of, the likeliest first: as they say, else those whose side is named."""
    told = range(_LATE) if telling.back is None else (telling.back,)
    said = [turns[back] for back in told if 0 <= back < len(turns)]
    yield from said
    named = [at for at in turns[telling.back == EARLIER : _NAMED] if calls[at].face in telling.faces]
    yield from (at for at in named if at not in said)


def _swapped(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[tuple[Slip, ...]]:
    """The last two calls, each done in place of the other."""
    if len(turns) < 2 or turns[0] != turns[1] + 1:
        return
    later, sooner = calls[turns[0]], calls[turns[1]]
    named = (telling.did.face, telling.called.face)
    if later.face != sooner.face and named in (("", ""), (later.face, sooner.face)):
        yield Slip("swapped", turns[1], (later,)), Slip("swapped", turns[0], (sooner,))


def _added(telling: Telling, calls: Sequence[Turn], turns: Sequence[int]) -> Iterator[tuple[Slip, ...]]:
    """Another turn after the last call."""
    face, way = telling.did.face, telling.did.way
    if turns and face:
        told = _quarters(face, way)
        for quarters in [told] if told else (1, 3):
            yield (Slip("ahead", turns[0], (calls[turns[0]], Turn(face, quarters))),)


def _done(telling: Telling, call: Turn) -> Iterator[tuple[Turn, ...]]:
    """What was done if this is the call that is spoken of."""
    did, called = _resolved(telling.did, call), _resolved(telling.called, call)
    if not _is_of(called, call):
        return
    face = did.face or call.face
    if telling.how and face != call.face and not telling.called.face:
        return  # then the side tells which turn is spoken of
    if telling.how == "skipped":
        if _is_of(did, call):
            yield ()
    elif face == call.face:
        yield from ((Turn(face, quarters),) for quarters in _otherwise(telling, did.way, call))
    else:
        yield from ((Turn(face, quarters),) for quarters in _on_other_side(telling, did.way, face, call))


def _resolved(part: NamedTurn, call: Turn) -> NamedTurn:
    """With "left" or "right" for the way of a layer that lies, and for the side else."""
    if not part.either:
        return part
    if call.face in "UD" and not part.way:
        return replace(part, way=part.either)
    return part if part.face else replace(part, face=part.either[0].upper())


def _is_of(part: NamedTurn, call: Turn) -> bool:
    """Whether what is named is the call, or may be."""
    right_way = call.quarters == 2 or not part.way or _quarters(call.face, part.way) == call.quarters
    return part.face in ("", call.face) and right_way


def _quarters(face: str, way: Way) -> int | None:
    return _CLOCK.get(way) or _WAYS[face].get(way)


def _otherwise(telling: Telling, way: Way, call: Turn) -> Iterator[int]:
    """The ways in which the face that was called can have been turned; as called where nothing else is told."""
    told = _quarters(call.face, way)
    if telling.how == "twice":
        yield 2
    elif telling.how == "once":
        yield from [told] if told else (1, 3) if call.quarters == 2 else [call.quarters]
    elif call.quarters == 2:
        yield 2  # both ways round it comes to the same
    elif told:
        yield told
    elif telling.how == "other-way" or (telling.called.way and not way and not telling.faces):
        yield 4 - call.quarters
    else:
        yield call.quarters


def _on_other_side(telling: Telling, way: Way, face: str, call: Turn) -> Iterator[int]:
    """The ways in which another side can have been turned: as told, else the opposite one in the way that was called,
    any other in either way."""
    if call.quarters == 2 or telling.how == "twice":
        yield 2
        return
    same = next((way for way, quarters in _WAYS[call.face].items() if quarters == call.quarters), "")
    told = _quarters(face, way)
    if told is None and face == opposite(call.face):
        told = _WAYS[face].get(same)
        told = 4 - told if told and telling.how == "other-way" else told
    yield from [told] if told else (1, 3)
