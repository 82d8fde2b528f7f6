"""Holding a lesson in memory: the core, the understander and a simulated learner, no sound and no process."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from coach.cube import Cube
from coach.dialogue import Act, Ask, CallTurn, End, Listen, Say, Silence
from coach.dialogue.lesson import Lesson, Settings
from coach.method import default_method
from coach.simulation import Learner
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()
Answer = Callable[[Learner, Listen, int], str | None]
"""What to say at the n-th Listen instead of the learner's own answer; None leaves it to the learner."""


class Held:
    """A lesson that has been held: all acts, the learner with the cube, and how it ended."""

    def __init__(self, lesson: Lesson, learner: Learner) -> None:
        self.lesson, self.learner = lesson, learner
        self.acts: list[Act] = []

    @property
    def end(self) -> End:
        last = self.acts[-1]
        assert isinstance(last, End)
        return last

    @property
    def said(self) -> list[Say]:
        return [act for act in self.acts if isinstance(act, Say)]

    def asked_before_first_turn(self) -> int:
        first = next((at for at, say in enumerate(self.said) if isinstance(say, CallTurn)), 0)
        return sum(isinstance(say, Ask) for say in self.said[:first])


def hold(
    cube: Cube,
    step: str | None,
    seed: int = 0,
    answer: Answer | None = None,
    settings: Settings | None = None,
    most: int = 1500,
    truthful: bool = True,
) -> Held:
    """Hold a lesson to its end. Where the learner is `truthful` the coach's knowledge is checked against the real cube
    after every act."""
    learner = Learner(cube, Random(seed))
    lesson = Lesson(default_method(), load().sentences, step, settings, LANGUAGE.offers)
    held = Held(lesson, learner)
    acts = lesson.start()
    for number in range(most):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        held.acts += acts
        if isinstance(acts[-1], End):
            return held
        if truthful:
            knows_truly(lesson, learner)
        listen = acts[-1]
        assert isinstance(listen, Listen)
        text = answer(learner, listen, number) if answer else None
        if text is None:
            text = learner.answer(listen.asked)
        meaning = LANGUAGE.understand(text, listen.asked, listen.scene)
        acts = lesson.handle(utter(text, meaning) if text else Silence(listen.seconds))
    raise AssertionError(f"the lesson did not end within {most} answers")


def knows_truly(lesson: Lesson, learner: Learner) -> None:
    """Whatever the coach takes for certain is so on the learner's cube."""
    real = learner.cube.faces
    read = lesson.knowledge.reading.pattern
    assert all(known in (".", face) for known, face in zip(read, real, strict=True))
    top = lesson.knowledge.top.patterns
    if top:
        assert any(_agrees(pattern, real) for pattern in top)


def _agrees(pattern: str, real: str) -> bool:
    return all(known == face or (known == "." and face != "U") for known, face in zip(pattern, real, strict=True))
