"""What recognisers are limited to: understood, pronounceable, and not too much at a time."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from coach.language import QUESTIONS, Question, Scene, load

LANGUAGE = load()
PLAIN = re.compile(r"[a-z']+( [a-z']+)*")
ALWAYS = ("repeat that", "wait a moment", "slow down", "help me", "stop now", "where are we", "i made a mistake")


@pytest.mark.parametrize("asked", QUESTIONS)
def test_every_phrase_is_understood(asked: Question) -> None:
    for phrase in LANGUAGE.phrases(asked):
        assert LANGUAGE.understand(phrase, asked), phrase


@pytest.mark.parametrize("asked", QUESTIONS)
def test_every_offer_can_be_heard_and_is_understood(asked: Question) -> None:
    offers = LANGUAGE.offers(asked)
    assert offers
    for offer in offers:
        assert LANGUAGE.understand(offer, asked), offer
        assert offer in LANGUAGE.phrases(asked) or asked in ("piece", "row", "face"), offer


@pytest.mark.parametrize("asked", QUESTIONS)
def test_phrases_are_plain_and_said_once(asked: Question) -> None:
    phrases = LANGUAGE.phrases(asked)
    assert len(set(phrases)) == len(phrases)
    assert all(PLAIN.fullmatch(phrase) for phrase in phrases)
    assert set(ALWAYS) <= set(phrases)


@pytest.mark.parametrize("asked", ["look-top-edges", "look-top-corners", "claim", "ready", "continue", "turn"])
def test_the_phrases_of_a_moment_are_few(asked: Question) -> None:
    assert len(LANGUAGE.phrases(asked)) <= 170


def test_the_colours_and_marks_of_the_moment_are_among_the_phrases() -> None:
    assert "three pinks" in LANGUAGE.phrases("row", Scene(names=("pink", "white")))
    assert "all bumpy" in LANGUAGE.phrases("row", Scene(marks={"bumpy": "yellow"}))
    assert "the whole top is white" in LANGUAGE.phrases("claim", Scene(up="white"))


def test_every_word_has_a_pronunciation() -> None:
    pocketsphinx = pytest.importorskip("pocketsphinx")
    file = Path(pocketsphinx.get_model_path(), "en-us", "cmudict-en-us.dict")
    known = {line.split()[0] for line in file.read_text("utf-8").splitlines() if line.strip()}
    words = {word for asked in QUESTIONS for phrase in LANGUAGE.phrases(asked) for word in phrase.split()}
    assert words <= known
