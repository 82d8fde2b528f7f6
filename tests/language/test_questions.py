"""The table of questions: complete, and what the ears and the conversation rely on in it."""

from __future__ import annotations

from typing import get_args

from coach.language import QUESTIONS, Question
from coach.language.questions import STEP_SUBJECTS, is_open


def test_every_question_stands_in_the_table_once() -> None:
    assert list(QUESTIONS) == list(get_args(Question))


def test_an_answer_in_one_s_own_words_is_given_at_least_as_much_time_as_a_word() -> None:
    # doing a sequence takes time however short its answer
    words = {asked: manner for asked, manner in QUESTIONS.items() if not manner.open and asked != "do"}
    longest = max(manner.seconds for manner in words.values())
    assert all(manner.seconds >= longest for manner in QUESTIONS.values() if manner.open)


def test_nothing_is_described_while_the_hands_are_busy() -> None:
    assert all(manner.between for manner in QUESTIONS.values() if manner.busy)
    assert not any(manner.open for manner in QUESTIONS.values() if manner.between)


def test_a_step_is_described_where_it_is_asked_for() -> None:
    assert all(is_open("other", about) for about in STEP_SUBJECTS)
    assert not is_open("other", "stop") and not is_open("claim", "step")
