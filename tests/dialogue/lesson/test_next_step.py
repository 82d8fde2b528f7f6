"""What is said after a step is the step that is really next."""

from __future__ import annotations

from random import Random

from coach.belief.reading.stickers import KnownStickers
from coach.belief.top import Belief
from coach.cube import Cube
from coach.dialogue import Tell
from coach.dialogue.lesson import Lesson
from coach.method import default_method
from coach.simulation import random_cube
from tests.dialogue.lessons import LANGUAGE

METHOD = default_method()


def after(cube: Cube, number: int) -> int:
    """What a lesson that knows the whole cube does after step `number`."""
    lesson = Lesson(METHOD, LANGUAGE.sentences, METHOD.steps[0].id)
    lesson.knowledge.reading, lesson.knowledge.top = KnownStickers(cube.faces), Belief(frozenset({cube.faces}))
    return lesson._after(number)


def test_steps_that_are_known_to_be_done_are_not_announced() -> None:
    for seed in range(4):
        cube = random_cube("top-edges", Random(seed))
        assert after(cube, 4) == len(METHOD.steps) - 1, "the top corners are done"
    assert after(Cube(), 3) == len(METHOD.steps) - 1 and after(Cube(), 6) == len(METHOD.steps)
    assert after(random_cube("top-corners", Random(1)), 4) == 5


def test_a_step_of_which_something_is_unknown_is_announced() -> None:
    lesson = Lesson(METHOD, LANGUAGE.sentences, "top-face")
    assert [act for act in lesson.start() if isinstance(act, Tell)]
    assert lesson._after(4) == 5
