"""Stopping, pain and other wishes in mid-run: nothing is left half done, and who comes back is not blamed."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube, parse
from coach.dialogue import End, Listen
from coach.dialogue.lesson import Lesson
from coach.language import Change, Meaning
from coach.language.meaning import Command
from coach.method.last_layer import build
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter

LINE = build(flips=(1, 0, 1, 0))
STEPS = ("bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges")


def up_to_turn(lesson: Lesson, hands: Hands, number: int) -> bool:
    """Hold the lesson until so many turns have been called; False where it ends before."""
    hands.take(lesson.start())
    for _ in range(400):
        if hands.end:
            return False
        if len(hands.turns) == number and hands.listen.asked == "turn":
            return True
        hands.take(lesson.handle(hands.answer()))
    raise AssertionError("no end")


def silent_to_the_end(lesson: Lesson, hands: Hands, most: int = 60) -> End:
    """Say nothing more than is asked; the end."""
    for _ in range(most):
        if hands.end:
            return hands.end
        hands.take(lesson.handle(hands.answer()))
    raise AssertionError(f"no end: {hands.texts[-6:]}")


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("number", [1, 2, 4, 6])
def test_whoever_stops_in_mid_run_has_the_layers_closed_first(step: str, number: int) -> None:
    cube = random_cube(step, Random(number))
    lesson, hands = new_lesson(step), Hands(cube)
    if not up_to_turn(lesson, hands, number):
        pytest.skip("the lesson has no such turn")
    hands.take(lesson.handle(command("stop")))
    end = silent_to_the_end(lesson, hands)
    assert end.outcome == "stopped"
    # From where it says one can go on: the next lesson finds nothing to put right.
    again = new_lesson(end.step)
    later = Hands(hands.cube.upright)
    later.take(again.start())
    for _ in range(500):
        if later.end:
            break
        later.take(again.handle(later.answer()))
    assert later.end and later.end.outcome == "done"
    assert later.end.slips == 0


def test_stop_said_twice_ends_at_once_and_the_cube_is_read_next_time() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 3)
    hands.take(lesson.handle(command("stop")))
    hands.take(lesson.handle(command("stop")))
    assert hands.end and hands.end.outcome == "stopped"
    assert "I'll read you the cube" in hands.texts[-1]
    assert lesson.choices.last_time and lesson.choices.last_time.unread


def test_whoever_has_gone_is_called_nothing_more() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 3)
    turns = len(hands.turns)
    hands.take(lesson.stop())
    assert hands.end and len(hands.turns) == turns
    assert lesson.choices.last_time and lesson.choices.last_time.unread


def test_pain_pauses_the_turns_and_a_stop_after_it_asks_for_none() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 3)
    hands.take(lesson.handle(command("pain")))
    assert hands.listen.asked == "continue" and len(hands.turns) == 3
    hands.take(lesson.handle(command("stop")))
    assert hands.end and len(hands.turns) == 3


def test_after_pain_it_goes_on_with_the_next_turn() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 3)
    hands.take(lesson.handle(command("pain")))
    hands.take(lesson.handle(command("resume")))
    hands.take(lesson.handle(hands.answer()))
    assert len(hands.turns) == 4


def test_another_step_is_gone_to_once_the_run_is_taken_back() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 2)
    hands.take(lesson.handle(utter("the middle edges", Meaning(change=Change(step="middle-edges")))))
    while hands.listen.asked in ("turn", "other"):
        hands.take(lesson.handle(hands.answer()))
    assert hands.cube.upright == LINE
    assert lesson.step == "middle-edges"
    assert isinstance(hands.acts[-1], Listen)


def test_whoever_tells_of_a_slip_while_leaving_reads_the_cube_next_time() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 3)
    hands.take(lesson.handle(command("stop")))
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    hands.take(lesson.handle(command("mistake")))
    assert silent_to_the_end(lesson, hands).outcome == "stopped"
    assert lesson.choices.last_time and lesson.choices.last_time.unread


@pytest.mark.parametrize("complaint", ["mistake", "lost", "layers-broken"])
def test_a_complaint_stops_the_taking_back_of_turns(complaint: Command) -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 4)
    hands.take(lesson.handle(command("restart-run")))
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(command("yes")))
    called = len(hands.turns)
    hands.take(lesson.handle(command(complaint)))
    assert lesson.talk.phrases.say("slip.search") in hands.texts
    assert len(hands.turns) == called
    assert silent_to_the_end(lesson, hands, most=400).outcome == "done"
    assert hands.cube.solved


def test_the_cube_may_be_read_while_turns_are_taken_back() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 4)
    hands.take(lesson.handle(command("restart-run")))
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(command("yes")))
    hands.take(lesson.handle(command("read")))
    assert lesson.talk.phrases.say("read.begin") in hands.texts


def test_a_turn_not_done_has_its_time_again_where_nothing_went_wrong_after_all() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 2)
    hands.take(lesson.handle(command("mistake")))
    hands.take(lesson.handle(utter("never mind", None, at=hands.listen)))
    assert hands.texts[-1].startswith("If you haven't done it yet") and hands.listen.asked == "turn"


def test_an_answer_is_put_right_in_a_sentence_where_turns_are_called() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 1)
    text = "oh, I have to correct my last answer, it runs the other way"
    hands.take(lesson.handle(utter(text, Meaning(command="next"), at=hands.listen)))
    assert hands.question.query.about == "done"
    hands.take(lesson.handle(command("yes")))
    hands.take(lesson.handle(command("next")))
    assert lesson.talk.phrases.say("reply.correct") in hands.texts


def test_a_no_said_with_something_else_means_that_the_last_turn_is_not_done() -> None:
    lesson, hands = new_lesson(), Hands(LINE)
    assert up_to_turn(lesson, hands, 2)
    hands.take(lesson.handle(command("restart-run")))
    assert hands.question.query.about == "done"
    hands.take(lesson.handle(utter("nope, I was listening to you", None, at=hands.listen)))
    assert lesson.talk.phrases.say("turn.undo", turns="one turn") in hands.texts


@pytest.mark.parametrize("turn", ["y", "y'", "y2", "x"])
def test_the_hold_that_is_remembered_is_the_one_chosen_however_the_cube_was_turned(turn: str) -> None:
    lesson, hands = new_lesson("top-cross"), Hands(Cube())
    hands.take(lesson.start())
    lesson.knowledge.move(parse(turn))
    lesson.stop()
    assert (lesson.choices.up, lesson.choices.front) == ("yellow", "green")
