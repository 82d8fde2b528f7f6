"""A check that was denied by mistake can be taken back: the search ends, and the check is made once more."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from coach.dialogue import Heard
from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()
SLIPS = ("R2 D L'", "F", "R U", "B' D", "L2 F", "D R", "U F' L", "R F D2", "B", "L' U2 B")


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


def in_a_search(slip: str = SLIPS[0]) -> tuple[Lesson, Hands]:
    """Something has been turned wrongly, and a row is asked for."""
    lesson, hands = new_lesson(), Hands(build(flips=(1, 0, 1, 0)))
    hands.take(lesson.start())
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    hands.cube = hands.cube.do(slip)
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


@pytest.mark.parametrize(("at", "form"), [
    (0, "the first one was {colour}"), (2, "the upper row of that side was {row}"),
    (5, "sorry, the sixth one was {colour}"), (8, "the last one should be {colour}"),
])  # fmt: skip
def test_a_side_told_in_a_search_is_put_right(at: int, form: str) -> None:
    lesson, hands, true = told_wrongly(at)
    open_one, row = hands.question, true[at // 3 * 3 : at // 3 * 3 + 3]
    said = form.format(colour=true[at], row=" ".join(row))
    meaning = LANGUAGE.understand(said, hands.listen.asked, hands.listen.scene)
    hands.take(lesson.handle(utter(said, meaning, at=hands.listen)))
    now = [said for said in hands.texts if said.startswith("All right, then the ")]
    assert now and now[-1].endswith(f" is {', '.join(row)}.")
    assert hands.question == open_one
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.cube.solved


def told_wrongly(at: int) -> tuple[Lesson, Hands, tuple[str, ...]]:
    """A side has been told in a search with another colour `at` a place, and something else is asked: what it is."""
    for slip, other in product(SLIPS, range(6)):
        lesson, hands = in_a_search(slip)
        asked, answer = hands.question, hands.answer()
        assert hands.listen.asked == "face" and isinstance(answer, Heard) and answer.meaning
        true, colour = answer.meaning.colours, [*lesson.knowledge.colours.values()][other]
        told = (*true[:at], colour, *true[at + 1 :])
        hands.take(lesson.handle(utter("so", replace(answer.meaning, colours=told))))
        goes_on = lesson.talk.searching and hands.listen.asked in ("row", "face")
        if goes_on and colour != true[at] and hands.question.query != asked.query:
            return lesson, hands, true
    raise AssertionError("no such search")


@pytest.mark.parametrize(("held", "asks"), [(0, False), (30, True)])
def test_the_front_is_asked_for_only_where_the_hold_is_in_doubt(held: int, asks: bool) -> None:
    """However much has gone wrong: only for who has often held the cube otherwise."""
    lesson, hands = new_lesson(), Hands(build(flips=(1, 0, 1, 0)))
    hands.take(lesson.start())
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    hands.cube = hands.cube.do("F")
    lesson.talk.record.in_a_row = 3
    lesson.talk.record.kinds.update(hold=held)
    hands.take(lesson.handle(command("mistake")))
    assert (hands.question.query.about == "front") == asks
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.cube.solved
