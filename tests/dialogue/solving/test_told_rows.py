"""What a learner says of rows they have told while the cube is read: one put right by its places, which were heard."""

from __future__ import annotations

import re
from itertools import product
from random import Random

import pytest

from coach.belief.reading.rows import most_rows
from coach.belief.reading.stickers import KnownStickers, ways
from coach.cube import FACES, Cube
from coach.dialogue.lesson import Lesson
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.told_rows import put_right_on_side
from coach.language.aside import RowPutRight
from coach.language.meaning import Meaning
from coach.simulation import scrambled
from tests.dialogue.hands import Hands, command, solved
from tests.dialogue.hearing import utter
from tests.dialogue.solving.test_reading import put_right, reading, row, say

ENDS = {0: "first", 2: "last"}


def told_wrongly(at: str, place: int = 2) -> tuple[Lesson, Hands, tuple[str, ...], tuple[str, ...]]:
    """A row has been told with another colour at `place` that may be there, and the coach now waits for the cube to be
    turned (`at` "ready") or asks for the next row: what the row is, and what was told."""
    for seed in range(30):
        lesson, hands = reading(3, scrambled(Random(seed)))
        true, told = row(hands), wrong_row(lesson, hands, place)
        if told:
            hands.take(lesson.handle(utter("so", Meaning(colours=told))))
            if hands.listen.asked == at:
                return lesson, hands, true, told
    raise AssertionError("no such reading")


def wrong_row(lesson: Lesson, hands: Hands, place: int) -> tuple[str, ...]:
    """The row that is asked for with another colour at `place` that may be there; none where there is no such one."""
    true, asked, knowledge = row(hands), hands.question.query, lesson.knowledge
    faces = {colour: face for face, colour in knowledge.colours.items()}
    names = [f"{asked.face}{3 * (asked.row or 0) - 3 + i}" for i in range(3)]
    for face in FACES:
        told = tuple(knowledge.colours[face] if i == place else colour for i, colour in enumerate(true))
        letters = {name: faces[colour] for name, colour in zip(names, told, strict=True) if name[1] != "4"}
        if told != true and told.count(told[place]) == 1 and ways(knowledge.reading.seeing(letters)) > 1000:
            return told
    return ()


@pytest.mark.parametrize("at", ["ready", "row"])
@pytest.mark.parametrize("place", [0, 2])
@pytest.mark.parametrize(
    "form",
    ["the {place} was {right}", "no wait, the {place} is {right}", "sorry, {right} at the {place} place, not {wrong}",
     "not {wrong}, {right}", "I said {wrong} but it's {right}"],
)  # fmt: skip
def test_a_row_is_put_right_by_the_place_of_a_sticker(at: str, place: int, form: str) -> None:
    lesson, hands, true, told = told_wrongly(at, place)
    say(lesson, hands, form.format(place=ENDS[place], right=true[place], wrong=told[place]))
    assert put_right(hands, true)
    assert solved(lesson, hands) and not hands.end.slips  # type: ignore[union-attr]


def test_who_puts_a_row_right_while_the_cube_is_turned_is_told_what_to_hold_and_waited_for() -> None:
    lesson, hands, true, _ = told_wrongly("ready")
    say(lesson, hands, f"the last one was {true[2]}")
    held = f"Hold the cube with {hands.colour('U4')} on top and {hands.colour('F4')} facing you."
    assert hands.texts[-2] == held and hands.listen.asked == "ready" and hands.listen.seconds > 60
    assert solved(lesson, hands)


def test_two_corrections_one_after_the_other_while_the_cube_is_turned() -> None:
    lesson, hands, true, _ = told_wrongly("ready")
    say(lesson, hands, f"oh, the first one was {next(c for c in lesson.knowledge.colours.values() if c != true[0])}")
    say(lesson, hands, f"no, the first was {true[0]}")
    say(lesson, hands, f"and the last was {true[2]}")
    assert put_right(hands, true)
    assert solved(lesson, hands)


