"""A check that was denied by mistake can be taken back: the search ends, and the check is made once more."""

from __future__ import annotations

from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson


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
    assert hands.end.outcome == "done" and hands.end.counts["slips"] == 0
    assert hands.cube.solved
