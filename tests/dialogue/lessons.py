"""Holding a lesson in memory: the core, the understander and a simulated learner, no sound and no process."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from coach.belief.reading.stickers import KnownStickers
from coach.belief.whereabouts import home, whereabouts
from coach.cube import PLACE_NUMBER, Cube, Turn
from coach.dialogue import Act, Ask, CallTurn, End, Listen, Say, Silence, Tell
from coach.dialogue.lesson import Lesson, Settings
from coach.dialogue.solving.led import LedRun
from coach.language.meaning import Question
from coach.learning.learned import Learned
from coach.method import TURNS_ABOUT_UP, PlannedStep, Step, default_method
from coach.method.method import AnyStep
from coach.simulation import Learner
from coach.simulation.learner import COLOURS
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
    learned: Learned | None = None,
) -> Held:
    """Hold a lesson to its end. Where the learner is `truthful` the coach's knowledge is checked against the real cube
    after every act. Who has `learned` something does on their own what they are asked to."""
    lesson = Lesson(default_method(), load().sentences, step, settings, LANGUAGE.offers, learned=learned)
    learner = Alone(cube, Random(seed), lesson) if learned else Learner(cube, Random(seed))
    held = Held(lesson, learner)
    acts = lesson.start()
    for number in range(most):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        held.acts += acts
        if isinstance(acts[-1], End):
            return held
        listen = acts[-1]
        assert isinstance(listen, Listen)
        if truthful and listen.scene.about != "right":  # what they did on their own counts once they have said so
            knows_truly(lesson, learner)
        text = answer(learner, listen, number) if answer else None
        if text is None:
            text = learner.answer(listen.asked)
        meaning = LANGUAGE.understand(text, listen.asked, listen.scene)
        acts = lesson.handle(utter(text, meaning, at=listen) if text else Silence(listen.seconds))
    raise AssertionError(f"the lesson did not end within {most} answers")


class Alone(Learner):
    """Does sequences on their own when asked to, in any of the right holds that the coach has left open."""

    def __init__(self, cube: Cube, random: Random, lesson: Lesson) -> None:
        super().__init__(cube, random)
        self.lesson, self.told = lesson, ""
        self.begun = False
        self.alone = 0
        """How many times they have done something on their own."""

    def hear(self, say: Say) -> None:
        super().hear(say)
        if isinstance(say, Tell):
            self.told = say.text

    def rest(self) -> tuple[Turn, ...]:
        """What is left to do, by the method and by what the coach has said of the hold last."""
        run = self.lesson._now.run if self.lesson._now else None
        if run is None:
            return self.whole_step()
        assert isinstance(run, LedRun)
        step = default_method().step(run.step)
        if not isinstance(step, Step) or run.done or len(run.turns) == len(run.sequence.turns):
            return run.turns[run.done :]
        case = next(case for case in step.cases if case.id == run.case)
        holds = case.holds(self.cube.faces)
        front = [turns for turns in holds if COLOURS[_front(self.cube.do(turns))] in self.told]
        return (*self.random.choice(front if "facing" in self.told else holds), *run.sequence.turns)

    def whole_step(self) -> tuple[Turn, ...]:
        """All of a step, by the method, ending in the hold in which it began."""
        assert self._asked
        step, cube, turns = default_method().step(self._asked.step), self.cube, list[Turn]()
        while True:
            move = _next_move(step, cube)
            if not move:
                return (*turns, *next(way for way in TURNS_ABOUT_UP if _front(cube.do(way)) == _front(self.cube)))
            turns += move
            cube = cube.do(move)

    def answer(self, asked: Question = "other") -> str:
        if self._asked and self._asked.about == "begun":
            return "yes" if self.begun else "no"
        if asked != "do":
            return super().answer(asked)
        self.go_on()
        return "done"

    def go_on(self, turns: int | None = None) -> None:
        """Do the rest, or so many turns of it."""
        rest = self.rest()[:turns]
        self.begun, self.told = bool(rest), ""
        self.alone += bool(rest)
        self.cube = self.cube.do(rest)


def _front(cube: Cube) -> str:
    return cube.faces[PLACE_NUMBER["F4"]]


def _next_move(step: AnyStep, cube: Cube) -> tuple[Turn, ...]:
    """What a person does next in a step; nothing once it is done."""
    pattern = cube.faces
    if isinstance(step, Step):
        case = step.case_of(pattern)
        if case.sequence:
            return (*case.holds(pattern)[0], *case.sequence)
        return next(way for way in ((), *((Turn("U", n),) for n in (1, 2, 3))) if not step.align or cube.do(way).solved)
    reading = KnownStickers(pattern)
    for piece in step.pieces:
        placement, goal = whereabouts(reading, piece), home(reading, piece)
        if placement and placement != goal:
            return (step.rule if isinstance(step, PlannedStep) else step).move(placement, goal).turns
    return ()


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