@pytest.mark.parametrize("at", ["ready", "row"])
@pytest.mark.parametrize("text", ["I read that row wrong", "oh no, I misread the last row", "that row was nonsense"])
def test_a_row_that_was_wrong_is_read_again(at: str, text: str) -> None:
    lesson, hands, true, _ = told_wrongly(at)
    known = len(lesson.knowledge.reading.read)
    say(lesson, hands, text)
    assert "All right, then let's read that row again." in hands.texts
    assert len(lesson.knowledge.reading.read) < known
    while hands.listen.asked == "ready":
        hands.take(lesson.handle(hands.answer()))
    assert row(hands) in (true, true[::-1])
    assert solved(lesson, hands)


def test_what_would_be_no_row_has_the_row_read_again() -> None:
    for place in ENDS:
        lesson, hands, true, _ = told_wrongly("row", place)
        for first, last in product(lesson.knowledge.colours.values(), repeat=2):
            if not may_be(lesson, hands, first, last):
                say(lesson, hands, f"no, the first one was {first} and the last one was {last}")
                assert "I can't make that fit. Let's do it once more." in hands.texts and row(hands) == true
                assert solved(lesson, hands)
                return
    raise AssertionError("all rows may be")


def may_be(lesson: Lesson, hands: Hands, first: str, last: str) -> bool:
    """Whether the row that was told last can have these colours at its ends."""
    query = [say.query for say in hands.asked if say.query.asks == "row"][-2]
    faces = {word: face for face, word in lesson.knowledge.colours.items()}
    at = 3 * (query.row or 0) - 3
    ends = {f"{query.face}{at}": faces[first], f"{query.face}{at + 2}": faces[last]}
    return ways(lesson.knowledge.reading.seeing(ends)) > 0


def test_who_asks_which_rows_were_heard_is_told_the_last_two_and_how_many_are_to_come() -> None:
    lesson, hands = reading(0)
    rows = []
    while len(rows) < 3:
        if hands.listen.asked == "row":
            asked = re.match(r"Look at the (?P<face>.*)\. Read me its (?P<row>\w+) row", hands.question.text)
            assert asked
            rows.append(f"{', '.join(row(hands))} in the {asked['row']} row of the {asked['face']}")
        hands.take(lesson.handle(hands.answer()))
    question = hands.question
    say(lesson, hands, "which rows have you got?")
    n = most_rows(lesson.knowledge.reading)
    told = f"I've got 3 rows. The last one was {rows[-1]}, and the one before it {rows[-2]}."
    assert f"{told} At most {n} more rows, if they all fit." in hands.texts
    assert hands.question == question
    assert solved(lesson, hands)


@pytest.mark.parametrize("seed", range(4))
def test_never_more_rows_are_asked_for_than_was_said(seed: int) -> None:
    lesson, hands = reading(0, scrambled(Random(seed)))
    left = []
    while "That's enough. Now I know the whole cube." not in hands.texts:
        asked = hands.listen.asked
        if asked in ("row", "claim"):
            left.append(most_rows(lesson.knowledge.reading))
        hands.take(lesson.handle(hands.answer()))
    assert all(len(left) - number <= most + 1 for number, most in enumerate(left)), left
    assert left == sorted(left, reverse=True)


@pytest.mark.parametrize("text", ["how many more?", "how long does this take"])
def test_how_many_rows_there_are_is_told_before_the_first(text: str) -> None:
    lesson, hands = reading(0)
    say(lesson, hands, text)
    assert f"At most {most_rows(lesson.knowledge.reading)} more rows, if they all fit." in hands.texts
    assert hands.listen.asked == "row"


def answer_to_fall(lesson: Lesson, hands: Hands, answer: str) -> None:
    assert hands.question.query.about == "fell", hands.texts[-3:]
    hands.take(lesson.handle(command(answer)))


@pytest.mark.parametrize("text", ["it fell down", "oh, I dropped it"])
@pytest.mark.parametrize("at", ["ready", "row"])
def test_a_fall_that_turned_nothing_costs_no_row(text: str, at: str) -> None:
    lesson, hands = reading(3)
    while hands.listen.asked != at:
        hands.take(lesson.handle(hands.answer()))
    known = lesson.knowledge.reading
    say(lesson, hands, text)
    answer_to_fall(lesson, hands, "no")
    assert lesson.knowledge.reading == known and hands.listen.asked == at
    assert "Good, then nothing is lost." in hands.texts
    assert solved(lesson, hands)


