"""What a learner says beside the rows of a cube that they read: corrections, another row, a new beginning."""

from __future__ import annotations

import re
from itertools import product
from random import Random

import pytest

from coach.belief.reading.stickers import ways
from coach.cube import FACES, Cube
from coach.dialogue import Heard, Rotate, Tell
from coach.dialogue.lesson import Lesson
from coach.language.meaning import Command, Meaning
from coach.simulation import scrambled
from tests.dialogue.hands import Hands, check, command, new_lesson, solved
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()
CUBE = scrambled(Random(3))


def reading(rows: int, cube: Cube = CUBE) -> tuple[Lesson, Hands]:
    """A lesson in which the cube is read, with so many rows told."""
    lesson, hands = new_lesson(None), Hands(cube)
    hands.take(lesson.start())
    while hands.listen.asked != "row" or rows:
        rows -= hands.listen.asked == "row"
        hands.take(lesson.handle(hands.answer()))
    return lesson, hands


def row(hands: Hands) -> tuple[str, ...]:
    """The colours of the row that is asked for."""
    heard = hands.answer()
    assert isinstance(heard, Heard) and heard.meaning
    return heard.meaning.colours


def say(lesson: Lesson, hands: Hands, text: str) -> None:
    """Say it, as the reader understands it."""
    meaning = LANGUAGE.understand(text, hands.listen.asked, hands.listen.scene)
    hands.take(lesson.handle(utter(text, meaning, at=hands.listen)))


def misread(lesson: Lesson, hands: Hands) -> tuple[str, ...]:
    """The row that is asked for is told wrongly, but as it might be; what it is."""
    colours, asked, knowledge = row(hands), hands.question, lesson.knowledge
    assert asked.query.row
    places = [f"{asked.query.face}{3 * asked.query.row - 3 + i}" for i in range(3)]
    faces = {colour: face for face, colour in knowledge.colours.items()}
    letters = {place: faces[colour] for place, colour in zip(places, colours, strict=True)}
    ends = [
        {places[0]: one, places[2]: other} for one, other in product(FACES, FACES) if one != letters[places[0]]
    ]
    outer = [end for end in ends if ways(knowledge.reading.seeing({**letters, **end})) > 1000]
    told = [knowledge.colours[letter] for letter in {**letters, **outer[0]}.values()]
    hands.take(lesson.handle(utter("so", Meaning(colours=tuple(told)))))
    while hands.listen.asked == "ready":
        hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked == "row" and hands.question.query != asked.query
    return colours


def put_right(hands: Hands, colours: tuple[str, ...]) -> bool:
    """Whether the coach has said, by its name, that a row is of these colours."""
    now = rf"All right, then the \w+ row of the [a-z ]+(, as you held it then,)? is {', '.join(colours)}\."
    return any(re.fullmatch(now, text) for text in hands.texts)


@pytest.mark.parametrize(
    "form",
    ["sorry, the row before was {row}", "no, {row}, I read the wrong row", "oops, the one before should be {row}"],
)
@pytest.mark.parametrize("rows", [0, 1, 4])
def test_the_row_before_is_put_right_where_that_is_said(rows: int, form: str) -> None:
    lesson, hands = reading(rows)
    colours = misread(lesson, hands)
    say(lesson, hands, form.format(row=" ".join(colours)))
    assert put_right(hands, colours)
    assert solved(lesson, hands) and not hands.end.slips  # type: ignore[union-attr]


def test_a_row_that_was_said_backwards_is_put_right() -> None:
    lesson, hands = reading(1)
    while row(hands) == row(hands)[::-1]:
        hands.take(lesson.handle(hands.answer()))
    colours = row(hands)
    hands.take(lesson.handle(utter("so", Meaning(colours=colours[::-1]))))
    say(lesson, hands, f"no, {' '.join(colours)}")
    assert put_right(hands, colours)
    assert solved(lesson, hands)


def test_where_it_is_not_clear_the_coach_asks_whether_the_row_before_is_meant() -> None:
    lesson, hands = reading(1)
    colours = misread(lesson, hands)
    say(lesson, hands, f"no, {' '.join(colours)}")
    asked = hands.question.text
    assert asked.startswith("Do you mean the row before, the ") and asked.endswith(f": {', '.join(colours)}?")
    hands.take(lesson.handle(command("yes")))
    assert solved(lesson, hands)


def test_a_no_to_that_leaves_the_answer_where_it_was_asked_for() -> None:
    lesson, hands = reading(2)
    colours = row(hands)
    say(lesson, hands, f"no wait, {' '.join(colours)}")
    if hands.question.text.startswith("Do you mean the row before"):
        hands.take(lesson.handle(command("no")))
    assert solved(lesson, hands)


