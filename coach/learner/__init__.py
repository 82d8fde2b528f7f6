"""A simulated learner, for tests and for the demo."""

from coach.learner.cubes import random_cube, scrambled
from coach.learner.learner import COLOURS, Learner

__all__ = ["COLOURS", "Learner", "random_cube", "scrambled"]
