"""Whatever is typed or heard has a meaning or none; nothing fails, nothing hangs."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.language import QUESTIONS, Reading
from coach.language.en.answers import looks, pieces, rows
from coach.language.en.reader.roles import LONGEST
from tests.loaded import load

LANGUAGE = load()
ASKED = st.sampled_from(list(QUESTIONS))


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=200), ASKED)
def test_any_text_has_a_meaning_or_none(text: str, asked: str) -> None:
    reading = LANGUAGE.read(text, asked)
    assert isinstance(reading, Reading)
    assert 0.0 <= reading.confidence <= 1.0


@settings(max_examples=60, deadline=None)
@given(st.integers(), ASKED)
def test_chances_of_one_answer_never_exceed_one(seed: int, asked: str) -> None:
    from coach.language import Scene

    sample = Random(seed).choice((looks.looks, pieces.pieces, rows.rows))(Random(seed))
    chances = [chance for _, chance in LANGUAGE.understanding.told(sample.text, asked, Scene(piece=sample.piece))]
    assert sum(chances) <= 1.001
    assert all(chance >= 0 for chance in chances)


@pytest.mark.parametrize("asked", QUESTIONS)
def test_case_and_typographic_apostrophes_make_no_difference(asked: str) -> None:
    for text in ("it's the back one", "i don't know", "there's a line, it's left to right"):
        assert LANGUAGE.read(text.upper().replace("'", "\u2019"), asked) == LANGUAGE.read(text, asked)


@pytest.mark.parametrize("asked", QUESTIONS)
def test_a_very_long_line_is_read_up_to_a_limit(asked: str) -> None:
    words = ["left"] * LONGEST
    assert LANGUAGE.read(" ".join(words * 50), asked).best == LANGUAGE.read(" ".join(words * 3), asked).best


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=100), ASKED)
def test_binary_input_is_harmless(data: bytes, asked: str) -> None:
    LANGUAGE.read(data.decode("utf-8", "replace"), asked)