def test_no_answer_to_that_has_the_row_asked_for_again() -> None:
    lesson, hands = reading(1)
    asked, colours = hands.question, row(hands)
    say(lesson, hands, f"sorry, {' '.join(colours)}")
    assert "the row before" in hands.question.text
    hands.take(lesson.handle(utter("my tea is cold", None)))
    assert hands.question == asked
    assert solved(lesson, hands)


def test_a_row_that_is_named_is_put_where_it_is() -> None:
    lesson, hands = reading(1)
    assert (hands.question.query.face, hands.question.query.row) != ("F", 2)
    colours = [hands.colour(f"F{place}") for place in (3, 4, 5)]
    say(lesson, hands, f"the middle row of the front is {' '.join(colours)}")
    assert f"All right, then the middle row of the front is {', '.join(colours)}." in hands.texts
    check(lesson, hands)
    assert solved(lesson, hands)


def test_a_row_read_earlier_can_be_named_to_put_it_right() -> None:
    lesson, hands = reading(0)
    query, colours = hands.question.query, misread(lesson, hands)
    assert query.face == "F"
    hands.take(lesson.handle(hands.answer()))
    name = {1: "upper", 2: "middle", 3: "lower"}[query.row or 0]
    say(lesson, hands, f"whoops, I read you the wrong row there: the front's {name} one is {' '.join(colours)}")
    assert solved(lesson, hands)


def test_an_answer_that_only_looks_like_a_correction_is_taken_as_it_is() -> None:
    """It is the row that was asked for, and nothing is asked of it."""
    lesson, hands = reading(2)
    for form in ("okay, so {row}", "{row}, wait, is that it? yes, {row}", "left to right {row}"):
        if hands.listen.asked == "row":
            questions = hands.says
            say(lesson, hands, form.format(row=" ".join(row(hands))))
            assert not any("the row before" in text for text in hands.texts[len(questions) :])
    assert solved(lesson, hands)


def test_several_answers_are_taken_back_one_after_another() -> None:
    lesson, hands = reading(1)
    known = lesson.knowledge.reading
    for _ in range(3):
        misread(lesson, hands)
    turned = [str(say.rotation) for say in hands.says if isinstance(say, Rotate)]
    for _ in range(3):
        hands.take(lesson.handle(command("correct")))
        while hands.listen.asked == "ready":
            hands.take(lesson.handle(hands.answer()))
    assert len(lesson.knowledge.reading.read) == len(known.read), turned
    assert hands.texts.count("All right, I'll forget that answer.") == 3
    assert solved(lesson, hands)


@pytest.mark.parametrize(
    "text", ["start over", "read the whole thing again from the top", "let's begin the reading over from nothing"]
)
def test_the_reading_begins_anew_where_that_is_wanted(text: str) -> None:
    lesson, hands = reading(1)
    misread(lesson, hands)
    say(lesson, hands, text)
    assert "All right. Let's read it again, from the beginning." in hands.texts
    assert not lesson.knowledge.reading.read
    assert solved(lesson, hands)


@pytest.mark.parametrize("answer", ["yes", "no"])
def test_much_that_was_read_is_not_forgotten_without_a_question(answer: Command) -> None:
    lesson, hands = reading(5)
    known = len(lesson.knowledge.reading.read)
    hands.take(lesson.handle(command("restart-run")))
    assert hands.question.query.about == "anew" and len(lesson.knowledge.reading.read) == known
    hands.take(lesson.handle(command(answer)))
    assert len(lesson.knowledge.reading.read) == (known if answer == "no" else 0)
    assert solved(lesson, hands)


def two_turns() -> tuple[Lesson, Hands]:
    """A reading in which the whole cube is to be turned twice for the next row."""
    for seed in range(20):
        lesson, hands = reading(1, scrambled(Random(seed)))
        while not hands.turns and not hands.end:
            if [*map(type, hands.says[-3:])] == [Rotate, Rotate, Tell]:
                return lesson, hands
            hands.take(lesson.handle(hands.answer()))
    raise AssertionError("no such reading")


def test_two_turns_of_the_whole_cube_are_told_at_once_with_what_is_held_then() -> None:
    lesson, hands = two_turns()
    first, then, held = hands.texts[-3:]
    assert then.startswith("Then ") and first.startswith(("Turn ", "Keep "))
    assert held == f"Now {hands.colour('U4')} should be on top, and {hands.colour('F4')} facing you."
    hands.take(lesson.handle(command("repeat")))
    assert hands.texts[-3:] == [f"I said: {text}" for text in (first, then, held)]
    assert solved(lesson, hands)


def test_who_says_that_several_answers_were_wrong_has_the_last_one_forgotten() -> None:
    lesson, hands = reading(3)
    known = len(lesson.knowledge.reading.read)
    say(lesson, hands, "my last three answers were all wrong, forget them all")
    assert "All right, I'll forget that answer." in hands.texts
    assert len(lesson.knowledge.reading.read) < known
    assert solved(lesson, hands)
