"""Plain ways to say things are found however they are spelt."""

from __future__ import annotations

import pytest

from coach.language import Meaning
from tests.loaded import load

PHRASES = load().sentences


@pytest.mark.parametrize(
    "text", ["Stop!", "STOP.", "stooooop", "I’d like to stop.", "i'd  like to - stop", "Let's stop, here?"]
)
def test_a_plain_way_is_the_whole_of_what_is_said(text: str) -> None:
    assert PHRASES.plain("stop", text)
    assert PHRASES.opens("stop", text) and PHRASES.holds("stop", text)
    assert not PHRASES.plain("stop", f"{text} the kettle")


@pytest.mark.parametrize("text", ["Noooo, not that", "no... wait", "Nope"])
def test_it_opens_what_is_said(text: str) -> None:
    assert PHRASES.opens("no", text) and not PHRASES.opens("no", f"well {text}")


@pytest.mark.parametrize("text", ["north of it", "nothing", "stopwatch", ""])
def test_a_longer_word_is_another_one(text: str) -> None:
    assert not any(PHRASES.opens(way, text) or PHRASES.holds(way, text) for way in ("no", "stop"))


def test_a_row_is_named_by_its_face_and_its_place_there() -> None:
    assert PHRASES.row_named("whoops, the front's lower one is") == ("F", 3)
    assert PHRASES.row_named("I mean the top row on the left side") == ("L", 1)
    assert PHRASES.row_named("the front row of the bottom") == ("D", 1)
    assert PHRASES.row_named("the front row of the top") == ("U", 3)
    assert PHRASES.row_named("not the upper row of the front, the middle row of the right") == ("R", 2)
    assert PHRASES.row_named("on the left it's") is None


@pytest.mark.parametrize(
    "text", ["the upper row of the right side is {row}", "whoops, the left side's upper one is {row}", "{row}"]
)
def test_a_row_is_read_rightly_whatever_side_is_named(text: str) -> None:
    for row in (("red", "orange", "blue"), ("white", "yellow", "yellow")):
        assert load().understand(text.format(row=" ".join(row)), "row") == Meaning(colours=row)
