"""Lessons for learners who know something by heart: at each level of help the coach knows the cube all along."""

from __future__ import annotations

from datetime import date
from random import Random

import pytest

from coach.dialogue import Ask, Practised
from coach.learning.exercise import MOST_HELP
from coach.learning.learned import Learned
from coach.method import default_method
from coach.method.method import cases_of
from coach.simulation import random_cube
from tests.dialogue.lessons import Held, hold

METHOD = default_method()
STEPS = [step.id for step in METHOD.steps]


def at_level(help: int) -> Learned:
    """A learner who is at that level with everything."""
    learned = Learned(METHOD.name, today=date(2026, 11, 29), fades=True)
    for step in METHOD.steps:
        for case in cases_of(step):
            for level in range(MOST_HELP, help, -1):
                learned.add("do", step.id, case.id, level, "unaided")
    return learned


def exercises(held: Held) -> list[Practised]:
    return [act for act in held.acts if isinstance(act, Practised)]


@pytest.mark.parametrize("help", range(MOST_HELP + 1))
@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("seed", range(4))
def test_at_every_level_the_cube_is_solved_and_nothing_fails(step: str, help: int, seed: int) -> None:
    held = hold(random_cube(step, Random(seed)), step, seed, learned=at_level(help))
    assert held.end.outcome == "done" and held.learner.cube.solved
    done = exercises(held)
    assert {each.result for each in done} <= {"unaided"}
    sequences = [act for act in held.acts if isinstance(act, Ask) and act.query.asks == "do"]
    assert sequences or help > 2 or not done
