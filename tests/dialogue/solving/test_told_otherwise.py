"""Rows told while the cube is read that are put right as a whole: in another order, of one colour, with an answer."""

from __future__ import annotations

from itertools import permutations, product
from random import Random

import pytest

from coach.belief.reading.stickers import ways
from coach.dialogue import Ask
from coach.dialogue.lesson import Lesson
from coach.language.meaning import Meaning
from coach.simulation import scrambled
from tests.dialogue.hands import Hands, command, solved
from tests.dialogue.hearing import utter
from tests.dialogue.solving.test_reading import put_right, reading, row, say

Told = tuple[Lesson, Hands, tuple[str, ...]]


def told_in_order(order: tuple[int, int, int], at: str, told: tuple[int, ...] = (1, 2, 3)) -> Told:
    """A row with different colours has been told in another order that may be, and the coach waits `at` something: what
    the row is. The row is asked for after that many others."""
    for seed in range(60):
        for rows in told:
            lesson, hands = reading(rows, scrambled(Random(seed)))
            true = row(hands)
            said = tuple(true[place] for place in order)
            if len(set(true)) == 3 and may_be(lesson, hands, said):
                hands.take(lesson.handle(utter("so", Meaning(colours=said))))
                if hands.listen.asked == at:
                    return lesson, hands, true
    raise AssertionError("no such reading")


def may_be(lesson: Lesson, hands: Hands, told: tuple[str, ...], least: int = 1000) -> bool:
    """Whether the row that is asked for may be so; not if it has a middle."""
    asked, knowledge = hands.question.query, lesson.knowledge
    faces = {colour: face for face, colour in knowledge.colours.items()}
    letters = {f"{asked.face}{3 * (asked.row or 0) - 3 + i}": faces[word] for i, word in enumerate(told)}
    return asked.row != 2 and ways(knowledge.reading.seeing(letters)) > least


@pytest.mark.parametrize("at", ["ready", "row"])
@pytest.mark.parametrize(
    "text", ["I had left and right mixed up", "I read that row from right to left", "sorry, that row was backwards",
             "the order is reversed", "swap the two ends"],
)  # fmt: skip
def test_a_row_told_from_right_to_left_is_turned_round(text: str, at: str) -> None:
    lesson, hands, true = told_in_order((2, 1, 0), at)
    say(lesson, hands, text)
    assert put_right(hands, true)
    assert solved(lesson, hands)


@pytest.mark.parametrize("form", ["no, the other way round: {}", "I read it backwards, it's {}", "no, swap it, {}"])
def test_a_row_told_anew_is_what_is_told(form: str) -> None:
    """Whatever is said of its order."""
    lesson, hands, true = told_in_order((1, 2, 0), "ready")
    say(lesson, hands, form.format(" ".join(true)))
    assert put_right(hands, true)


@pytest.mark.parametrize("at", ["ready", "row"])
@pytest.mark.parametrize("form", ["the {} two are the other way round", "swap the {} two", "oh, exchange the {} two"])
@pytest.mark.parametrize(("which", "order"), [("first", (1, 0, 2)), ("last", (0, 2, 1))])
def test_two_stickers_change_places(form: str, which: str, order: tuple[int, int, int], at: str) -> None:
    lesson, hands, true = told_in_order(order, at)
    say(lesson, hands, form.format(which))
    assert put_right(hands, true)
    assert solved(lesson, hands)


def test_two_colours_that_are_named_change_places() -> None:
    lesson, hands, true = told_in_order((1, 0, 2), "ready")
    say(lesson, hands, f"swap {true[0]} and {true[1]}")
    assert put_right(hands, true)


def test_where_nothing_but_an_exchange_is_named_the_coach_asks_which_row_is_meant() -> None:
    for answer in ("yes", "no"):
        lesson, hands, true = told_in_order((2, 1, 0), "ready")
        say(lesson, hands, "swap them")
        asked = hands.question.text
        assert asked.startswith("Do you mean the row before, the ") and asked.endswith(f": {', '.join(true)}?")
        hands.take(lesson.handle(command(answer)))
        assert put_right(hands, true) == (answer == "yes")


