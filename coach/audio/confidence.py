"""From what the decoder says of itself to the chance that it is right."""

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Evidence:
    """Cheap signs of a right or wrong result."""

    score: float  # nats a frame over the words
    frames: int  # of 10 ms that the words take
    words: int


def confidence(evidence: Evidence) -> float:
    """0..1. Placeholder until calibrated."""
    return 1 / (1 + math.exp(-4 * (evidence.score + 2.0)))
