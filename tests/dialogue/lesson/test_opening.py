"""The opening: where to begin, going on where the last lesson ended, and the learner's words for the faces."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue import Listen, Silence
from coach.dialogue.lesson import ALL_STEPS, LastTime, Lesson, Settings
from coach.method import default_method
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter
from tests.dialogue.lessons import LANGUAGE
from tests.loaded import load

MARKS = ("fur", "bumps", "rough", "smooth", "ridges", "cloth")


def told(lesson: Lesson, hands: Hands, text: str) -> None:
    """The learner says `text` in answer to what is asked now."""
    listen = hands.listen
    hands.take(lesson.handle(utter(text, LANGUAGE.understand(text, listen.asked, listen.scene), at=listen)))


def begun(settings: Settings | None = None, cube: Cube | None = None) -> tuple[Lesson, Hands]:
    """A lesson that asks where to begin."""
    lesson = Lesson(default_method(), load().sentences, None, settings, LANGUAGE.offers, LANGUAGE.clashes)
    hands = Hands(cube or random_cube("middle-edges", Random(1)))
    hands.take(lesson.start())
    return lesson, hands


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("all scrambled", "bottom-cross"), ("I haven't done anything yet", "bottom-cross"),
        ("the white cross is there", "bottom-corners"), ("two layers are done", "top-cross"),
        ("the top is yellow but the sides aren't", "top-corners"), ("the last step", "top-edges"),
        ("middle edges", "middle-edges"),
    ],
)  # fmt: skip
def test_where_the_learner_is_may_be_told_in_other_words(text: str, step: str) -> None:
    lesson, hands = begun()
    told(lesson, hands, text)
    if step != "bottom-cross":  # what is to be done before it is confirmed
        assert hands.listen.asked == "claim"
        hands.take(lesson.handle(command("yes")))
    assert lesson.step == step


def test_a_step_that_was_misunderstood_is_found_out_by_what_must_be_done_before_it() -> None:
    lesson, hands = begun()
    told(lesson, hands, "the last step")
    hands.take(lesson.handle(command("no")))
    assert "wrong step" in " ".join(hands.texts)
    assert hands.question.query.about == "step"


def test_whoever_denies_what_comes_before_every_step_has_the_cube_read() -> None:
    lesson, hands = begun()
    for _ in range(12):
        told(lesson, hands, "no" if hands.listen.asked == "claim" else "the last step")
        if hands.listen.asked == "row":
            return
    raise AssertionError(hands.texts[-6:])


@pytest.mark.parametrize("text", ["what is a top face?", "what does the middle edges step look like?"])
def test_a_question_about_a_step_is_answered_and_the_step_asked_for_again(text: str) -> None:
    lesson, hands = begun()
    told(lesson, hands, text)
    assert lesson.step is None
    assert hands.texts[-2].startswith("In the ")
    assert hands.question.text == hands.texts[-1]


@pytest.mark.parametrize("step", ALL_STEPS)
def test_the_lesson_goes_on_where_the_last_one_ended(step: str) -> None:
    lesson, hands = begun(Settings(last_time=LastTime(step)), random_cube(step, Random(2)))
    name = step.replace("-", " ")
    assert hands.question.query.about == "return" and name in hands.question.text
    hands.take(lesson.handle(command("yes")))
    for _ in range(500):
        if hands.end:
            break
        hands.take(lesson.handle(hands.answer()))
    assert hands.end and hands.end.outcome == "done" and hands.end.slips == 0


def test_a_cube_that_was_turned_since_is_nobodys_fault() -> None:
    lesson, hands = begun(Settings(last_time=LastTime("top-cross")), random_cube("bottom-cross", Random(3)))
    hands.take(lesson.handle(command("yes")))
    assert hands.listen.asked == "claim" and not hands.claim_holds()
    hands.take(lesson.handle(command("no")))
    assert "has been turned since" in " ".join(hands.texts)
    assert hands.question.query.about == "step"


@pytest.mark.parametrize("last", [LastTime("top-face"), LastTime("top-face", unread=True)])
def test_whoever_is_elsewhere_says_so(last: LastTime) -> None:
    lesson, hands = begun(Settings(last_time=last))
    told(lesson, hands, "the middle edges")
    hands.take(lesson.handle(command("yes")))
    assert lesson.step == "middle-edges"


def test_a_lesson_that_ended_in_the_middle_of_something_goes_on_by_reading() -> None:
    lesson, hands = begun(Settings(last_time=LastTime("top-face", unread=True)))
    hands.take(lesson.handle(command("yes")))
    assert hands.listen.asked == "row"


def test_the_solved_cube_leaves_nothing_to_go_on_with() -> None:
    lesson, hands = new_lesson("top-edges"), Hands(random_cube("top-edges", Random(4)))
    hands.take(lesson.start())
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert lesson.choices.last_time is None


# The six words


def _naming(answers: list[str]) -> tuple[Lesson, Hands]:
    lesson = Lesson(
        default_method(), load().sentences, "top-cross", Settings(ask_colours=True), LANGUAGE.offers, LANGUAGE.clashes
    )
    hands = Hands(Cube())
    hands.take(lesson.start())
    for text in answers:
        told(lesson, hands, text)
    return lesson, hands


def test_the_six_words_are_asked_for_in_the_order_of_the_wca_regulations_and_read_back() -> None:
    """WCA Regulations, Article 12a1: front, back, right, left, upper, bottom."""
    lesson, hands = _naming(list(MARKS))
    asked = [say.query.face for say in hands.asked if say.query.about == "colour"]
    assert asked == list("FBRLUD")
    assert all(word in hands.question.text for word in MARKS)
    hands.take(lesson.handle(command("yes")))
    assert [lesson.talk.colours[face] for face in "FBRLUD"] == list(MARKS)
    assert lesson.talk.touch
    assert "ridges on top" in hands.question.text and "Look" not in hands.question.text


def test_what_is_wrong_is_no_mark_and_asks_for_the_last_word_again() -> None:
    _, hands = _naming(["fur", "bumbs", "that's wrong", *MARKS[1:]])
    assert all(word in hands.question.text for word in MARKS)


def test_words_that_are_easily_mixed_up_are_told() -> None:
    _, hands = _naming(["dots", "bumps", "rough", "smooth", "ridges", "cloth"])
    assert any("dot" in text and "dots" in text for text in hands.texts)


def test_words_that_are_not_right_are_asked_for_again() -> None:
    lesson, hands = _naming([*MARKS, "no"])
    assert hands.question.query.face == "F"
    assert isinstance(hands.acts[-1], Listen) and not lesson.ended


# The wait


@pytest.mark.parametrize("useless", ["um", "", "fiddlesticks"])
def test_an_answer_that_comes_late_is_taken(useless: str) -> None:
    lesson, hands = new_lesson(), Hands(random_cube("top-cross", Random(7)))
    hands.take(lesson.start())
    for _ in range(4):
        hands.take(lesson.handle(utter(useless, None) if useless else Silence(8.0)))
    looks = [say for say in hands.asked if say.query.asks == "look-top-edges"]
    hands.take(lesson.handle(hands.answer()))
    assert [say for say in hands.asked if say.query.asks == "look-top-edges"] == looks


def test_an_answer_given_instead_of_going_on_after_wait_is_taken() -> None:
    lesson, hands = new_lesson(), Hands(random_cube("top-cross", Random(7)))
    hands.take(lesson.start())
    hands.take(lesson.handle(command("wait")))
    assert hands.listen.asked == "look-top-edges"
    hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked != "look-top-edges"


def test_who_goes_by_touch_has_half_a_minute_and_more_when_asked_for() -> None:
    colours = dict(zip("FBRLUD", MARKS, strict=True))
    lesson, hands = new_lesson("bottom-cross", Settings(colours=colours)), Hands(random_cube("bottom-cross", Random(1)))
    hands.take(lesson.start())
    assert hands.listen.seconds >= 30
    before = hands.listen.seconds
    hands.take(lesson.handle(command("more-time")))
    hands.take(lesson.handle(command("unsure")))
    assert hands.listen.seconds > before
