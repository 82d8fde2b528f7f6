"""The coach's sentences, filled with whatever words the learner has for the six faces."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib.resources import files
from string import Formatter
from typing import Any

import pytest

from coach.language.phrases import Phrases
from tests.loaded import load

SIGHT = re.compile(
    r"\b(look|see|sight|view|watch|eye|colou?r|light|bright|dark|show|shown|seen|picture|red|green|blue|yellow|white"
    r"|orange)(s|ed|ing)?\b",
    re.IGNORECASE,
)
PLAIN = load().sentences
TOUCH = PLAIN.by_touch(True)
NOT_SAID = ("hints.",)
"""What is said by the learner."""


def said(phrases: Phrases) -> Iterator[tuple[str, str]]:
    """Each sentence by its key, its gaps open. What stands in a gap's braces is not said."""
    for key in phrases.all_keys():
        if not key.startswith(NOT_SAID):
            found: Any = phrases.open_forms(key)
            forms = found[0].values() if isinstance(found[0], dict) else found
            for form in forms:
                yield key, re.sub(r"\{\w+\}", "…", form)


def test_by_touch_nothing_is_looked_at_and_nothing_has_a_colour() -> None:
    bad = [(key, form) for key, form in said(TOUCH) if SIGHT.search(form)]
    assert not bad
    assert [key for key, form in said(PLAIN) if SIGHT.search(form)], "the list finds such words"


def over() -> dict[str, dict[str, Any]]:
    return tomllib.loads(files("coach.language").joinpath("en", "touch.toml").read_text("utf-8"))


def test_what_is_said_by_touch_has_a_sentence_for_sight_with_the_same_gaps() -> None:
    for section, entries in over().items():
        for name in entries:
            if section.startswith("calls"):
                continue
            key = f"{section}.{name}"
            assert PLAIN.has(key), key
            assert TOUCH.open_forms(key) != PLAIN.open_forms(key), f"{key} is the same for sight"
            assert [names(form) for form in TOUCH.open_forms(key)] == [names(form) for form in PLAIN.open_forms(key)]


def names(form: str) -> set[str]:
    """What the gaps of a sentence are about: {some_up} and {up_sticker} are both about {up}."""
    found = (name for _, name, _, _ in Formatter().parse(form) if name)
    learner = ("up", "down", "colour")
    return {next((word for word in learner if word in name.split("_")), name) for name in found} - {*learner}


def test_calls_and_all_that_is_the_same_stays_as_for_sight() -> None:
    assert TOUCH.all_keys() == PLAIN.all_keys()
    assert TOUCH.open_forms("rotations.y") == PLAIN.open_forms("rotations.y")
    assert TOUCH.open_forms("calls.plain")[0]["R"] == PLAIN.open_forms("calls.plain")[0]["R"]  # type: ignore[index]


@pytest.mark.parametrize(
    ("phrases", "word", "key", "sentence"),
    [
        (TOUCH, "dots", "ask.look-top-edges", "Feel the four edges on top. Which ones have dots on top?"),
        (TOUCH, "smooth", "ask.look-top-edges", "Feel the four edges on top. Which ones have a smooth sticker on top?"),
        (PLAIN, "orange", "claim.cross", "Is there an orange cross on top?"),
        (TOUCH, "dots", "claim.cross", "Is there a cross of dots on top?"),
        (TOUCH, "rough", "claim.cross", "Is there a rough cross on top?"),
        (PLAIN, "white", "claim.corners-up", "Do all four corners have white on top?"),
        (TOUCH, "lines", "seen.corners-0", "No corner with lines on top"),
    ],
)
def test_sentences_about_the_top_read_well_with_any_word(
    phrases: Phrases, word: str, key: str, sentence: str
) -> None:
    assert phrases.say(key, **phrases.gaps(word, "bumps")) == sentence


@pytest.mark.parametrize(
    ("phrases", "word", "asked", "piece"),
    [
        (PLAIN, "yellow", "Do you see yellow on the left?", "its yellow sticker point?"),
        (TOUCH, "dots", "Do you find dots on the left?", "its sticker with dots point?"),
        (TOUCH, "smooth", "Do you find a smooth sticker on the left?", "its smooth sticker point?"),
    ],
)
def test_sentences_about_one_sticker_read_well_with_any_word(
    phrases: Phrases, word: str, asked: str, piece: str
) -> None:
    where = phrases.part("columns.0")
    assert phrases.say("claim.sticker", row="upper", face="front", where=where, colour=word).endswith(asked)
    assert phrases.say("ask.piece", piece="it", colour=word, spot="front", layers="a layer").endswith(piece)


def test_what_a_voice_makes_ahead_has_the_word_for_the_top_in_it() -> None:
    assert "Is there an orange cross on top?" in PLAIN.ready_made("plain", up="orange")
