"""Plain ways to say things are found however they are spelt."""

from __future__ import annotations

import pytest

from coach.language.phrases import load_phrases

PHRASES = load_phrases()


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
