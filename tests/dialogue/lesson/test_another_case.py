"""A sequence of a known case leads to one result: if another one is seen, the lower layers tell whether the case was
another one or a turn went wrong."""

from __future__ import annotations

from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson, solved
from tests.dialogue.hearing import utter

LOWER = "Are the two lower layers finished now?"


def told_wrongly() -> tuple[Lesson, Hands]:
    """The learner has a dot, but has told a line, and denies what its sequence should have led to, until they are asked
    about the lower layers or anything else is called."""
    lesson, hands = new_lesson(), Hands(build(flips=(1, 1, 1, 1)))
    hands.take(lesson.start())
    hands.take(lesson.handle(utter("shape", Meaning(shape="line"), at=hands.listen)))
    while not hands.calls:
        hands.take(lesson.handle(command("yes")))
    while LOWER not in hands.texts and len(hands.calls) < 7:
        hands.take(lesson.handle(hands.answer()))
    return lesson, hands


def test_the_lower_layers_are_asked_about_before_another_case_is_believed() -> None:
    lesson, hands = told_wrongly()
    assert hands.texts[-1] == LOWER
    assert solved(lesson, hands, truthful=False) and lesson.talk.slips == 0


def test_if_those_are_broken_a_turn_went_wrong() -> None:
    lesson, hands = told_wrongly()
    hands.take(lesson.handle(command("no")))
    assert lesson.talk.searching or lesson.talk.slips
