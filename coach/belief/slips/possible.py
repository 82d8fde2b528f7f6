"""What turning can have made: an explanation that leads to an impossible cube is none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from coach.belief.reading.stickers import UNKNOWN, KnownStickers, ways
from coach.belief.slips.suspicion import Suspicion, Verdict
from coach.cube import FACES, find_problems

_MOST: Final = 20
"""Rule out so many explanations at most before the next answer."""


def can_be(pattern: str) -> bool:
    """Whether it has six different middles, and a possible cube looks like that as far as it is known."""
    if sorted(pattern[4::9]) != sorted(FACES):
        return False
    return ways(KnownStickers(pattern)) > 0 if UNKNOWN in pattern else not find_problems(pattern)


def possible(suspicion: Suspicion, hypotheses: Sequence[int]) -> list[str]:
    """What the cube may look like under these hypotheses."""
    return [pattern for h in hypotheses for pattern in suspicion.patterns(h) if can_be(pattern)]


def verdict_of(suspicion: Suspicion, known: Mapping[int, str]) -> tuple[Suspicion, Verdict]:
    """The verdict once those explanations are ruled out, while they are likeliest, that lead to an impossible cube."""
    before = suspicion, suspicion.verdict(known)
    now = before
    for _ in range(_MOST):
        suspicion, verdict = now
        if not verdict.sure or possible(suspicion, verdict.hypotheses[:1]):
            return now
        weight = np.where(np.arange(len(suspicion.weight)) == verdict.hypotheses[0], 0.0, suspicion.weight)
        if not weight.any():
            break
        suspicion = replace(suspicion, weight=weight)
        now = suspicion, suspicion.verdict(known)
    return before
