"""What is said again after a wait, and what is not said in the same words several times in a row."""

from __future__ import annotations

from random import Random

from coach.cube import Cube
from coach.dialogue.acts import Rotate
from coach.simulation import random_cube
from tests.dialogue.solving.test_slip_in_the_middle import PHRASES, Talker


def test_after_a_wait_in_a_turn_of_the_whole_cube_the_hold_is_said() -> None:
    for seed in range(8):
        talker = Talker(random_cube("top-cross", Random(seed)), "top-cross")
        talker.until(lambda talker: talker.listen.asked == "ready")
        rotated = any(isinstance(act, Rotate) for act in talker.acts)
        talker.say("wait a moment")
        talker.say("go on")
        colours = talker.listen.scene.colours
        hold = PHRASES.say("lesson.hold", up=colours["U"], front=colours["F"])
        assert (hold in talker.texts[-3:]) == rotated


def test_steps_that_are_there_already_are_not_told_in_the_same_words() -> None:
    talker = Talker(Cube(), "top-cross").until(lambda talker: bool(talker.lesson.ended or talker.turns))
    there = [text for text in talker.texts if text.startswith("You already have")]
    too = [text for text in talker.texts if "That goes for the" in text]
    assert len(there) == 1 and too
