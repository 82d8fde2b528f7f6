"""Lessons in memory, and answers that are heard as others."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from coach.cube import Turn
from coach.dialogue import Act, CallTurn, Event, Heard, Listen, Silence
from coach.dialogue.acts import End
from coach.dialogue.lesson import Lesson
from coach.language import Scene
from coach.method import default_method
from coach.simulation import Learner, random_cube
from coach.simulation.holding import answering, hold, misheard
from coach.simulation.slipping import SlippingLearner
from tests.loaded import load

LANGUAGE = load()


def lesson(step: str) -> Lesson:
    return Lesson(default_method(), load().sentences, step, None, LANGUAGE.offers)


def test_a_lesson_is_held_to_its_end() -> None:
    learner = Learner(random_cube("top-corners", Random(2)), Random(2))
    acts = hold(lesson("top-corners"), learner, answering(learner, LANGUAGE))
    assert isinstance(acts[-1], End)
    assert learner.cube.solved


def test_a_lesson_that_does_not_end_is_an_error() -> None:
    learner = Learner(random_cube("top-corners", Random(2)), Random(2))
    with pytest.raises(RuntimeError, match="did not end within 3 answers"):
        hold(lesson("top-corners"), learner, answering(learner, LANGUAGE), most=3)


@pytest.mark.parametrize("seed", range(3))
def test_a_lesson_needs_meanings_alone(seed: int) -> None:
    """Without the learner's own words, only what they mean and tell beside it, the same is said and done."""

    def held(words: bool) -> list[Act]:
        learner = SlippingLearner(
            random_cube("top-cross", Random(seed)), Random(seed), lambda number, say: "twice" * (number % 9 == 4)
        )
        answer = answering(learner, LANGUAGE, lambda: True, said)
        return hold(lesson("top-cross"), learner, answer if words else lambda listen: wordless(answer(listen)))

    def said(text: str, listen: Listen) -> str:
        if text == "I turned wrongly":
            return "oh no, I did that one twice"
        return "I dropped it" if listen.asked == "ready" else text

    def wordless(event: Event) -> Event:
        if not isinstance(event, Heard):
            return event
        return replace(event, text="", guesses=tuple(replace(guess, text="") for guess in event.guesses))

    assert held(words=True) == held(words=False)


@pytest.mark.parametrize("seen", [True, False])
def test_a_slip_is_told_once_and_only_where_it_is_noticed(seen: bool) -> None:
    learner = SlippingLearner(random_cube("top-cross", Random(3)), Random(3), lambda number, say: "left-out")
    answer = answering(learner, LANGUAGE, notices=lambda: seen)
    learner.hear(CallTurn("Right side up.", Turn("R"), 1, 2))
    told = answer(Listen("turn", 1.0))
    assert isinstance(told, Heard) == seen
    if isinstance(told, Heard):
        assert told.meaning
        assert told.meaning.command == "mistake"
    assert answer(Listen("turn", 1.0)) == Silence(1.0)


@pytest.mark.parametrize(
    ("asked", "text"),
    [("claim", "yes it is"), ("claim", "no"), ("ready", "okay ready"), ("look-top-edges", "a cross"),
     ("look-top-corners", "none"), ("row", "white, red, green"), ("piece", "top layer, front right, white faces up")],
)  # fmt: skip
def test_what_is_misheard_is_understood_as_an_answer_and_mostly_another_one(asked: str, text: str) -> None:
    listen = Listen(asked, 1.0, Scene(piece=("white", "green", "orange")))  # type: ignore[arg-type]
    heard = {misheard(text, listen, Random(seed)) for seed in range(20)}
    assert heard - {text}
    for other in heard:
        assert LANGUAGE.understand(other, listen.asked, listen.scene), other