def test_a_fall_that_turned_a_side_has_the_cube_read_from_the_beginning() -> None:
    lesson, hands = reading(3)
    say(lesson, hands, "it fell down")
    hands.cube = hands.cube.do("R")
    answer_to_fall(lesson, hands, "yes")
    assert not lesson.knowledge.reading.read
    assert solved(lesson, hands)


@pytest.mark.parametrize("turn", ["", "R", "B", "D"])
def test_who_cannot_tell_what_a_fall_has_turned_is_asked_for_rows_that_were_told(turn: str) -> None:
    lesson, hands = reading(5)
    say(lesson, hands, "I dropped it")
    hands.cube = hands.cube.do(turn)
    answer_to_fall(lesson, hands, "unsure")
    while hands.listen.asked in ("claim", "ready"):
        hands.take(lesson.handle(hands.answer()))
    assert bool(lesson.knowledge.reading.read) == (not turn)
    assert solved(lesson, hands)


@pytest.mark.parametrize(
    ("letters", "said", "right"),
    [("FRU", RowPutRight({-1: "green"}), "FRF"), ("FRU", RowPutRight(instead=("orange", "blue")), "FBU"),
     ("FRU", RowPutRight(exchanged=(0, -1)), "URF"), ("FRU", RowPutRight(exchanged=("green", "yellow")), "URF"),
     ("FRU", RowPutRight({0: "blue"}, named=("R", 2)), "BRU"), ("FRU", RowPutRight({0: "blue"}, named=("R", 3)), "FRU"),
     ("FRU", RowPutRight({0: "blue"}, named=("L", 2)), "FRU"), ("FRU", RowPutRight({0: "blue"}, before=True), "FRU"),
     ("FRU", RowPutRight({4: "blue"}), "FRU"), ("FRU", RowPutRight(exchanged=(3, 4)), "FRU")],
)  # fmt: skip
def test_a_row_is_put_right_as_far_as_it_is_told(letters: str, said: RowPutRight, right: str) -> None:
    knowledge = Knowledge(KnownStickers(Cube().faces))
    assert "".join(put_right_on_side(knowledge, letters, said, ("R", 2))) == right


def test_of_a_whole_side_the_row_that_is_meant_has_to_be_named() -> None:
    knowledge, row = Knowledge(KnownStickers(Cube().faces)), dict(enumerate(("blue", "blue", "blue")))
    for named, right in ((None, "FRUFRUFRU"), (("", 2), "FRUBBBFRU"), (("R", 3), "FRUFRUBBB"), (("F", 3), "FRUFRUFRU")):
        told = put_right_on_side(knowledge, "FRUFRUFRU", RowPutRight(row, named=named), ("R", 1))
        assert "".join(told) == right


@pytest.mark.parametrize("form", ["no, my finger slipped, the first one's {right}", "not {wrong}, {right}"])
def test_after_a_row_that_cannot_be_a_correction_is_about_that_row(form: str) -> None:
    for seed in range(10):
        lesson, hands = reading(3, scrambled(Random(seed)))
        true = row(hands)
        for wrong in lesson.knowledge.colours.values():
            told = (wrong, *true[1:])
            if hands.question.query.row != 2 and told.count(wrong) == 1 and not may_be_asked(lesson, hands, wrong):
                hands.take(lesson.handle(utter("so", Meaning(colours=told))))
                if hands.texts[-2] == "I can't make that fit. Let's do it once more.":
                    say(lesson, hands, form.format(right=true[0], wrong=wrong))
                    assert put_right(hands, true)
                    assert solved(lesson, hands)
                    return
                break
    raise AssertionError("all rows may be")


def may_be_asked(lesson: Lesson, hands: Hands, first: str) -> bool:
    """Whether the row that is asked for can begin with that colour, the rest being as it is."""
    asked, faces = hands.question.query, {word: face for face, word in lesson.knowledge.colours.items()}
    names = [f"{asked.face}{3 * (asked.row or 0) - 3 + i}" for i in range(3)]
    told = (first, *row(hands)[1:])
    letters = {name: faces[colour] for name, colour in zip(names, told, strict=True)}
    return ways(lesson.knowledge.reading.seeing(letters)) > 0
