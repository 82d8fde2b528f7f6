"""A check that was denied by mistake can be taken back: the search ends, and the check is made once more."""

from __future__ import annotations

import pytest

from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter


def test_a_search_that_began_by_mistake_ends_on_a_word() -> None:
    lesson, hands = new_lesson(), Hands(build(flips=(1, 0, 1, 0)))
    hands.take(lesson.start())
    while hands.listen.asked != "claim":
        hands.take(lesson.handle(hands.answer()))
    check = hands.question.text
    hands.take(lesson.handle(command("no")))
    assert hands.listen.asked in ("row", "face")
    hands.take(lesson.handle(command("correct")))
    assert hands.question.text == check
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.end.slips == 0
    assert hands.cube.solved


def in_a_search() -> tuple[Lesson, Hands]:
    """Something has been turned wrongly, and a row is asked for."""
    lesson, hands = new_lesson(), Hands(build(flips=(1, 0, 1, 0)))
    hands.take(lesson.start())
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    hands.cube = hands.cube.do("R2 D L'")
    while hands.listen.asked not in ("row", "face"):
        hands.take(lesson.handle(hands.answer()))
    return lesson, hands


def test_answers_of_a_search_are_taken_back_one_after_another_and_the_search_goes_on() -> None:
    lesson, hands = in_a_search()
    first = hands.question.text
    hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked in ("row", "face") and hands.question.text != first
    for _ in range(2):
        hands.take(lesson.handle(command("correct")))
        assert "nothing went wrong" not in hands.texts[-1]
        assert hands.listen.asked in ("row", "face"), "the search goes on"
        hands.take(lesson.handle(hands.answer()))
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.cube.solved


@pytest.mark.parametrize(
    "said", ["start the reading over", "can I read it again from the start", "let me begin that reading afresh"]
)
def test_a_reading_begun_again_in_a_search_is_not_that_of_the_whole_cube(said: str) -> None:
    lesson, hands = in_a_search()
    asked = hands.question.text
    hands.take(lesson.handle(utter(said, Meaning(command="read"))))
    assert hands.question.text == asked
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.cube.solved
