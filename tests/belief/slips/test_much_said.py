"""However much is said on a trail, the weights of what may have happened stay numbers."""

from __future__ import annotations

import numpy as np
import pytest

from coach.belief.evidence import Stickers
from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.cube import FACES, Cube, parse

FRONT = range(FACES.index("F") * 9, FACES.index("F") * 9 + 9)


def read(cube: Cube, wrong: bool) -> Stickers:
    """The front as it is, or each of its stickers as something else."""
    return Stickers(tuple((place, "D" if wrong else cube.faces[place]) for place in FRONT))


@pytest.mark.parametrize("wrong", [False, True])
@pytest.mark.parametrize("later", [False, True])
def test_hundreds_of_readings_of_a_side_can_be_weighed(wrong: bool, later: bool) -> None:
    cube = Cube().do(parse("R U"))
    trail = Trail(("".join(Cube().faces),)).beginning_run().calling(parse("R U"))
    said = [read(cube, wrong)] * 300
    for each in said[: 0 if later else None]:
        trail = trail.hearing(each)
    suspicion = Suspicion.of(trail)
    for each in said if later else ():
        suspicion = suspicion.hearing(each)
    assert np.isfinite(suspicion.share).all()
    assert abs(suspicion.share.sum() - 1) < 1e-9


def test_a_scale_changes_no_share_where_pairs_of_slips_join() -> None:
    cube = Cube().do(parse("R U' F"))
    trail = Trail(("".join(Cube().faces),)).beginning_run().calling(parse("R U F"))
    few, many = (Suspicion.of(_told(trail, cube, times)).with_pairs() for times in (1, 300))
    best = {tuple(s.slips_of(int(h)) for h in np.argsort(-s.weight)[:1]) for s in (few, many)}
    assert len(best) == 1


def _told(trail: Trail, cube: Cube, times: int) -> Trail:
    for _ in range(times):
        trail = trail.hearing(read(cube, wrong=False))
    return trail
