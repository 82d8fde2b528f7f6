"""Wishes for something to stop: only those that are about the lesson end it, and only plain ones change the pace."""

from __future__ import annotations

import pytest

from coach.language import Meaning
from coach.language.meaning import Question
from tests.loaded import load

LANGUAGE = load()
MOMENTS: tuple[Question, ...] = ("turn", "claim", "look-top-edges", "row", "piece")


@pytest.mark.parametrize("asked", MOMENTS)
@pytest.mark.parametrize(
    "text",
    ["please stop calling turns", "stop calling", "stop for a second", "can you stop telling me turns", "stop talking",
     "stop a minute", "quit calling the moves", "stop with the turns", "stop until I say so", "no more turns please"],
)  # fmt: skip
def test_whoever_wants_no_turns_for_now_is_waited_for(text: str, asked: Question) -> None:
    assert LANGUAGE.understand(text, asked) == Meaning(command="wait")


@pytest.mark.parametrize("asked", MOMENTS)
@pytest.mark.parametrize(
    "text",
    ["stop asking me that", "stop saying the colour", "stop explaining", "stop shouting", "stop saying good",
     "stop bugging me with questions", "stop repeating yourself", "would you stop interrupting me"],
)  # fmt: skip
def test_other_wishes_of_this_kind_change_nothing(text: str, asked: Question) -> None:
    reading = LANGUAGE.read(text, asked)
    assert reading.meaning is None
    assert not reading.asks or reading.best is None


@pytest.mark.parametrize("text", ["stop rushing me", "stop going so fast", "can you stop hurrying me"])
def test_a_plain_wish_for_another_pace_is_one(text: str) -> None:
    assert LANGUAGE.understand(text, "turn") == Meaning(command="slower")


@pytest.mark.parametrize("asked", MOMENTS)
@pytest.mark.parametrize("text", ["stop", "please stop now", "just stop", "stop the lesson"])
def test_the_lesson_can_be_stopped(text: str, asked: Question) -> None:
    assert LANGUAGE.understand(text, asked) == Meaning(command="stop")
