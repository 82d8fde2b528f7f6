"""The method in the mirror leads through whole lessons like the method itself."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.cube.scramble import scramble
from coach.dialogue import CallTurn, Rotate
from coach.dialogue.lesson import Lesson, Settings
from coach.language.meaning import Change, Meaning
from coach.method import default_method
from coach.method.last_layer import build, orders, orientation_states
from coach.simulation import scrambled
from tests.dialogue import lessons
from tests.dialogue.hands import Hands, new_lesson, solved
from tests.dialogue.hearing import utter


@pytest.fixture
def left(monkeypatch: pytest.MonkeyPatch) -> None:
    method = default_method("left")
    monkeypatch.setattr(lessons, "default_method", lambda: method)


def _on_top(number: int) -> Cube:
    edges, corners = Random(number).choice(orders())
    return build(edges=edges, corners=corners) * orientation_states()[number]


@pytest.mark.usefixtures("left")
@pytest.mark.parametrize("number", range(5, 216, 30))
def test_last_layers_end_solved_with_turns_of_the_left_side(number: int) -> None:
    held = lessons.hold(_on_top(number), "top-cross", number)
    assert held.end.outcome == "done" and held.learner.cube.solved
    turns = [str(act.turn) for act in held.acts if isinstance(act, CallTurn)]
    assert turns and not any(turn.startswith("R") for turn in turns)


@pytest.mark.usefixtures("left")
@pytest.mark.parametrize("seed", range(3))
def test_scrambles_are_solved_from_the_bottom_cross(seed: int) -> None:
    held = lessons.hold(scrambled(Random(seed)), "bottom-cross", seed)
    assert held.end.outcome == "done" and held.learner.cube.solved


@pytest.mark.usefixtures("left")
def test_a_scramble_is_led_from_as_well() -> None:
    held = lessons.hold(Cube(), None, 1, settings=Settings(scramble=scramble(Random(1))))
    assert held.end.outcome == "done" and held.learner.cube.solved


LEFT = utter("I'm left-handed", Meaning(change=Change(hand="left")))


def _sides(hands: Hands, since: int) -> set[str]:
    """Which of right and left is turned from that act on."""
    return {act.turn.face for act in hands.acts[since:] if isinstance(act, CallTurn)} & {"R", "L"}


def _until(hands: Hands, lesson: Lesson, asked: str) -> None:
    hands.take(lesson.start())
    while hands.listen.asked != asked:
        hands.take(lesson.handle(hands.answer()))


def test_a_learner_may_say_so_at_a_question_and_the_next_turns_are_in_the_mirror() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(_on_top(60))
    hands.take(lesson.start())
    said = len(hands.acts)
    hands.take(lesson.handle(LEFT))
    assert "left side" in hands.acts[said].text  # type: ignore[union-attr]
    assert solved(lesson, hands)
    assert _sides(hands, said) == {"L"}
    assert lesson.choices.hand == "left"


def test_what_is_being_called_is_called_to_its_end_first() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(_on_top(60))
    _until(hands, lesson, "turn")
    begun = hands.turns[-1]
    hands.take(lesson.handle(LEFT))
    while hands.listen.asked == "turn":
        hands.take(lesson.handle(hands.answer()))
    assert begun == "F" and hands.turns[-1] == "F'" and "R" in hands.turns and "L" not in hands.turns
    since = len(hands.acts)
    assert solved(lesson, hands)
    assert _sides(hands, since) == {"L"}


def test_the_right_hand_may_come_back_and_saying_it_twice_changes_nothing() -> None:
    lesson, hands = new_lesson("top-face"), Hands(_on_top(0).do("R U R' U R U2 R'"))
    hands.take(lesson.start())
    for hand in ("left", "left", "right"):
        hands.take(lesson.handle(utter(hand, Meaning(change=Change(hand=hand)))))  # type: ignore[arg-type]
    since = len(hands.acts)
    assert solved(lesson, hands)
    assert lesson.choices.hand == "right"
    assert "L" not in _sides(hands, since)
    assert not any(isinstance(act, Rotate) for act in hands.acts[:since])
