"""An answer that names another piece than the one asked for goes to the piece that it names."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import PLACE_NAMES, position_of
from coach.dialogue import Heard
from coach.dialogue.lesson import Lesson
from coach.simulation import scrambled
from tests.dialogue.hands import COLOURS, Hands, new_lesson, solved
from tests.loaded import load


def hear(lesson: Lesson, hands: Hands, text: str) -> None:
    """Say `text`, as the reader understands it here."""
    listen = hands.listen
    hands.take(lesson.handle(Heard.read(text, load().read(text, listen.asked, listen.scene), listen.asked)))


def second_piece() -> tuple[Lesson, Hands, tuple[str, ...]]:
    """The second edge of the bottom cross is asked for; and the first one."""
    lesson, hands = new_lesson("bottom-cross"), Hands(scrambled(Random(1)))
    hands.take(lesson.start())
    first = hands.question.query.piece
    hands.take(lesson.handle(hands.answer()))
    assert hands.listen.asked == "piece" and hands.question.query.piece != first
    return lesson, hands, first


def where(hands: Hands, piece: tuple[str, ...]) -> str:
    """Where that piece is and how it lies, in words."""
    names = {colour: face for face, colour in COLOURS.items()}
    home = position_of("".join(names[colour] for colour in piece))
    places = dict(zip(home, hands.cube.pieces[home][1], strict=True))
    at = [PLACE_NAMES[place][0] for place in places.values()]
    layer = {"U": "on top", "D": "at the bottom"}.get(next((face for face in at if face in "UD"), ""), "in the middle")
    sides = " ".join({"F": "front", "B": "back", "R": "right", "L": "left"}[face] for face in "FBRL" if face in at)
    facing = {"U": "up", "D": "down", "F": "towards me", "B": "away from me", "R": "to the right", "L": "to the left"}
    return f"{layer}, {sides}, white points {facing[PLACE_NAMES[places['D']][0]]}"


@pytest.mark.parametrize(
    "opening",
    [
        "no, the {piece} edge is", "ah shit wrong, the {piece} one is", "oops, sorry, the {piece} edge is",
        "wait, {piece} is",
    ],
)
def test_what_was_said_of_the_last_piece_is_put_right_where_it_is_named(opening: str) -> None:
    lesson, hands, first = second_piece()
    asked = hands.question.query.piece
    hear(lesson, hands, f"{opening.format(piece=' and '.join(first))} {where(hands, first)}")
    assert any(f"the {' and '.join(first)} edge" in text for text in hands.texts[-3:])
    assert hands.question.query.piece == asked, "and the question before it is asked again"
    assert solved(lesson, hands)


@pytest.mark.parametrize("text", ["that was the {other} one I was on about", "ah shit wrong, that is white {other}"])
def test_an_answer_that_was_another_piece_s_is_taken_back(text: str) -> None:
    lesson, hands, first = second_piece()
    named = (*first, *hands.question.query.piece)
    other = next(colour for colour in ("blue", "red", "orange") if colour not in named)
    hear(lesson, hands, text.format(other=other))
    assert hands.question.query.piece == first or f"white and {other} edge" in " ".join(hands.texts[-2:])
    assert solved(lesson, hands)


def test_what_is_said_of_a_piece_that_was_not_asked_for_yet_is_kept_for_it() -> None:
    lesson, hands, first = second_piece()
    asked = hands.question.query.piece
    other = next(colour for colour in ("blue", "red", "orange") if colour not in (*first, *asked))
    hear(lesson, hands, f"the white and {other} edge is {where(hands, ('white', other))}")
    assert hands.question.query.piece == asked
    assert solved(lesson, hands)
    pieces = [say.query.piece for say in hands.asked if say.query.asks == "piece"]
    assert ("white", other) not in pieces, "it was told of already"


def test_the_piece_that_was_asked_for_may_be_named() -> None:
    lesson, hands, _ = second_piece()
    asked = hands.question.query.piece
    hear(lesson, hands, f"no, the {asked[1]} one is {where(hands, asked)}")
    assert hands.question.query.piece != asked
    assert solved(lesson, hands)


def test_the_piece_before_the_last_may_be_named() -> None:
    lesson, hands, first = second_piece()
    hands.take(lesson.handle(hands.answer()))
    asked = hands.question.query.piece
    hear(lesson, hands, f"no, the {' and '.join(first)} edge is {where(hands, first)}")
    assert f"the {' and '.join(first)} edge is" in hands.texts[-2]
    assert hands.question.query.piece == asked
    assert solved(lesson, hands)


@pytest.mark.parametrize(
    ("answers", "means"),
    [
        (["yes"], "last"),
        (["no", "yes"], "first"),
        (["nope", "no"], "asked"),
        (["the {last} one"], "last"),
        (["the {first} one"], "first"),
        (["no, white and {asked}"], "asked"),
        (["no, not the {last} one", "yeah"], "first"),
        (["hm what", "no", "yes"], "first"),
    ],
)
def test_a_correction_that_fits_several_pieces_is_asked_about_one_by_one(answers: list[str], means: str) -> None:
    lesson, hands, first = second_piece()
    last = hands.question.query.piece
    hands.take(lesson.handle(hands.answer()))
    asked = hands.question.query.piece
    pieces = {"first": first, "last": last, "asked": asked}
    hear(lesson, hands, f"sorry, the white one is {where(hands, pieces[means])}")
    assert hands.texts[-1] == f"Do you mean the {' and '.join(last)} edge?"
    for answer in answers:
        assert hands.question.query.about == "which"
        hear(lesson, hands, answer.format(**{name: piece[1] for name, piece in pieces.items()}))
    assert any(f"So the {' and '.join(pieces[means])} edge is in the " in text for text in hands.texts[-2:])
    assert solved(lesson, hands)


def test_what_was_understood_of_a_piece_names_it() -> None:
    _, hands, first = second_piece()
    assert any(text.startswith(f"So the {' and '.join(first)} edge is in the ") for text in hands.texts)
