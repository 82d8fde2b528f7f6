"""What a learner may say at any moment. After each of them the coach's knowledge still fits the real cube
(tests.dialogue.lessons checks it at every answer) and the lesson still ends solved."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.dialogue import Ask, Bye, CallTurn, Listen, Say
from coach.method.last_layer import build
from coach.simulation import Learner
from tests.dialogue.hearing import utter
from tests.dialogue.lessons import Answer, hold

LINE = build(flips=(0, 1, 0, 1), twists=(1, 2, 0, 0))
HARMLESS = ("say that again", "slower", "faster", "louder", "quieter", "where are we", "help", "what is an edge?",
            "why this?", "hmm, my glasses")  # fmt: skip


def at(number: int, text: str) -> Answer:
    """Say `text` at the n-th turn's pause, once."""
    seen = {"turns": 0, "done": False}

    def answer(learner: Learner, listen: Listen, _: int) -> str | None:
        if listen.asked != "turn":
            return None
        seen["turns"] += 1
        if seen["turns"] == number and not seen["done"]:
            seen["done"] = True
            return text
        return None

    return answer


@pytest.mark.parametrize("text", HARMLESS)
def test_in_a_pause_it_leaves_the_lesson_where_it_is(text: str) -> None:
    plain = hold(LINE, "top-cross", 4)
    held = hold(LINE, "top-cross", 4, at(3, text))
    assert held.learner.cube.solved
    assert held.end.turns == plain.end.turns


@pytest.mark.parametrize("number", range(1, 7))
@pytest.mark.parametrize("text", ["go back one", "start this sequence again"])
def test_turns_are_taken_back_from_anywhere(number: int, text: str) -> None:
    held = hold(LINE, "top-cross", 4, at(number, text))
    assert held.end.outcome == "done"
    assert held.learner.cube.solved
    assert held.end.turns > hold(LINE, "top-cross", 4).end.turns


@pytest.mark.parametrize("number", range(1, 7))
def test_where_nothing_went_wrong_after_all_the_run_goes_on(number: int) -> None:
    held = hold(LINE, "top-cross", 4, at(number, "I lost my place"))
    assert any(say.text.startswith("Let's find out") for say in held.said)
    assert held.learner.cube.solved
    assert held.end.turns == hold(LINE, "top-cross", 4).end.turns


@pytest.mark.parametrize("number", range(1, 7))
def test_what_went_wrong_with_the_last_turn_is_believed_put_right_and_made_sure_of(number: int) -> None:
    """It was done rightly all the same, and is found to have been."""
    held = hold(LINE, "top-cross", 4, at(number, "I turned it the wrong way"), truthful=False)
    told = next(at for at, say in enumerate(held.said) if "went the other way" in say.text)
    asked = next(say for say in held.said[told:] if isinstance(say, Ask))
    assert sum(isinstance(say, CallTurn) for say in held.said[told : told + 5]) <= 3
    assert asked.query.asks == "claim"
    assert held.learner.cube.solved


def test_back_calls_the_opposite_of_the_last_turn() -> None:
    held = hold(LINE, "top-cross", 4, at(2, "go back one"))
    turns = [str(say.turn) for say in held.said if isinstance(say, CallTurn)]
    assert turns[:4] == ["F", "R", "R'", "R"]


def test_waiting_and_going_on() -> None:
    script = iter(["wait please", "okay go on"])

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        return next(script, None) if number >= 3 else None

    assert hold(LINE, "top-cross", 4, answer).learner.cube.solved


def test_on_my_word_every_turn_waits_for_next() -> None:
    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if listen.asked != "turn":
            return None
        return "on my word" if not heard else "next"

    heard: list[str] = []

    def noting(learner: Learner, listen: Listen, number: int) -> str | None:
        text = answer(learner, listen, number)
        if text:
            heard.append(text)
        return text

    assert hold(LINE, "top-cross", 4, noting).learner.cube.solved


def test_the_pause_stays_within_1_and_15_seconds() -> None:
    for text, limit in (("slower", 15.0), ("faster", 1.0)):
        pauses: list[float] = []

        def answer(
            learner: Learner, listen: Listen, number: int, text: str = text, pauses: list[float] = pauses
        ) -> str | None:
            if listen.asked != "turn" or len(pauses) > 12:
                return None
            pauses.append(listen.seconds)
            return text

        hold(LINE, "top-cross", 4, answer)
        assert pauses[-1] == limit
        assert all(1.0 <= pause <= 15.0 for pause in pauses)


def test_a_wrong_answer_can_be_corrected() -> None:
    said = iter(["left and back", "no wait, that was wrong"])

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        return next(said, None)

    held = hold_untrue(answer)
    assert held


def hold_untrue(answer: Answer) -> bool:
    """The knowledge is wrong until the correction, so it is not checked on the way."""
    from random import Random

    from coach.dialogue import End, Silence
    from coach.dialogue.lesson import Lesson
    from coach.language import load
    from coach.method import default_method
    from tests.dialogue.lessons import LANGUAGE

    learner = Learner(LINE, Random(1))
    lesson = Lesson(default_method(), load().sentences, "top-cross", None, LANGUAGE.offers)
    acts = lesson.start()
    for number in range(800):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        if isinstance(acts[-1], End):
            return learner.cube.solved
        listen = acts[-1]
        assert isinstance(listen, Listen)
        text = answer(learner, listen, number)
        if text is None:
            text = learner.answer(listen.asked)
        meaning = LANGUAGE.understand(text, listen.asked, listen.scene)
        acts = lesson.handle(utter(text, meaning, at=listen) if text else Silence(1.0))
    return False


def test_stop_ends_at_once_and_says_how_to_go_on() -> None:
    held = hold(LINE, "top-cross", 4, at(2, "stop"))
    assert held.end.outcome == "stopped"
    assert isinstance(held.said[-1], Bye)
    assert "top cross" in held.said[-1].text


@pytest.mark.parametrize("answer", ["three of them, all but the back one", "just one, at the back"])
def test_a_number_of_edges_that_cannot_be_is_not_believed(answer: str) -> None:
    held = hold(LINE, "top-cross", 4, lambda learner, listen, number: answer if number == 0 else None)
    assert any("There can't be" in say.text for say in held.said)
    assert held.learner.cube.solved


WORDS = ["yes", "no", "a line", "left and back", "two", "all of them", "next", "ready", "wait", "go on", "go back one",
         "start again from the first turn", "i turned it the wrong way", "i am lost", "no that was wrong", "help",
         "what is a corner", "slower", "the lower layers are broken", "red green blue", "top layer front right",
         "i'll read you the cube", "", "", "blah"]  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=40), st.sampled_from(["bottom-cross", "top-cross", "top-face", None]))
def test_whatever_is_said_the_lesson_never_breaks_and_silence_ends_it(said: list[str], step: str | None) -> None:
    from coach.dialogue import End, Silence
    from coach.dialogue.lesson import Lesson
    from coach.language import load
    from coach.method import default_method
    from tests.dialogue.lessons import LANGUAGE

    lesson = Lesson(default_method(), load().sentences, step, None, LANGUAGE.offers)
    acts = lesson.start()
    answers = iter(said)
    for _ in range(len(said) + 150):
        if isinstance(acts[-1], End):
            return
        listen = acts[-1]
        assert isinstance(listen, Listen)
        text = next(answers, "")
        meaning = LANGUAGE.understand(text, listen.asked, listen.scene)
        acts = lesson.handle(utter(text, meaning, at=listen) if text else Silence(1.0))
    raise AssertionError("silence does not end the lesson")
