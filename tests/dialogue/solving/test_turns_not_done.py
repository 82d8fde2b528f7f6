"""Whoever says that none of the turns is done has them called again, whenever they say it."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import inverse, parse
from coach.simulation import random_cube
from tests.dialogue.solving.test_slip_in_the_middle import FROM_RIGHT, PHRASES, Talker, in_the_run, one_edge_out, slips

NONE = ["not one of them", "none of them", "I haven't done any turn", "I did nothing yet", "no turn so far, sorry"]


def undo(talker: Talker, turns: int) -> None:
    talker.learner.cube = talker.learner.cube.do(inverse(FROM_RIGHT[:turns]))


@pytest.mark.parametrize("text", NONE)
def test_the_first_call_is_said_again_and_waited_for(text: str) -> None:
    talker = in_the_run(1)
    talker.say(text)
    assert talker.texts[-2:] == ["I said: The top layer goes right.", PHRASES.say("turn.not-yet")]
    assert len(talker.turns) == 1


@pytest.mark.parametrize("text", NONE)
def test_several_turns_not_done_are_called_again_if_that_is_so(text: str) -> None:
    talker = in_the_run(3)
    undo(talker, 3)
    talker.say(text)
    assert talker.texts[-1] == PHRASES.say("ask.none-done", turns="3 turns")
    talker.say("yes")
    assert talker.turns[3:] == talker.turns[:1]
    talker.until(lambda talker: talker.lesson.step == "top-cross")
    assert not slips(talker.acts)


def with_each_done() -> Talker:
    """A learner who has said of each of two turns that it is done, and then hears the third."""
    talker = in_the_run(1)
    talker.say("on my word")
    for _ in range(2):
        talker.say("next")
    return talker


def test_who_insists_that_none_is_done_means_those_too_that_were_told_as_done() -> None:
    talker = with_each_done()
    undo(talker, 3)
    talker.say("I haven't done any of it")
    assert talker.texts[-1] == PHRASES.say("turn.not-yet")
    talker.say("I've done nothing yet")
    assert talker.texts[-1] == PHRASES.say("ask.none-done", turns="3 turns")
    talker.say("yes")
    assert talker.turns[3:] == talker.turns[:1]


def test_who_names_a_number_of_turns_has_just_those_called_again() -> None:
    talker = with_each_done()
    talker.say("none of the last two turns was done")
    assert talker.texts[-1] == PHRASES.say("ask.none-done", turns="2 turns")
    talker.say("yes")
    assert talker.turns[3:] == talker.turns[1:2]


def test_if_only_the_last_one_is_not_done_only_that_is_said_again() -> None:
    talker = in_the_run(3)
    talker.say("not one of them")
    talker.say("no")
    assert talker.texts[-2:] == ["I said: The top layer goes left.", PHRASES.say("turn.not-yet")]
    talker.until(lambda talker: talker.lesson.step == "top-cross")
    assert not slips(talker.acts)


def test_what_was_said_to_be_done_is_not_called_again() -> None:
    talker = in_the_run(2)
    talker.say("next")
    talker.learner.cube = talker.learner.cube.do(inverse(FROM_RIGHT[2:3]))
    talker.say("I haven't done any of them")
    assert len(talker.turns) == 3, "after the last word only one was called"
    talker.say("ready")
    assert len(talker.turns) == 4


@pytest.mark.parametrize("text", ["I haven't done any of the turns", "none of those turns was done"])
def test_at_the_question_after_the_run_it_is_put_right(text: str) -> None:
    talker = Talker(random_cube("top-cross", Random(3)), "top-cross").until(
        lambda talker: talker.listen.asked == "claim" and bool(talker.turns)
    )
    called = len(talker.turns)
    talker.learner.cube = talker.learner.cube.do(inverse(parse(" ".join(talker.turns))))
    talker.say(text)
    talker.until(lambda talker: bool(slips(talker.acts)))
    assert all(turn.whole for turn in parse(slips(talker.acts)[0].explains))
    talker.until(lambda talker: talker.lesson.step == "top-face")
    assert talker.turns[called : 2 * called] == talker.turns[:called]


def test_told_in_a_search_it_ends_the_search() -> None:
    talker = Talker(one_edge_out(), "middle-edges").until(lambda talker: len(talker.turns) == 4)
    undo(talker, 4)
    talker.say("I'm lost")
    talker.say("no")
    talker.until(lambda talker: talker.listen.asked in ("row", "face"))
    talker.say("I haven't done any of the turns")
    assert slips(talker.acts)[0].explains == ""


@pytest.mark.parametrize("text", ["I haven't done anything wrong", "nothing", "no one of them has come"])
def test_what_is_not_said_of_turns_takes_none_back(text: str) -> None:
    talker = in_the_run(3)
    talker.say(text)
    assert PHRASES.say("ask.none-done", turns="3 turns") not in talker.texts
