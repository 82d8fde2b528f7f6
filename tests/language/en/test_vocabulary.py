"""What recognisers are limited to: understood, pronounceable, and not too much at a time."""

from __future__ import annotations

import re
from itertools import permutations
from pathlib import Path

import pytest

from coach.dialogue import Listen
from coach.dialogue.lesson import ALL_STEPS, Lesson
from coach.language import QUESTIONS, USUAL_COLOURS, Question, Scene
from coach.method import default_method
from tests.loaded import load

LANGUAGE = load()
PLAIN = re.compile(r"[a-z']+( [a-z']+)*")
ALWAYS = ("repeat that", "wait a moment", "slow down", "help me", "stop now", "where are we", "i made a mistake")


PIECES = tuple(
    Scene(piece=piece)
    for piece in (
        ("white", "green"), ("white", "green", "orange"), ("white", "blue", "red"), ("blue", "red"),
        ("green", "orange"),
    )
)


TOP = tuple(f"U{place}" for place in range(9))


def is_understood(phrase: str, asked: Question) -> bool:
    """Where a piece is asked for, as an answer about an edge or a corner; a claim may be one about the whole top."""
    whole_top = (Scene(claim=dict.fromkeys(TOP, True)),) if asked == "claim" else ()
    scenes = PIECES if asked == "piece" else (Scene(), *whole_top)
    return any(LANGUAGE.understand(phrase, asked, scene) for scene in scenes)


@pytest.mark.parametrize("asked", QUESTIONS)
def test_every_phrase_is_understood(asked: Question) -> None:
    for phrase in LANGUAGE.phrases(asked):
        of_the_top = asked == "piece" and "yellow" in phrase  # no piece is asked for that has the colour on top
        assert of_the_top or is_understood(phrase, asked), phrase


@pytest.mark.parametrize("about", ["step", "return", "front", "colour", "repeat-row", "inspection", "solve", "another"])
def test_every_phrase_is_understood_by_what_is_asked_about(about: str) -> None:
    for phrase in LANGUAGE.phrases("other", Scene(about=about)):
        assert LANGUAGE.understand(phrase, "other", Scene(about=about)), phrase


def test_every_phrase_before_a_scramble_is_understood() -> None:
    for phrase in LANGUAGE.phrases("ready", Scene(about="scramble")):
        assert LANGUAGE.understand(phrase, "ready", Scene(about="scramble")), phrase


@pytest.mark.parametrize("asked", QUESTIONS)
def test_every_offer_can_be_heard_and_is_understood(asked: Question) -> None:
    offers = LANGUAGE.offers(asked)
    assert offers
    for offer in offers:
        assert is_understood(offer, asked), offer
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
    scene = Scene({**USUAL_COLOURS, "U": "white", "D": "pink", "F": "bumpy"})
    assert {"three pinks", "all bumpy"} <= set(LANGUAGE.phrases("row", scene))
    assert "three yellows" not in LANGUAGE.phrases("row", scene)
    assert "the whole top is white" in LANGUAGE.phrases("claim", scene)


def test_every_word_has_a_pronunciation() -> None:
    pocketsphinx = pytest.importorskip("pocketsphinx")
    file = Path(pocketsphinx.get_model_path(), "en-us", "cmudict-en-us.dict")
    known = {line.split()[0] for line in file.read_text("utf-8").splitlines() if line.strip()}
    words = {word for asked in QUESTIONS for phrase in LANGUAGE.phrases(asked) for word in phrase.split()}
    assert words <= known


def test_a_lesson_that_asks_for_the_step_can_hear_every_step() -> None:
    *_, listen = Lesson(default_method(), load().sentences, offers=LANGUAGE.offers).start()
    assert isinstance(listen, Listen)
    phrases = LANGUAGE.phrases(listen.asked, listen.scene)
    assert {step.replace("-", " ") for step in ALL_STEPS} <= set(phrases)
    assert set(LANGUAGE.offers(listen.asked, listen.scene)) <= set(phrases)
    assert "bottom cross" not in LANGUAGE.phrases(listen.asked)  # not where yes or no is asked


def test_a_piece_can_be_told_in_one_answer_in_every_way_it_can_lie() -> None:
    scene = Scene(piece=("red", "blue"))
    told = [phrase for phrase in LANGUAGE.phrases("piece", scene) if "layer" in phrase and "faces" in phrase]
    meant = [LANGUAGE.understand(phrase, "piece", scene) for phrase in told]
    lying = {(m.place, m.shows["red"]) for m in meant if m and m.place}
    edges = {(place, face) for place, face in lying if len(place) == 2}
    assert len(edges) == 24  # 12 places, two ways each
    assert all(face in place for place, face in lying)


@pytest.mark.parametrize("asked", ["look-top-edges", "look-top-corners"])
def test_every_pair_of_places_can_be_told_in_either_order(asked: Question) -> None:
    names = ("back", "front", "left", "right") if asked == "look-top-edges" else (
        "back left", "back right", "front left", "front right")  # fmt: skip
    pairs = {f"{one} and {other}" for one, other in permutations(names, 2)}
    assert pairs <= set(LANGUAGE.phrases(asked))
