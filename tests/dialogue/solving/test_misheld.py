"""Who holds the cube another way than asked while they read it has read nothing in vain."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

import pytest

from coach.cube import ROTATIONS, Turn, opposite
from coach.dialogue import Act, Ask, Heard, Rotate, Say
from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.simulation import scrambled
from tests.dialogue.hands import COLOURS, Hands, check, new_lesson, solved
from tests.dialogue.hearing import utter

ENOUGH = "That's enough. Now I know the whole cube."


class Wayward(Hands):
    """Turns the whole cube as `instead` (None: not at all) the first time that this is asked for."""

    def __init__(self, seed: int, instead: Turn | None) -> None:
        super().__init__(scrambled(Random(seed)))
        self.instead, self.since = instead, 0

    def take(self, acts: Iterable[Act]) -> None:
        for act in acts:
            super().take([act])
            if isinstance(act, Rotate) and not self.since and ENOUGH not in self.texts:
                turns = (act.rotation.inverse, *([self.instead] if self.instead else []))
                self.cube, self.since = self.cube.do(turns), len(self.acts)


@pytest.mark.parametrize("instead", [None, *ROTATIONS[:4]], ids=str)
@pytest.mark.parametrize("seed", [2, 6])
def test_a_wrong_turn_of_the_whole_cube_costs_a_few_rows(seed: int, instead: Turn | None) -> None:
    lesson, hands = new_lesson(None), Wayward(seed, instead)
    hands.take(lesson.start())
    while ENOUGH not in hands.texts:
        assert not hands.end
        hands.take(lesson.handle(hands.answer()))
    check(lesson, hands)
    asked = [act for act in hands.acts[hands.since :] if isinstance(act, Ask)]
    told = [text for text in hands.texts if "Now I know where your rows belong" in text]
    assert len(told) <= 1 and len(asked) <= 14
    assert solved(lesson, hands)


def test_a_hold_that_was_never_taken_is_taken_over_from_the_first_middle() -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(3)).do("y"))
    hands.take(lesson.start())
    while not any("Now I know where your rows belong" in text for text in hands.texts):
        hands.take(lesson.handle(hands.answer()))
    front = hands.colour("F4")
    assert f"You have yellow on top and {front} facing you." in hands.texts[-2]
    check(lesson, hands)
    assert solved(lesson, hands)


@pytest.mark.parametrize("again", ["right", "as before"])
def test_one_middle_that_does_not_fit_is_read_again_before_anything_is_concluded(again: str) -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(4)))
    hands.take(lesson.start())
    wrong = {colour: COLOURS[opposite(face)] for face, colour in COLOURS.items()}
    misread = 1 if again == "right" else 2
    while not hands.end and ENOUGH not in hands.texts:
        said = hands.answer()
        query = hands.question.query
        if hands.listen.asked == "row" and (query.face, query.row) == ("F", 2) and misread:
            misread -= 1
            assert isinstance(said, Heard) and said.meaning
            first, middle, last = said.meaning.colours
            said = utter("row", Meaning(colours=(first, wrong[middle], last)))
        hands.take(lesson.handle(said))
    assert "Perhaps the cube is turned another way than I think. Let me find out." in hands.texts
    if again == "right":
        assert not any("Now I know where your rows belong" in text for text in hands.texts)
        assert any(text.startswith("Hold the cube with yellow on top and green") for text in hands.texts[5:])
    assert solved(lesson, hands, truthful=again == "right")


FIND_OUT = "Perhaps the cube is turned another way than I think. Let me find out."


def test_two_middles_that_are_the_same_are_not_believed() -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(4)))
    hands.take(lesson.start())
    wrongly = {"F": 1, "U": 1}
    while not hands.end and ENOUGH not in hands.texts:
        said, query = hands.answer(), hands.question.query
        if hands.listen.asked == "row" and query.row == 2 and wrongly.get(query.face or ""):
            wrongly[query.face or ""] -= 1
            said = utter("red red red", Meaning(colours=("red", "red", "red")), at=hands.listen)
        hands.take(lesson.handle(said))
        assert not any("Now I know where your rows belong" in text for text in hands.texts)
    asked = [act.query.face for act in hands.acts if isinstance(act, Ask) and act.query.row == 2]
    assert asked[:4] == ["F", "U", "U", "F"], "both are read again"
    check(lesson, hands)
    assert solved(lesson, hands)


def to_first_turn(hands: Hands, lesson: Lesson) -> Rotate:
    """Read until the whole cube is to be turned."""
    hands.take(lesson.start())
    while not (turns := [act for act in hands.acts if isinstance(act, Rotate)]):
        hands.take(lesson.handle(hands.answer()))
    return turns[-1]


def test_once_the_hold_was_told_the_turn_into_it_is_not_repeated() -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(6)))
    turn = to_first_turn(hands, lesson)
    wrong = next(name for name in ("red", "blue", "orange", "green") if name != lesson.knowledge.held["F"])
    hands.take(lesson.handle(utter(f"done, there's {wrong} in front now", Meaning(command="done"), at=hands.listen)))
    hold = lesson.talk.hold()
    assert hold in hands.texts[-2:]
    before = len(hands.acts)
    hands.take(lesson.handle(utter("what did you say", Meaning(command="repeat"), at=hands.listen)))
    said = " ".join(act.text for act in hands.acts[before:] if isinstance(act, Say))
    assert hold in said and turn.text not in said


@pytest.mark.parametrize("text", ["no, it's {} in front", "{} is facing me", "nope, I have {} facing me"])
def test_who_still_has_another_side_in_front_is_believed(text: str) -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(6)))
    turn = to_first_turn(hands, lesson)
    hands.cube = hands.cube.do((turn.rotation.inverse,)).do("y2")
    for _ in range(2):
        assert FIND_OUT not in hands.texts
        hands.take(lesson.handle(utter(text.format(hands.colour("F4")), None, at=hands.listen)))
    assert FIND_OUT in hands.texts
    while ENOUGH not in hands.texts:
        hands.take(lesson.handle(hands.answer()))
    check(lesson, hands)


def test_who_names_the_front_while_a_row_is_asked_for_is_listened_to() -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(3)).do("y"))
    hands.take(lesson.start())
    hands.take(lesson.handle(hands.answer()))
    front = hands.colour("F4")
    hands.take(lesson.handle(utter(f"there's {front} in front by the way", None, at=hands.listen)))
    assert FIND_OUT in hands.texts
    while not any("Now I know where your rows belong" in text for text in hands.texts):
        hands.take(lesson.handle(hands.answer()))
    assert lesson.knowledge.held["F"] == front
    assert solved(lesson, hands)


def test_what_is_true_of_the_front_changes_nothing() -> None:
    lesson, hands = new_lesson(None), Hands(scrambled(Random(3)))
    hands.take(lesson.start())
    front = hands.colour("F4")
    for text in (f"there's {front} in front by the way", "no, it's not blue in front"):
        hands.take(lesson.handle(utter(text, None, at=hands.listen)))
    assert FIND_OUT not in hands.texts
