"""Whoever asks why is told the reason for what they are doing now."""

from __future__ import annotations

from random import Random

from coach.dialogue.solving.led import LedRun
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.lesson.test_said_while_turning import say


def test_why_a_row_is_read() -> None:
    lesson, hands = new_lesson(), Hands(random_cube("top-cross", Random(1)))
    hands.take(lesson.start())
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    hands.take(lesson.handle(command("mistake")))
    while hands.listen.asked not in ("row", "face"):
        hands.take(lesson.handle(command("no")))
    assert say(lesson, hands, "why do you need so many")[0].startswith("Each row tells me")


def test_why_the_top_is_turned_first() -> None:
    lesson, hands = new_lesson("bottom-corners"), Hands(random_cube("bottom-corners", Random(2)))
    hands.take(lesson.start())
    while True:
        run = lesson._now.run if lesson._now else None
        if hands.listen.asked == "turn" and run and not isinstance(run, LedRun) and len(hands.calls) > 12:
            break
        hands.take(lesson.handle(hands.answer()))
    assert say(lesson, hands, "why am I doing this")[0].startswith("First we turn the top until")
