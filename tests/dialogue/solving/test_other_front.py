"""In a search the side that faces the learner is taken up when they name it, and asked for when nothing fits."""

from __future__ import annotations

import pytest

from coach.cube import PLACE_NUMBER
from coach.simulation.learner import COLOURS
from tests.dialogue.solving.test_slip_in_the_middle import PHRASES, Talker, in_the_run, slips, taking_the_hold


def in_a_search() -> Talker:
    """At a row that is asked for while the cube is held another way than thought, which nobody knows yet."""
    talker = in_the_run(4)
    talker.do("F' U' y U F")  # the whole cube was turned after the second turn
    talker.say("I made a mistake")
    return talker.until(lambda talker: talker.listen.asked in ("row", "face"))


def front(talker: Talker) -> str:
    return COLOURS[talker.learner.cube.faces[PLACE_NUMBER["F4"]]]


def explained(talker: Talker) -> bool:
    talker.until(lambda talker: bool(slips(talker.acts)))
    told = {PHRASES.say(f"slip.{kind}", form) for kind in ("hold", "rotation") for form in (0, 1)}
    return bool(told & {*talker.texts}) or any("whole cube" in text for text in talker.texts[-6:])


@pytest.mark.parametrize("text", ["I have {} in front", "{} is facing me", "I've {} in front", "my front is {}"])
def test_a_front_named_while_a_row_is_asked_is_taken_up(text: str) -> None:
    talker = in_a_search()
    talker.say(text.format(front(talker)))
    assert PHRASES.say("reply.not-understood") not in talker.texts
    assert explained(talker)
    talker.until(lambda talker: talker.lesson.step == "top-cross")


@pytest.mark.parametrize("text", ["I can't make that fit", "that doesn't work with my cube", "I'm holding it wrong"])
def test_where_nothing_fits_the_front_is_asked_for(text: str) -> None:
    talker = in_a_search()
    talker.say(text)
    assert talker.texts[-1] == PHRASES.forms("ask.front")[0]
    talker.say(front(talker))
    assert explained(talker)
    talker.until(lambda talker: talker.lesson.step == "top-cross")


def test_where_still_nothing_fits_the_cube_is_read() -> None:
    talker = in_a_search()
    talker.say("I can't make that fit")
    talker.say(talker.listen.scene.colours["F"])
    talker.until(lambda talker: talker.listen.asked in ("row", "face"))
    talker.say("that doesn't work with my cube")
    assert PHRASES.say("slip.unexplained") in talker.texts


def test_a_hold_that_cannot_be_taken_is_told_once_more_and_then_looked_into() -> None:
    talker = taking_the_hold()
    talker.say("I can't make that fit")
    colours = talker.listen.scene.colours
    assert talker.texts[-2] == PHRASES.say("lesson.hold", up=colours["U"], front=colours["F"])
    talker.say("that doesn't work with my cube")
    assert talker.listen.asked != "ready"
