"""A row may be told sticker by sticker."""

from __future__ import annotations

import pytest

from coach.belief.reading.stickers import KnownStickers
from coach.cube import Cube
from coach.dialogue import Ask
from coach.dialogue.acts import Heard, Listen
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.rows import ask_row
from coach.dialogue.talk import Talk
from coach.language.meaning import USUAL_COLOURS
from tests.loaded import load

LANGUAGE = load()


def told(*answers: str) -> tuple[str, list[str]]:
    """The row that is taken from these answers, and the questions."""
    talk = Talk(LANGUAGE.sentences, colours=dict(USUAL_COLOURS))
    knowledge = Knowledge(KnownStickers.of(Cube()), dict(USUAL_COLOURS))
    asking, said, asked = ask_row(talk, knowledge, "F", 1), iter(answers), list[str]()
    act = next(asking)
    while True:
        event = None
        if isinstance(act, Ask):
            asked.append(act.text)
        if isinstance(act, Listen):
            text = next(said)
            event = Heard.read(text, LANGUAGE.read(text, act.asked, act.scene), act.asked)
        try:
            act = asking.send(event)
        except StopIteration as over:
            return " ".join(over.value.words), asked


@pytest.mark.parametrize(
    ("answers", "row"),
    [
        (("red", "green there as well", "blue"), "red green blue"),
        (("the first is red", "it's red again", "white"), "red red white"),
        (("I see green in the middle", "red", "blue"), "red green blue"),
        (("red", "blue and white"), "red blue white"),
        (("red", "sorry, green", "blue", "blue"), "green blue blue"),
        (("red", "red, white, blue"), "red white blue"),
        (("red, white, blue",), "red white blue"),
    ],
)
def test_what_was_told_is_kept_and_the_next_one_asked_for(answers: tuple[str, ...], row: str) -> None:
    assert told(*answers)[0] == row


def test_what_was_heard_is_said_with_the_question_for_the_next() -> None:
    _, asked = told("red", "green", "blue")
    assert asked[1:] == ["So far: red. And in the middle?", "So far: red, green. And on the right?"]


def test_of_two_at_once_nobody_knows_which_is_missing() -> None:
    _, asked = told("red green", "red, white, green")
    assert not any(text.startswith("So far") for text in asked)
