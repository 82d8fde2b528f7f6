"""What each hypothesis shows of the stickers at some moment, and what has been read of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Chances, Observation, Stickers
from coach.belief.slips.explanations import Shift, Slips
from coach.cube import FACES

Numbers: TypeAlias = NDArray[np.intp]

UNREAD: Final = 255
"""Stands in for the number of a face if the sticker has not been read."""


def on_stickers(origins: Chances, origin: Numbers, read: Shift, there: Shift) -> Chances:
    """[hypotheses, places, 6] what may be on the stickers that come from `there` [hypotheses, places]."""
    known = read[np.arange(len(read))[:, None], there]
    chances = np.concatenate([np.eye(6), origins.reshape(-1, 6)])
    return chances.take(np.where(known == UNREAD, 6 + 54 * origin[:, None] + there, known), axis=0)


def having_read(read: Shift, there: Shift, observation: Observation, hypotheses: NDArray[np.bool_]) -> Shift:
    """What has been read, including the stickers of `observation` in the `hypotheses` that allow them."""
    if not isinstance(observation, Stickers):
        return read
    result = read.copy()
    for column, (_, face) in enumerate(observation.facts):
        result[hypotheses, there[hypotheses, column]] = FACES.index(face)
    return result


def shift_at(slips: Slips, way: Numbers, event: int, places: Shift | None = None) -> Shift:
    """[hypotheses, places] where the stickers at `places` (all by default) come from at event number `event`."""
    wanted = np.arange(54) if places is None else places
    result = np.tile(wanted.astype(np.uint8), (len(way), 1))
    if not len(slips.slips):
        return result
    once = (way >= 0) & (slips.first[way] < event)
    twice = once & (slips.last[way] < event)
    once &= ~twice
    result[once] = slips.shift[way[once]][:, wanted]
    result[twice] = slips.both[way[twice]][:, wanted]
    return result


def alike(way: Numbers, slips: Slips, event: int) -> tuple[Numbers, Numbers]:
    """Representative hypotheses for what can be seen at an event, and for each hypothesis the index of the one that it
    looks like: all hypotheses whose slip is still to come look the same."""
    waiting = way >= 0
    waiting[waiting] = slips.first[way[waiting]] >= event
    if not waiting.any():
        return np.arange(len(way)), np.arange(len(way))
    hypotheses = np.append(np.flatnonzero(~waiting), waiting.argmax())
    like = np.full(len(way), len(hypotheses) - 1)
    like[hypotheses] = np.arange(len(hypotheses))
    return hypotheses, like


def contradicts(pattern: str, read: Mapping[int, str]) -> bool:
    """Whether the pattern contradicts something that was read."""
    return any(pattern[place] not in (".", "-", face) or pattern[place] + face == "-U" for place, face in read.items())


def overlaid(pattern: str, read: Mapping[int, str]) -> str:
    return "".join(read.get(place, letter) for place, letter in enumerate(pattern))
