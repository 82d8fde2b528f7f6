"""Who denies a check tells why: what they tell of a turn of the whole cube is put right at once, and what is not asked
about yet is no mistake."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import inverse
from coach.dialogue import Heard, Rotate
from coach.dialogue.lesson import Lesson
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, new_lesson, solved
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()


def heard(text: str, hands: Hands) -> Heard:
    """What the coach hears of `text` now."""
    return utter(text, LANGUAGE.understand(text, hands.listen.asked, hands.listen.scene), at=hands.listen)


def without_turning_the_cube(wrongly: int) -> tuple[Lesson, Hands]:
    """A check of a learner who did not turn the whole cube when asked to last, or turned it the other way round (2)."""
    for seed in range(9):
        lesson, hands = new_lesson("bottom-corners"), Hands(random_cube("bottom-corners", Random(seed)))
        hands.take(lesson.start())
        missed = 0
        while not (missed and hands.listen.asked == "claim" and not hands.claim_holds()):
            turned = [say for say in hands.says if isinstance(say, Rotate)]
            if turned and not missed:
                for _ in range(wrongly):
                    hands.cube = hands.cube.do(inverse((turned[-1].rotation,)))
                missed = len(turned)
                lesson.talk.record.any = True  # so that what was placed is asked about
            hands.take(lesson.handle(hands.answer()))
        if missed == sum(isinstance(say, Rotate) for say in hands.says) and not lesson.talk.searching:
            return lesson, hands
    raise AssertionError("no such check")


@pytest.mark.parametrize(
    ("said", "wrongly"),
    [("I never turned the whole cube", 1), ("no, I forgot to turn the whole cube round to the right side", 1),
     ("I turned the whole cube the wrong way", 2)],
)  # fmt: skip
def test_a_turn_of_the_whole_cube_that_was_missed_is_put_right_by_what_is_told(said: str, wrongly: int) -> None:
    lesson, hands = without_turning_the_cube(wrongly)
    asked = len(hands.asked)
    hands.take(lesson.handle(heard(said, hands)))
    while hands.listen.asked in ("claim", "other"):
        hands.take(lesson.handle(hands.answer()))
    assert all(ask.query.asks not in ("row", "face") for ask in hands.asked[asked:])
    assert any("didn't turn the way I said" in text for text in hands.texts)
    assert solved(lesson, hands)


def test_a_corner_is_no_reason_to_deny_a_cross() -> None:
    lesson, hands = new_lesson("bottom-cross"), Hands(random_cube("scrambled", Random(3)))
    hands.take(lesson.start())
    while hands.listen.asked != "claim" or len(hands.question.query.claim) < 8:
        hands.take(lesson.handle(hands.answer()))
    check = hands.question.query
    hands.take(lesson.handle(heard("no, the corner at the bottom front right isn't white", hands)))
    assert not lesson.talk.searching and hands.question.query == check
    hands.take(lesson.handle(hands.answer()))
    assert lesson.talk.slips == 0 and not lesson.talk.searching
    hands.take(lesson.handle(hands.answer()))
