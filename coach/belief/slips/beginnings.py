"""How the cube may have looked at the beginning of a trail, weighed by what was said about it then."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Answered, Chances, chances_of, weigh
from coach.belief.slips.explanations import prefixes
from coach.belief.slips.trail import Trail
from coach.cube import Turn

_FITTING: Final = 1e-2
"""Do not combine beginnings with slips if they have less than this fraction of the best one's weight, judging by what
was said before any turn: a wrong description and a slip seldom come together."""


def beginnings(trail: Trail) -> tuple[Chances, NDArray[np.bool_]]:
    """[beginnings + 1, 54, 6] the beginnings of the trail, then the mean of those that fit what was said at first;
    and [beginnings] whether each one fits: the share that does is the prior chance of all of them."""
    origins = chances_of(trail.origins, trail.not_up)
    start = _weights(trail, origins)
    fitting = start >= _FITTING * start.max()
    return np.concatenate([origins, np.average(origins, axis=0, weights=start * fitting)[None]]), fitting


def _weights(trail: Trail, origins: Chances) -> Chances:
    """[beginnings] how likely each is, judging by what was said before any turn and up to the last check that was
    passed: until then everything was done as on the trail."""
    passed = [number for number, event in enumerate(trail.events) if _passed(event)]
    before, calls = prefixes(trail.turns), 0
    weight = np.ones(len(origins))
    for number, event in enumerate(trail.events):
        if isinstance(event, Turn):
            calls += 1
        elif not calls or number <= max(passed, default=-1):
            weight = weight * weigh(event, origins[:, before[calls][list(event.places)]])
    return np.asarray(weight)


def _passed(event: object) -> bool:
    return isinstance(event, Answered) and event.yes and event.check
