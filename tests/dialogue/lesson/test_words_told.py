"""The learner's words for the sides, told with the names of these: several at once, out of turn, to put them right."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import FACES
from coach.dialogue.lesson import Lesson, Settings
from coach.language.en.naming import own_word, words_by_side
from coach.language.en.reader.normalise import normalise
from coach.method import default_method
from coach.simulation import random_cube
from tests.dialogue.hands import Hands
from tests.dialogue.lesson.test_opening import told
from tests.dialogue.lessons import LANGUAGE
from tests.loaded import load

WORDS = dict(zip("FBRLUD", ("dimple", "stripe", "bark", "gravel", "silk", "wool"), strict=True))
ALL = "front dimple, back stripe, right bark, left gravel, top silk, bottom wool"


def asked() -> tuple[Lesson, Hands]:
    settings = Settings(ask_colours=True)
    lesson = Lesson(default_method(), load().sentences, "bottom-cross", settings, LANGUAGE.offers, LANGUAGE.clashes)
    hands = Hands(random_cube("bottom-cross", Random(1)))
    hands.take(lesson.start())
    return lesson, hands


@pytest.mark.parametrize("text", ["that would be wool", "it's wool", "I'd say wool", "I call it wool", "that is wool"])
def test_words_around_a_name_are_no_part_of_it(text: str) -> None:
    assert own_word(normalise(text)) == "wool"


@pytest.mark.parametrize("text", ["yes that's right", "no", "right", "that's all right", "the top is wrong", "wool"])
def test_what_names_no_word_for_a_side_tells_none(text: str) -> None:
    assert not words_by_side(normalise(text))


@pytest.mark.parametrize("text", [ALL, ALL.replace(",", "")])
def test_all_words_may_be_told_at_once(text: str) -> None:
    lesson, hands = asked()
    told(lesson, hands, text)
    assert hands.question.query.about == "colours"
    told(lesson, hands, "yes that's right")
    assert lesson.knowledge.colours == WORDS


def test_a_side_told_out_of_turn_is_not_taken_for_the_one_asked_for() -> None:
    lesson, hands = asked()
    told(lesson, hands, "silk on top")
    for _ in range(5):
        face = hands.question.query.face
        assert face != "U"
        told(lesson, hands, WORDS[face])
    told(lesson, hands, "yes")
    assert lesson.knowledge.colours == WORDS


@pytest.mark.parametrize("text", ["not quite. the right is bark and the bottom is wool",
                                  "hang on, the bottom is just wool, not be wool, and the right is bark"])  # fmt: skip
def test_several_words_are_put_right_in_one_sentence(text: str) -> None:
    lesson, hands = asked()
    wrong = WORDS | {"R": "tree", "D": "fluff"}
    while hands.question.query.about == "colour":
        told(lesson, hands, wrong[hands.question.query.face])
    told(lesson, hands, text)
    assert hands.question.query.about == "colours"
    told(lesson, hands, "yes")
    assert lesson.knowledge.colours == WORDS and len(FACES) == len(WORDS)
