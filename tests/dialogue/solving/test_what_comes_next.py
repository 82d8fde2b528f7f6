"""Whoever asks what comes next in a run is told, and has not said that the turn is done."""

from __future__ import annotations

import pytest

from tests.dialogue.solving.test_slip_in_the_middle import PHRASES, in_the_run


@pytest.mark.parametrize(
    "text", ["what's next", "what comes next", "so what do I do next", "what's after this one", "which turn comes next"]
)
def test_it_is_told_and_the_last_call_is_still_open(text: str) -> None:
    talker = in_the_run(2)
    talker.say(text)
    call = "the front layer goes anticlockwise"
    assert talker.texts[-2:] == ["After that: the top layer goes left.", PHRASES.say("reply.last-call", call=call)]
    assert len(talker.turns) == 2
    talker.say("")
    assert len(talker.turns) == 3


def test_after_the_last_call_nothing_comes() -> None:
    talker = in_the_run(8)
    talker.say("what comes next")
    assert PHRASES.say("turn.next-none") in talker.texts
    assert len(talker.turns) == 8


@pytest.mark.parametrize("text", ["done, what's next", "it's up now, what comes next?", "next", "okay, now what"])
def test_with_a_word_that_it_is_done_the_run_goes_on(text: str) -> None:
    talker = in_the_run(2)
    talker.say(text)
    assert len(talker.turns) == 3


def test_while_turns_are_taken_back_the_next_one_back_is_told() -> None:
    talker = in_the_run(3)
    talker.say("start again")
    talker.say("yes")
    called = len(talker.turns)
    talker.say("what comes next")
    assert len(talker.turns) == called
    assert talker.texts[-2] == "After that: the front layer goes clockwise."
