"""Answers that were heard wrongly, and a cube held otherwise than told: nobody is corrected who did all right."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from coach.belief.evidence import Look
from coach.cube import parse
from coach.dialogue import Act, Ask, CallTurn, Event, Listen, Say, SlipFound
from coach.dialogue.lesson import Lesson
from coach.method import PlacingStep, default_method
from coach.simulation import Learner, random_cube
from coach.simulation.holding import answering, hold, misheard
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()
PHRASES = load().sentences


def lesson(step: str | None) -> Lesson:
    return Lesson(default_method(), PHRASES, step, None, LANGUAGE.offers)


def held(step: str, seed: int, heard_as: Callable[[str, Listen], str]) -> tuple[list[Act], Learner]:
    learner = Learner(random_cube(step, Random(seed)), Random(seed))
    return hold(lesson(step), learner, answering(learner, LANGUAGE, heard_as=heard_as)), learner


def once(asked: str, change: Callable[[str, Listen], str]) -> Callable[[str, Listen], str]:
    """The first answer to a question of that kind is heard as another one."""
    left = [asked]

    def heard_as(text: str, listen: Listen) -> str:
        if left and listen.asked == asked:
            left.clear()
            return change(text, listen)
        return text

    return heard_as


def test_what_is_said_of_the_top_is_remembered_once() -> None:
    one = lesson("top-cross")
    one.start()
    text = "a line from left to right"
    one.handle(utter(text, LANGUAGE.understand(text, "look-top-edges")))
    assert sum(isinstance(event, Look) for event in one.knowledge.trail.events) == 1


@pytest.mark.parametrize("step", ["bottom-corners", "middle-edges"])
def test_where_nothing_was_wrong_the_check_is_made_once_more(step: str) -> None:
    acts, learner = held(step, 4, once("claim", lambda text, listen: "no"))
    says = [act for act in acts if isinstance(act, Say)]
    wrong = next(number for number, say in enumerate(says) if say.text in PHRASES.forms("slip.none"))
    check = [say.query for say in says[:wrong] if isinstance(say, Ask) and say.query.asks == "claim"][-1]
    asked = [say.query.claim for say in says if isinstance(say, Ask)]
    assert asked.count(check.claim) == 2
    assert not any(isinstance(act, SlipFound) for act in acts)
    assert learner.cube.solved


@pytest.mark.parametrize("step", ["top-cross"])
def test_where_the_top_may_be_another_one_it_is_asked_about_before_any_turn(step: str) -> None:
    acts, learner = held(step, 4, once("claim", lambda text, listen: "no"))
    says = [act for act in acts if isinstance(act, Say)]
    wrong = next(number for number, say in enumerate(says) if say.text in PHRASES.forms("slip.none"))
    following = next(say for say in says[wrong:] if isinstance(say, Ask | CallTurn))
    assert isinstance(following, Ask)
    assert not any(isinstance(act, SlipFound) for act in acts)
    assert learner.cube.solved


@pytest.mark.parametrize("seed", range(8))
def test_who_was_misheard_about_a_piece_is_not_told_of_a_wrong_turn(seed: int) -> None:
    random = Random(seed)
    acts, learner = held("middle-edges", seed, once("piece", lambda text, listen: misheard(text, listen, random)))
    assert not any(isinstance(act, SlipFound) for act in acts)
    assert learner.cube.solved


@pytest.mark.parametrize("turned", ["y", "y2", "x", "z'"])
def test_a_cube_held_otherwise_than_told_is_read_all_the_same(turned: str) -> None:
    learner = Learner(random_cube("bottom-corners", Random(6)).do(parse(turned)), Random(6))
    answer, unsure = answering(learner, LANGUAGE), "I don't know"

    def answering_the_step(listen: Listen) -> Event:
        return utter(unsure, LANGUAGE.understand(unsure, "other")) if listen.asked == "other" else answer(listen)

    acts = hold(lesson(None), learner, answering_the_step)
    assert learner.cube.solved
    assert not any(isinstance(act, SlipFound) for act in acts)


def test_where_placing_a_piece_leads_nowhere_the_cube_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where colours that were misheard put two pieces in one place: each would take the other out for ever."""
    monkeypatch.setattr(PlacingStep, "moves", lambda step, placement, goal: ())
    course, learner = lesson("bottom-corners"), Learner(random_cube("bottom-corners", Random(1)), Random(1))
    answer, acts = answering(learner, LANGUAGE), course.start()
    for _ in range(10):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        if PHRASES.forms("read.begin")[0] in [act.text for act in acts if isinstance(act, Say)]:
            return
        assert isinstance(acts[-1], Listen)
        acts = course.handle(answer(acts[-1]))
    raise AssertionError("the cube is not read")
