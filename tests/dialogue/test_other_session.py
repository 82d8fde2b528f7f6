"""Whoever wishes for another kind of session is told how it starts, and is not taken for anything else."""

from __future__ import annotations

from random import Random

import pytest

from coach.dialogue import End
from coach.simulation import random_cube
from tests.dialogue.solving.test_slip_in_the_middle import PHRASES, Talker, in_the_run, slips
from tests.loaded import load

PRACTICE = ["let's practise instead", "I'd rather practise", "can we practise now", "switch to practice by heart"]
LESSON = ["I want a lesson", "can we do a lesson instead", "give me a guided lesson", "a lesson would be better"]


@pytest.mark.parametrize(("texts", "key"), [(PRACTICE, "switch.to-practice"), (LESSON, "switch.to-lesson")])
def test_it_is_told_how_that_starts_and_the_lesson_goes_on(texts: list[str], key: str) -> None:
    for text in texts:
        talker = in_the_run(3)
        talker.say(text)
        assert PHRASES.say(key) in talker.texts
        assert len(talker.turns) == 3 and not slips(talker.acts)
        talker.say("ready")
        assert len(talker.turns) == 4


@pytest.mark.parametrize("text", [*PRACTICE, *LESSON])
def test_at_a_question_the_question_stays(text: str) -> None:
    talker = Talker(random_cube("top-cross", Random(3)), "top-cross").until(lambda talker: bool(talker.turns))
    talker.until(lambda talker: talker.listen.asked == "claim")
    talker.say(text)
    assert talker.listen.asked == "claim"
    talker.say("yes")
    assert talker.lesson.step == "top-face"


@pytest.mark.parametrize("text", ["let's leave it for today", "that's it for today", "let's call it a day"])
def test_to_leave_it_ends_the_lesson_in_good_order(text: str) -> None:
    talker = Talker(random_cube("top-cross", Random(3)), "top-cross").until(lambda talker: bool(talker.turns))
    talker.until(lambda talker: talker.listen.asked == "claim")
    talker.say(text)
    assert isinstance(talker.acts[-1], End)


@pytest.mark.parametrize(
    "text",
    ["let's practise the top face", "practise makes perfect", "I don't want to practise", "stop the lesson",
     "what a hard lesson", "the next lesson is tomorrow"],
)  # fmt: skip
def test_what_is_no_such_wish(text: str) -> None:
    assert load().read(text, "turn").aside.remark is None
