"""A simulated learner, for tests and for the demo."""

from coach.simulation.cubes import random_cube, scrambled
from coach.simulation.learner import COLOURS, Learner

__all__ = ["COLOURS", "Learner", "random_cube", "scrambled"]
