"""What takes an answer back takes back no more, and a cube that fell costs no turn where nothing turned."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue.lesson import Lesson
from coach.dialogue.lesson.top_order import OrderStep
from coach.language import Meaning
from coach.language.meaning import Command
from coach.method import Step, default_method
from coach.method.last_layer import build
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command, new_lesson, solved
from tests.dialogue.hearing import utter
from tests.dialogue.solving.test_reading import say
from tests.loaded import load


def sequence(step: str) -> str:
    found = next(each for each in default_method().steps if each.id == step)
    assert isinstance(found, Step)
    return " ".join(str(turn) for turn in next(case.sequence for case in found.cases if case.sequence))


def begun(step: str) -> tuple[Lesson, Hands]:
    """A lesson from that step, with a cube on which a run of it has yet to be done."""
    lesson, hands = new_lesson(step), Hands(Cube().do(sequence(step)))
    hands.take(lesson.start())
    return lesson, hands


@pytest.mark.parametrize("rows", [0, 1])
@pytest.mark.parametrize("text", ["scratch that", "take that back"])
def test_at_the_top_corners_only_the_last_answer_about_them_is_taken_back(text: str, rows: int) -> None:
    lesson, hands = begun("top-corners")
    while hands.listen.asked != "row":
        hands.take(lesson.handle(hands.answer()))
    first = hands.question
    for _ in range(rows):
        hands.take(lesson.handle(hands.answer()))
    say(lesson, hands, text)
    assert isinstance(lesson._now, OrderStep) and lesson.step == "top-corners"
    assert hands.question == first or hands.question.query.about == "front"
    assert solved(lesson, hands)


@pytest.mark.parametrize("text", ["ask the four edges again", "can we do the edges again"])
@pytest.mark.parametrize("step", ["top-cross", "top-face"])
def test_the_edges_on_top_are_asked_for_again(text: str, step: str) -> None:
    lesson, hands = begun(step)
    say(lesson, hands, text)
    assert hands.listen.asked == "look-top-edges"
    assert solved(lesson, hands)


def test_the_four_edges_of_the_bottom_are_asked_for_again() -> None:
    lesson, hands = new_lesson("bottom-cross"), Hands(Cube().do("R F U L D B R2 F L"))
    hands.take(lesson.start())
    first = hands.question
    for _ in range(2):
        hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked == "piece"
    say(lesson, hands, "ask the four edges again")
    assert hands.question == first
    assert solved(lesson, hands)


@pytest.mark.parametrize("text", ["it fell down", "oh no, I dropped it"])
def test_no_turn_is_lost_by_a_fall_in_which_nothing_turned(text: str) -> None:
    lesson, hands = begun("top-cross")
    while len(hands.turns) < 3:
        hands.take(lesson.handle(hands.answer()))
    turns = hands.turns
    say(lesson, hands, text)
    assert hands.question.query.about == "fell"
    hands.take(lesson.handle(command("no")))
    assert hands.turns == turns and hands.listen.asked == "turn" and hands.listen.seconds > 60
    assert any(text.startswith("If you haven't done it yet: ") for text in hands.texts[-3:])
    hands.take(lesson.handle(command("next")))
    assert solved(lesson, hands) and not hands.end.slips  # type: ignore[union-attr]


@pytest.mark.parametrize("answer", ["yes", "unsure"])
def test_after_a_fall_that_may_have_turned_something_it_is_found_out(answer: str) -> None:
    lesson, hands = begun("top-cross")
    while len(hands.turns) < 3:
        hands.take(lesson.handle(hands.answer()))
    say(lesson, hands, "I dropped it")
    hands.cube = hands.cube.do("R" if answer == "yes" else "")
    hands.take(lesson.handle(command(answer)))
    assert "Let's find out what happened. Leave the cube as it is." in hands.texts
    for _ in range(400):
        if hands.end:
            break
        hands.take(lesson.handle(hands.answer()))
    assert hands.end and hands.end.outcome == "done" and hands.cube.solved


@pytest.mark.parametrize("step", ["bottom-corners", "middle-edges", "top-cross", "top-face"])
@pytest.mark.parametrize(("turned", "answer"), [("L", "yes"), ("D2", "unsure"), ("B'", "yes"), ("R'", "unsure")])
@pytest.mark.parametrize("pending", [True, False])
def test_what_turned_in_a_fall_is_turned_back_and_the_cube_is_not_read(
    step: str, turned: str, answer: Command, pending: bool
) -> None:
    lesson, hands = new_lesson(step), Hands(random_cube(step, Random(2)))
    hands.take(lesson.start())
    while len(hands.turns) < 4 or hands.listen.asked != "turn":
        hands.take(lesson.handle(hands.answer()))
    if pending:
        hands.cube = hands.cube.do((hands.calls[-1].inverse,))
    hands.cube = hands.cube.do(turned)
    say(lesson, hands, "oops, I dropped it")
    hands.take(lesson.handle(command(answer)))
    assert any(text.startswith("Hold the cube with ") for text in hands.texts[-3:])
    assert solved(lesson, hands, truthful=False)
    assert "Let's find out what happened. Leave the cube as it is." in hands.texts
    assert "By all you've told me, everything is as it should be." not in hands.texts
    assert lesson.talk.phrases.say("read.begin") not in hands.texts


@pytest.mark.parametrize("step", ["bottom-cross", "top-cross"])
def test_a_fall_before_anything_is_known_loses_nothing_that_was_known(step: str) -> None:
    lesson, hands = new_lesson(step), Hands(random_cube(step, Random(1)).do("R" if step == "bottom-cross" else ""))
    hands.take(lesson.start())
    first = hands.question
    say(lesson, hands, "oh, it fell down")
    hands.take(lesson.handle(command("unsure")))
    if step == "bottom-cross":
        assert hands.question == first and "Good, then nothing is lost." in hands.texts
    assert solved(lesson, hands, truthful=False)


@pytest.mark.parametrize("said", ["I don't believe so", "nothing turned", "no no, it didn't turn"])
def test_a_fall_in_which_nothing_turned_is_told_in_many_ways(said: str) -> None:
    lesson, hands = new_lesson(), Hands(build(flips=(0, 1, 0, 1)))
    hands.take(lesson.start())
    hands.take(lesson.handle(utter("I dropped it", None, at=hands.listen)))
    assert hands.question.query.about == "fell"
    hands.take(lesson.handle(utter(said, None, at=hands.listen)))
    assert "Good, then nothing is lost." in hands.texts


@pytest.mark.parametrize(
    "said",
    [
        "no idea", "no clue", "no way to tell", "no idea, it's under the couch", "no idea, I can't tell",
        "no, I wasn't looking", "no telling", "nothing broke, but the right side moved", "nothing but the top turned",
        "no, it's fine, although one side shifted a bit", "no harm done, except that the left layer slipped",
    ],
)  # fmt: skip
def test_a_fall_in_which_something_may_have_turned_is_looked_into_however_the_answer_opens(said: str) -> None:
    lesson, hands = begun("top-cross")
    while len(hands.turns) < 3:
        hands.take(lesson.handle(hands.answer()))
    say(lesson, hands, "I dropped it")
    while hands.question.query.about == "fell" and hands.listen.asked == "claim":
        meaning = load().understand(said, hands.listen.asked, hands.listen.scene)
        hands.take(lesson.handle(utter(said, meaning, at=hands.listen)))
    assert "Good, then nothing is lost." not in hands.texts
    assert "Let's find out what happened. Leave the cube as it is." in hands.texts


@pytest.mark.parametrize("said", ["no", "nothing moved", "no, no side turned", "not that I noticed", "all as it was"])
def test_what_is_plainly_a_no_after_a_fall_loses_nothing(said: str) -> None:
    lesson, hands = begun("top-cross")
    while len(hands.turns) < 3:
        hands.take(lesson.handle(hands.answer()))
    say(lesson, hands, "I dropped it")
    meaning = load().understand(said, hands.listen.asked, hands.listen.scene)
    hands.take(lesson.handle(utter(said, meaning, at=hands.listen)))
    assert "Good, then nothing is lost." in hands.texts


def test_being_ready_is_no_answer_to_whether_something_turned() -> None:
    lesson, hands = new_lesson(), Hands(build(flips=(0, 1, 0, 1)))
    hands.take(lesson.start())
    hands.take(lesson.handle(utter("I dropped it", None, at=hands.listen)))
    hands.take(lesson.handle(utter("ok got it", Meaning(command="ready"), at=hands.listen)))
    assert hands.question.query.about == "fell" and "Please say yes or no" in hands.texts[-1]


@pytest.mark.parametrize("step", ["top-corners", "top-edges"])
@pytest.mark.parametrize("front", ["R", "B", "L"])
def test_a_front_told_wrongly_is_taken_back(step: str, front: str) -> None:
    cube = next(cube for seed in range(40) if not (cube := random_cube(step, Random(seed))).solved)
    lesson, hands = new_lesson(step), Hands(cube)
    hands.take(lesson.start())
    assert hands.question.query.about == "front"
    wrong = hands.colour(f"{front}4")
    hands.take(lesson.handle(utter(wrong, Meaning(colours=(wrong,)), at=hands.listen)))
    hands.take(lesson.handle(utter("scratch that", Meaning(command="correct"), at=hands.listen)))
    assert hands.question.query.about == "front"
    assert solved(lesson, hands)


def test_who_has_the_top_in_front_is_told_how_to_hold_the_cube() -> None:
    lesson, hands = new_lesson("top-corners"), Hands(random_cube("top-corners", Random(3)))
    hands.take(lesson.start())
    up = hands.colour("U4")
    hands.take(lesson.handle(utter(up, Meaning(colours=(up,)), at=hands.listen)))
    assert hands.texts[-2].startswith(f"Hold the cube with {up} on top") and hands.question.query.about == "front"
    assert solved(lesson, hands)
