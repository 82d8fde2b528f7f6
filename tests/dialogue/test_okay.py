"""A bare okay: it goes on where the coach waits, and is no answer to the question whether something is so."""

from __future__ import annotations

from random import Random

import pytest

from coach.language.commands import Trait, has
from coach.language.meaning import Scene
from coach.simulation import random_cube
from tests.dialogue.solving.test_slip_in_the_middle import PHRASES, Talker
from tests.loaded import load

OKAYS = ["ok", "okay", "ok then", "all right", "hm, okay", "ok coach", "okay, I hear you"]
WHETHER = PHRASES.say("ask.whether-yes")


def at_the_check() -> Talker:
    talker = Talker(random_cube("top-cross", Random(3)), "top-cross")
    return talker.until(lambda talker: talker.listen.asked == "claim" and bool(talker.turns))


@pytest.mark.parametrize("text", OKAYS)
def test_to_a_check_it_is_asked_once_whether_that_is_a_yes(text: str) -> None:
    talker = at_the_check()
    talker.say(text)
    assert talker.texts[-1] == WHETHER
    talker.say("yes")
    assert talker.lesson.step == "top-face"


def test_a_second_okay_is_a_yes_and_a_no_is_a_no() -> None:
    talker = at_the_check()
    talker.say("okay")
    talker.say("ok")
    assert talker.lesson.step == "top-face"
    talker = at_the_check()
    talker.say("okay")
    talker.say("no")
    assert PHRASES.say("slip.search") in talker.texts


def test_it_is_asked_once_only_for_each_question() -> None:
    talker = at_the_check()
    for text in ("okay", "hm", "okay"):
        talker.say(text)
    assert talker.texts.count(WHETHER) == 1


@pytest.mark.parametrize("text", OKAYS[:4])
def test_it_goes_on_where_the_coach_waits_and_after_a_call(text: str) -> None:
    talker = Talker(random_cube("top-cross", Random(3)), "top-cross")
    talker.until(lambda talker: talker.listen.asked == "ready")
    talker.say(text)
    talker.until(lambda talker: talker.listen.asked == "turn")
    called = len(talker.turns)
    talker.say(text)
    assert len(talker.turns) == called + 1
    assert WHETHER not in talker.texts


@pytest.mark.parametrize("text", ["okay yes", "sure", "that's right", "okay, it is", "fine, yes", "right"])
def test_more_than_that_is_a_yes(text: str) -> None:
    talker = at_the_check()
    talker.say(text)
    assert talker.lesson.step == "top-face"


@pytest.mark.parametrize("about", ["stop", "heard"])
def test_to_an_offer_it_is_a_yes(about: str) -> None:
    meaning = load().understand("ok", "claim", Scene(about=about))
    assert meaning and has(meaning.command, Trait.YES)
    assert load().understand("ok", "other", Scene(about="solved")) is None
