"""An answer that names another piece than the one asked for."""

from __future__ import annotations

from random import Random

import pytest

from coach.dialogue import Heard
from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.simulation import scrambled
from tests.dialogue.hands import Hands, new_lesson, solved

SOMEWHERE = Meaning(place="UF", shows={"white": "U"})


def second_piece() -> tuple[Lesson, Hands, list[str]]:
    """The second edge of the bottom cross is asked for; and the first one."""
    lesson, hands = new_lesson("bottom-cross"), Hands(scrambled(Random(1)))
    hands.take(lesson.start())
    first = hands.question.data["piece"]
    hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked == "piece" and hands.question.data["piece"] != first
    return lesson, hands, first


@pytest.mark.parametrize(
    "text", ["that was the {other} one I was on about", "no, the {first} edge is at the top front"]
)
def test_what_was_said_of_the_last_piece_is_taken_back_where_that_is_meant(text: str) -> None:
    lesson, hands, first = second_piece()
    named = (*first, *hands.question.data["piece"])
    other = next(colour for colour in ("blue", "red", "orange") if colour not in named)
    hands.take(lesson.handle(Heard(text.format(other=other, first=" and ".join(first)), SOMEWHERE)))
    assert "All right, I'll forget that answer." in hands.texts
    assert hands.question.data["piece"] == first
    assert solved(lesson, hands)


def test_what_is_said_of_a_piece_that_was_not_asked_for_is_not_taken_for_the_one_that_was() -> None:
    lesson, hands, first = second_piece()
    asked = hands.question.data["piece"]
    other = next(colour for colour in ("blue", "red", "orange") if colour not in (*first, *asked))
    hands.take(lesson.handle(Heard(f"the white and {other} edge is at the top front", SOMEWHERE)))
    assert hands.question.data["piece"] == asked
    assert solved(lesson, hands)


def test_the_piece_that_was_asked_for_may_be_named() -> None:
    lesson, hands, _ = second_piece()
    answer, colours = hands.answer(), hands.question.data["piece"]
    assert isinstance(answer, Heard)
    hands.take(lesson.handle(Heard(f"no, the {colours[1]} one is there", answer.meaning)))
    assert hands.question.data.get("piece") != colours
    assert solved(lesson, hands)


def test_the_piece_before_the_last_may_be_named() -> None:
    lesson, hands, first = second_piece()
    hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked == "piece"
    hands.take(lesson.handle(Heard(f"no, the {' and '.join(first)} edge is at the top front", SOMEWHERE)))
    assert hands.question.data["piece"] == first
    assert solved(lesson, hands)