@pytest.mark.parametrize("form", ["it was three times {}", "all three were {}", "oh no, {} everywhere"])
def test_a_row_of_one_colour_is_put_right(form: str) -> None:
    lesson, hands, true = told_of_one()
    say(lesson, hands, form.format(true[0]))
    assert put_right(hands, true)


def test_a_row_of_one_colour_that_may_be_another_is_asked_about() -> None:
    lesson, hands, true = told_of_one()
    say(lesson, hands, f"{true[0]} everywhere")
    assert hands.question.text.endswith(f": {', '.join(true)}?") and not put_right(hands, true)
    hands.take(lesson.handle(command("yes")))
    assert put_right(hands, true)


def told_of_one() -> Told:
    """A row that may be of one colour has been told with another one at its end, and the cube is being turned: that
    row of one colour."""
    for seed, rows in product(range(9), (1, 2, 3)):
        lesson, hands = reading(rows, scrambled(Random(seed)))
        for one, other in permutations(lesson.knowledge.colours.values(), 2):
            if may_be(lesson, hands, (one, one, one)) and may_be(lesson, hands, (one, one, other)):
                hands.take(lesson.handle(utter("so", Meaning(colours=(one, one, other)))))
                if hands.listen.asked == "ready":
                    return lesson, hands, (one, one, one)
                break
    raise AssertionError("no such reading")


@pytest.mark.parametrize(
    "form",
    ["sorry, the last row was {last}, and this one is {this}", "the row before is {last}. Now we have {this}",
     "oops, before I told you wrong, it is {last}, and here it's {this}", "the last row was {last}. {this}"],
)  # fmt: skip
def test_a_correction_and_an_answer_in_one_breath(form: str) -> None:
    for order in permutations(range(3)):
        if order == (0, 1, 2):
            continue
        lesson, hands, true = told_in_order(order, "row")  # type: ignore[arg-type]
        asked = hands.question.query
        say(lesson, hands, form.format(last=" ".join(true), this=" ".join(row(hands))))
        assert put_right(hands, true)
        assert [say.query for say in hands.says if isinstance(say, Ask)].count(asked) == 1, "it is answered"
        assert solved(lesson, hands)


@pytest.mark.parametrize("form", ["the {name} row of this side, the {nth} was {colour}",
                                  "on this side in the {name} row, the {nth} one is {colour}"])  # fmt: skip
def test_a_row_of_the_side_that_is_spoken_of(form: str) -> None:
    """It is changed where it is named, not in the row told last."""
    lesson, hands = reading(0)
    first, wrong = hands.question.query, row(hands)
    other = next(
        told for told in ((*wrong[:2], colour) for colour in lesson.knowledge.colours.values())
        if told != wrong and may_be(lesson, hands, told)
    )  # fmt: skip
    hands.take(lesson.handle(utter("so", Meaning(colours=other))))
    for _ in range(4):
        if hands.listen.asked == "row" and hands.question.query.face == first.face:
            break
        hands.take(lesson.handle(hands.answer()))
    name = {1: "upper", 2: "middle", 3: "lower"}[first.row or 0]
    say(lesson, hands, form.format(name=name, nth="third", colour=wrong[2]))
    assert put_right(hands, wrong)
    assert solved(lesson, hands)


def test_a_side_that_is_not_asked_about_is_asked_about_before_it_is_believed() -> None:
    """Only a yes makes it an answer."""
    for answer in ("yes", "no"):
        lesson, hands = reading(1)
        asked, word, known = hands.question, row(hands)[0], lesson.knowledge.reading
        other = "top" if asked.query.face != "U" else "front"
        say(lesson, hands, f"the {other} is all {word}")
        assert hands.question.text.startswith("Do you mean the ") and lesson.knowledge.reading == known
        hands.take(lesson.handle(command(answer)))
        assert (hands.question == asked) == (answer == "no")
