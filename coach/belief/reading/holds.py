"""A cube that is held another way than thought while it is read: since which row, and which way, judging by the rows.

Who turns the whole cube another way than asked reads true colours of other sides from then on. If what was read before
is turned into the hold that they are really in, everything fits a cube again, which it hardly ever does by chance.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from coach.belief.reading.completion import CORNER_KIND, EDGE_KIND, Completions
from coach.belief.reading.correction import likelihoods
from coach.belief.reading.stickers import UNKNOWN, KnownStickers, by_hold, ways
from coach.cube import PLACE_NUMBER, Turn
from coach.cube.search import ROTATIONS_TO

_WRONGLY_TURNED: Final = {True: 0.03, False: 0.001}
"""The chance that the whole cube was turned another way before a row, by whether it was to be turned there. Estimates
without a source."""
_OTHER_HOLDS: Final = tuple(turns for turns in ROTATIONS_TO.values() if turns)


@dataclass(frozen=True)
class ReadRow:
    """A row that was read: the stickers told (place: letter), its middle included, what was known `before`, and whether
    the whole cube was to be `turned` for it; all in the present hold, as far as it is known."""

    before: KnownStickers
    told: Mapping[str, str]
    turned: bool


@dataclass(frozen=True)
class Held:
    """From row number `since` on, the cube was held as after these `turns` of the whole cube, which leaves `reading`.
    `weight` is how likely it is that this happens and that the rows are then read as they were."""

    since: int
    turns: tuple[Turn, ...]
    reading: KnownStickers
    weight: float


def held_otherwise(rows: Sequence[ReadRow], misread: bool = False) -> list[Held]:
    """All other holds that make a possible cube of the rows, likeliest first; where stickers may be `misread` as well,
    of any rows, which takes longer."""
    found = []
    for since, turns, reading in _other(rows, misread):
        cubes = held_right(reading) if misread else ways(reading)
        chance = _WRONGLY_TURNED[rows[since].turned] / len(_OTHER_HOLDS)
        found.append(Held(since, turns, reading, chance * cubes))
    return sorted((held for held in found if held.weight), key=lambda held: -held.weight)


def held_right(reading: KnownStickers, confirmed: Collection[str] = ()) -> float:
    """The weight of the hold that is thought, with some stickers of `reading` misread, on the same scale. Those
    `confirmed` are not."""
    return Completions(by_hold(reading, likelihoods(reading, confirmed=confirmed))).total


def odd_middles(told: Mapping[str, str], reading: KnownStickers) -> list[str]:
    """The middles that were told and are not where they should be in that hold."""
    middles = (place for place in told if place.endswith("4"))
    return [place for place in middles if told[place] not in (UNKNOWN, reading.centre(place[0]))]


def can_be_held(told: Mapping[str, str], reading: KnownStickers) -> bool:
    """Whether there is a hold with all the middles that were told: no two sides have the same one, for example."""
    return any(not odd_middles(told, reading.after(turns)) for turns in ROTATIONS_TO.values())


def _other(rows: Sequence[ReadRow], misread: bool) -> Iterator[tuple[int, tuple[Turn, ...], KnownStickers]]:
    """Every other hold since every row in which the middles fit, with what is known then. Unless stickers may be
    `misread`, no piece is impossible in it."""
    told: dict[str, str] = {}
    for since in range(len(rows) - 1, -1, -1):
        told = {place: letter for place, letter in rows[since].told.items() if letter != UNKNOWN} | told
        for turns in _OTHER_HOLDS:
            before = rows[since].before.after(turns)
            if odd_middles(told, before) or not (misread or _agree(before, told)):
                continue
            reading = before.seeing(told)
            if misread or _pieces_possible(reading):
                yield since, turns, reading


def _agree(reading: KnownStickers, told: Mapping[str, str]) -> bool:
    return all(reading.pattern[PLACE_NUMBER[place]] in (UNKNOWN, letter) for place, letter in told.items())


def _pieces_possible(reading: KnownStickers) -> bool:
    """Whether each place may hold some piece: this rules out most holds and takes little time."""
    allowed = np.array([[face in (UNKNOWN, centre) for centre in reading.centres] for face in reading.pattern])
    for kind in (EDGE_KIND, CORNER_KIND):
        lies = allowed[kind.places[:, None, None, :], kind.colours[None]].all(axis=-1)
        if not np.logical_or.reduce(lies, axis=(1, 2)).all():
            return False
    return True
