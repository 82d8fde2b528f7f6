"""Whoever only says that they are there has answered nothing: the question is asked again."""

from __future__ import annotations

from random import Random

import pytest

from coach.dialogue import Act, Ask, Heard, Listen, Silence, Tell
from coach.dialogue.lesson import Lesson
from coach.method import default_method
from coach.simulation import Learner, random_cube
from tests.loaded import load

LANGUAGE = load()
STILL_THERE = LANGUAGE.sentences.forms("ask.still-there")[0]


def say(lesson: Lesson, acts: list[Act], text: str) -> list[Act]:
    """The acts after `text`; silence where it is empty."""
    listen = acts[-1]
    assert isinstance(listen, Listen)
    if not text:
        return lesson.handle(Silence(listen.seconds))
    return lesson.handle(Heard.read(text, LANGUAGE.read(text, listen.asked, listen.scene), listen.asked))


def at_the_check() -> tuple[Lesson, list[Act]]:
    """A lesson that has just asked whether the bottom layer is done."""
    learner = Learner(random_cube("bottom-corners", Random(3)), Random(3))
    lesson = Lesson(default_method(), LANGUAGE.sentences, "bottom-corners", None, LANGUAGE.offers)
    acts = lesson.start()
    while not any("bottom is white" in act.text for act in acts if isinstance(act, Ask)):
        for act in acts:
            if not isinstance(act, Listen):
                learner.hear(act)  # type: ignore[arg-type]
        listen = acts[-1]
        assert isinstance(listen, Listen)
        acts = say(lesson, acts, learner.answer(listen.asked))
    return lesson, acts


def called_for() -> tuple[Lesson, list[Act]]:
    """The same once the coach has asked whether the learner is still there."""
    lesson, acts = at_the_check()
    while STILL_THERE not in [act.text for act in acts if isinstance(act, Tell)]:
        acts = say(lesson, acts, "")
    return lesson, acts


@pytest.mark.parametrize("text", ["yes", "yeah I'm here", "I'm here", "still here", "hello?", "yes, I am still here"])
def test_whoever_is_there_is_asked_again_and_then_a_yes_is_the_answer(text: str) -> None:
    lesson, acts = called_for()
    acts = say(lesson, acts, text)
    assert lesson.step == "bottom-corners"
    assert any(isinstance(act, Ask) and act.query.claim for act in acts)
    say(lesson, acts, "yes")
    assert lesson.step == "middle-edges"


@pytest.mark.parametrize("text", ["I'm here", "hello", "yes I'm here"])
def test_a_question_is_asked_again_at_once_without_blame(text: str) -> None:
    lesson, acts = at_the_check()
    again = say(lesson, acts, text)
    assert [act.text for act in again if isinstance(act, Ask | Tell)] == [acts[-2].text]  # type: ignore[union-attr]
    assert lesson.step == "bottom-corners"


def test_whoever_says_nothing_else_for_ever_does_not_hold_the_lesson_for_ever() -> None:
    lesson, acts = at_the_check()
    for _ in range(40):
        if lesson.ended:
            break
        acts = say(lesson, acts, "hello?")
    assert lesson.ended


@pytest.mark.parametrize("text", ["are you still there?", "hello, are you there?", "can you hear me"])
def test_whoever_asks_whether_the_coach_is_there_is_answered_and_asked_again(text: str) -> None:
    lesson, acts = at_the_check()
    again = say(lesson, acts, text)
    here = LANGUAGE.sentences.say("reply.here")
    assert [act.text for act in again if isinstance(act, Ask | Tell)] == [here, acts[-2].text]  # type: ignore[union-attr]


def test_whoever_says_that_they_are_there_has_the_whole_time_again() -> None:
    lesson = Lesson(default_method(), LANGUAGE.sentences, "top-cross", None, LANGUAGE.offers)
    acts = lesson.start()
    for text in ("", "", "", "I'm here", "are you still there?", "", "wait", "", "", "I'm here", "", "", ""):
        acts = say(lesson, acts, text)
    assert not lesson.ended


def called_and_waiting() -> tuple[Lesson, list[Act]]:
    """A lesson that waits in the middle of a sequence."""
    learner = Learner(random_cube("top-cross", Random(3)), Random(3))
    lesson = Lesson(default_method(), LANGUAGE.sentences, "top-cross", None, LANGUAGE.offers)
    acts = lesson.start()
    while (listen := acts[-1]) and not (isinstance(listen, Listen) and listen.asked == "turn"):
        for act in acts:
            if not isinstance(act, Listen):
                learner.hear(act)  # type: ignore[arg-type]
        acts = say(lesson, acts, learner.answer(listen.asked))  # type: ignore[union-attr]
    return lesson, say(lesson, acts, "wait a moment")


def test_a_waiting_coach_says_that_it_is_there_and_waits_on() -> None:
    lesson, acts = called_and_waiting()
    acts = say(lesson, acts, "are you still there?")
    assert [act.text for act in acts if isinstance(act, Tell)] == [LANGUAGE.sentences.say("reply.here", 1)]
    turns = lesson.talk.turns
    acts = say(lesson, acts, "I'm here")
    assert any(isinstance(act, Tell) for act in acts)
    say(lesson, acts, "I'm here")
    assert lesson.talk.turns == turns


def test_an_answer_is_an_answer_also_after_that() -> None:
    lesson, acts = called_for()
    say(lesson, acts, "yes it is, all of it")
    assert lesson.step == "middle-edges"


@pytest.mark.parametrize("text", ["back", "left and back", "still a dot", "they are all here on top"])
def test_what_tells_something_is_no_mere_presence(text: str) -> None:
    assert "only-here" not in LANGUAGE.aside(text, "look-top-edges").marks


@pytest.mark.parametrize("text", ["ok back", "I'm ready", "right, I'm back", "okay, ready now"])
@pytest.mark.parametrize("step", ["top-cross", "top-face", "bottom-corners"])
def test_who_asked_to_wait_goes_on_by_being_ready_or_back_whatever_was_asked(step: str, text: str) -> None:
    lesson = Lesson(default_method(), LANGUAGE.sentences, step, None, LANGUAGE.offers)
    acts = lesson.start()
    question = next(act.text for act in acts if isinstance(act, Ask))
    acts = say(lesson, acts, "wait a moment")
    assert any(isinstance(act, Tell) and act.text == LANGUAGE.sentences.say("reply.waiting") for act in acts)
    acts = say(lesson, acts, text)
    assert any(getattr(act, "text", "") == question for act in acts)
