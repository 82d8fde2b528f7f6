"""What people say beside the lesson: to others while it waits, a no to stopping, second thoughts in a search."""

from __future__ import annotations

import pytest

from coach.dialogue.lesson import Lesson
from coach.language.meaning import Command, Meaning
from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter

LINE = build(flips=(1, 0, 1, 0))
TO_OTHERS = utter("no, the boiler is the old one", None)


def at_first_question() -> tuple[Lesson, Hands]:
    lesson, hands = new_lesson(), Hands(LINE)
    hands.take(lesson.start())
    return lesson, hands


def at_search() -> tuple[Lesson, Hands, str]:
    """A check was denied by mistake; and the text of that check."""
    lesson, hands = at_first_question()
    while hands.listen.asked != "claim":
        hands.take(lesson.handle(hands.answer()))
    check = hands.question.text
    hands.take(lesson.handle(command("no")))
    return lesson, hands, check


def in_a_pause() -> tuple[Lesson, Hands]:
    """A turn has been called."""
    lesson, hands = at_first_question()
    while hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    return lesson, hands


def ends_well(lesson: Lesson, hands: Hands) -> bool:
    for _ in range(400):
        if hands.end:
            return hands.end.outcome == "done" and hands.cube.solved
        hands.take(lesson.handle(hands.answer()))
    return False


def test_who_has_asked_to_wait_may_talk_to_others_for_long() -> None:
    lesson, hands = at_first_question()
    asked = hands.question.text
    hands.take(lesson.handle(command("wait")))
    for _ in range(20):
        hands.take(lesson.handle(TO_OTHERS))
    assert not hands.end
    hands.take(lesson.handle(command("resume")))
    assert hands.texts[-1] == asked
    assert ends_well(lesson, hands)


def test_a_no_with_many_words_to_whether_to_stop_does_not_stop() -> None:
    """The reader takes "I want to carry on" for a yes, which it is to most questions."""
    lesson, hands = at_first_question()
    hands.take(lesson.handle(utter("shall we stop here or what", Meaning(command="stop"))))
    assert hands.question.query.about == "stop"
    hands.take(lesson.handle(utter("no no no, I want to carry on", Meaning(command="yes"))))
    assert not hands.end
    assert ends_well(lesson, hands)


def test_a_yes_to_whether_to_stop_stops_also_where_it_says_why() -> None:
    lesson, hands = at_first_question()
    hands.take(lesson.handle(utter("shall we stop here or what", Meaning(command="stop"))))
    hands.take(lesson.handle(utter("yes, I don't want to go on", Meaning(command="yes"))))
    assert hands.end and hands.end.outcome == "stopped"


def test_never_mind_ends_a_search_whatever_the_reader_makes_of_it() -> None:
    lesson, hands, check = at_search()
    hands.take(lesson.handle(utter("oh, never mind, it's all right", None)))
    assert hands.question.text == check
    assert ends_well(lesson, hands)


def test_a_reading_that_is_taken_back_in_a_search_is_asked_for_again() -> None:
    lesson, hands, _ = at_search()
    first = hands.question.text
    hands.take(lesson.handle(hands.answer()))
    if hands.question.text != first and hands.listen.asked in ("row", "face", "claim"):
        hands.take(lesson.handle(utter("that one was the left side", Meaning(command="correct"))))
        assert hands.question.text == first
    assert ends_well(lesson, hands)


def test_much_that_is_not_for_the_coach_has_no_turn_called_that_is_not_done() -> None:
    lesson, hands = in_a_pause()
    calls = len(hands.turns)
    while hands.question.query.about != "done":
        hands.take(lesson.handle(TO_OTHERS))
        assert len(hands.turns) == calls
    hands.take(lesson.handle(command("no")))
    assert len(hands.turns) == calls and hands.texts[-1].startswith("If you haven't done it yet")
    assert ends_well(lesson, hands)


def test_where_we_are_counts_the_turns_of_the_run() -> None:
    lesson, hands = in_a_pause()
    hands.take(lesson.handle(command("where")))
    assert "number 1 of 6" in hands.texts[-1]


def test_who_wants_to_finish_something_first_is_not_asked_whether_to_stop() -> None:
    lesson, hands = in_a_pause()
    questions = hands.question
    hands.take(lesson.handle(utter("hang on, let me finish this one", Meaning(command="stop"))))
    assert hands.question is questions and not hands.end
    hands.take(lesson.handle(utter("let me finish this one and then stop", Meaning(command="stop"))))
    assert hands.question.query.about == "stop"
    hands.take(lesson.handle(command("no")))
    assert ends_well(lesson, hands)


def test_what_is_to_be_repeated_after_the_question_whether_a_turn_is_done_is_the_call_too() -> None:
    lesson, hands = in_a_pause()
    call = hands.texts[-1]
    while hands.question.query.about != "done":
        hands.take(lesson.handle(TO_OTHERS))
    hands.take(lesson.handle(TO_OTHERS))
    asked = hands.question.text
    hands.take(lesson.handle(command("repeat")))
    assert hands.texts[-2:] == [f"I said: {call}", f"I said: {asked}"]
    assert ends_well(lesson, hands)


@pytest.mark.parametrize("wish", ["faster", "where"])
def test_a_yes_with_a_wish_is_a_yes(wish: Command) -> None:
    lesson, hands = at_first_question()
    while hands.listen.asked != "claim" or not hands.claim_holds():
        hands.take(lesson.handle(hands.answer()))
    claim = hands.question
    hands.take(lesson.handle(utter("yes. and something else", Meaning(command=wish), at=hands.listen)))
    assert hands.question is not claim or hands.listen.asked != "claim"
    assert ends_well(lesson, hands)
