"""What is said while turns are called or a hold is taken is answered with what helps then."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coach.dialogue import Heard, Rotate
from coach.dialogue.lesson import Lesson
from coach.dialogue.pace import SHORTEST, UNHURRIED
from coach.method.last_layer import build
from tests.dialogue.hands import COLOURS, Hands, new_lesson
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()


def heard(text: str, hands: Hands) -> Heard:
    """What the coach hears of `text` now."""
    return utter(text, LANGUAGE.understand(text, hands.listen.asked, hands.listen.scene), at=hands.listen)


def say(lesson: Lesson, hands: Hands, text: str) -> list[str]:
    """What the coach says to that."""
    before = len(hands.texts)
    hands.take(lesson.handle(heard(text, hands)))
    return hands.texts[before:]


def lesson_at(there: Callable[[Hands], bool], most: int | None = None, **cube: tuple[int, ...]) -> tuple[Lesson, Hands]:
    """A lesson at the first moment that is `there`."""
    lesson, hands = new_lesson(), Hands(build(**(cube or {"flips": (1, 0, 1, 0)})))
    if most is not None:
        lesson.talk.attempts.learned.most = most
    hands.take(lesson.start())
    while not there(hands):
        hands.take(lesson.handle(hands.answer()))
    return lesson, hands


def turning(hands: Hands) -> bool:
    return hands.listen.asked == "turn" and len(hands.calls) > 1


def test_who_wants_to_get_on_is_not_hurried_beyond_what_fingers_follow() -> None:
    lesson, hands = lesson_at(turning)
    for text in ("just get on with it", "can't we just get on", "hurry up"):
        say(lesson, hands, text)
        assert lesson.talk.pace.pause >= UNHURRIED
    for _ in range(3):
        say(lesson, hands, "faster")
    assert lesson.talk.pace.pause == SHORTEST
    say(lesson, hands, "just get on with it")
    assert lesson.talk.pace.pause == SHORTEST, "nor is it made slower"


def test_a_hint_while_turns_are_called_is_the_next_call() -> None:
    lesson, hands = lesson_at(turning)
    run = lesson._now.run if lesson._now else None
    assert run
    following = lesson.talk.phrases.call(run.turns[run.done], "plain")
    assert any(following in text for text in say(lesson, hands, "a hint, what comes after that"))
    assert hands.listen.asked == "turn"


def test_the_name_of_the_sequence_is_told_at_its_check() -> None:
    lesson, hands = lesson_at(lambda hands: hands.listen.asked == "claim" and len(hands.calls) > 5)
    said = say(lesson, hands, "what is this one called")
    assert "flip by the top" in said[0] or "flip" in said[0]
    assert hands.listen.asked == "claim" and not lesson.talk.searching


def test_who_has_done_it_all_is_not_told_to_go_on_alone() -> None:
    lesson, hands = lesson_at(lambda hands: hands.listen.asked == "turn" and bool(hands.calls), most=2)
    run = lesson._now.run if lesson._now else None
    assert run and run.done == 1
    hands.cube = hands.cube.do(run.turns[1:])
    say(lesson, hands, "there, I've done the lot")
    assert run.done == len(run.turns) and hands.listen.asked != "do"


def test_who_was_never_taught_a_sequence_has_it_called_by_its_name() -> None:
    lesson, hands = lesson_at(lambda hands: hands.listen.asked == "do", most=1)
    hands.take(lesson.handle(heard("nobody's taught me that one", hands)))
    if hands.listen.asked != "turn":  # whether anything has been turned
        hands.take(lesson.handle(heard("no", hands)))
    assert any("is called the flip" in text for text in hands.texts)
    assert hands.calls or lesson.talk.attempts.learned.least == 4


def ready(hands: Hands) -> bool:
    return hands.listen.asked == "ready" and any(isinstance(say, Rotate) for say in hands.says)


@pytest.mark.parametrize("form", ["front's {}", "the front is {}", "my front's {}"])
def test_another_side_in_front_is_a_wrong_hold(form: str) -> None:
    lesson, hands = lesson_at(ready)
    hold = lesson.talk.hold()
    assert hold in say(lesson, hands, form.format(COLOURS[hands.cube.faces[13]]))
    assert hands.listen.asked == "ready"


def test_where_we_are_includes_a_hold_that_may_not_be_taken_yet() -> None:
    lesson, hands = lesson_at(ready)
    assert lesson.talk.hold() in say(lesson, hands, "how far am I")
