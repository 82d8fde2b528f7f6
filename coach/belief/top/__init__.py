"""What the coach knows about the learner's cube, and what it should ask."""

from coach.belief.top.asking import Settled, best_claim, prediction, settle, shape
from coach.belief.top.belief import TOP_CORNERS, TOP_EDGES, Belief, any_top
from coach.cube import Claim

__all__ = [
    "TOP_CORNERS", "TOP_EDGES", "Belief", "Claim", "Settled",
    "any_top", "best_claim", "prediction", "settle", "shape",
]  # fmt: skip
