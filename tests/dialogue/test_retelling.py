"""What the coach has made of an answer, in its own words: whoever hears it back reads the same."""

from __future__ import annotations

from itertools import combinations

import pytest

from coach.dialogue import Heard
from coach.dialogue.lesson import Lesson
from coach.dialogue.retelling import retold
from coach.language import Command, Meaning, Question, Reading, Scene
from coach.method import default_method
from tests.loaded import load

LANGUAGE = load()
EDGES, CORNERS = ("U1", "U3", "U5", "U7"), ("U0", "U2", "U6", "U8")
TALK = Lesson(default_method(), load().sentences, "top-cross", None, LANGUAGE.offers).talk


def tops(places: tuple[str, ...]) -> list[dict[str, bool]]:
    every = [up for number in range(5) for up in combinations(places, number)]
    return [{place: place in up for place in places} for up in every]


@pytest.mark.parametrize(("asked", "places"), [("look-top-edges", EDGES), ("look-top-corners", CORNERS)])
def test_a_top_that_is_told_back_is_the_one_that_was_told(asked: Question, places: tuple[str, ...]) -> None:
    wrong = []
    for look in tops(places):
        text = retold(TALK, Meaning(look))
        assert text
        reading = LANGUAGE.read(text, asked).best
        said = {place: shown for place, shown in (reading.look if reading else {}).items() if place in places}
        if any(look[place] != shown for place, shown in said.items()):
            wrong.append(text)
    assert len(wrong) <= 1, wrong


def test_every_command_that_may_be_asked_about_has_words() -> None:
    for command in ("next", "repeat", "mistake", "stop", "lost", "back", "pain", "read", "unsure", "done-top"):
        assert retold(TALK, Meaning(command=command)), command


def test_a_piece_is_told_back_by_its_layer_its_sides_and_a_colour() -> None:
    text = retold(TALK, Meaning(place="UFR", shows={"white": "U"}))
    assert text == "top layer, front right, white up"
    said = LANGUAGE.understand(text, "piece", Scene(piece=("white", "green", "orange")))
    assert said is not None and said.place == "UFR" and said.shows["white"] == "U"


@pytest.mark.parametrize(
    ("meaning", "text"),
    [
        (Meaning(number=7), "7"),
        (Meaning(number=13), "13, 1 and 3"),
        (Meaning(number=30), "30, 3 and 0"),
        (Meaning(number=12), "12"),
        (Meaning(number=20), "20"),
        (Meaning(number=0), "0"),
        (Meaning(all_but=2), "all but 2"),
        (Meaning(all_but=0), "all of them"),
    ],
)
def test_a_count_that_sounds_like_another_is_told_back_by_its_figures(meaning: Meaning, text: str) -> None:
    assert retold(TALK, meaning) == text


@pytest.mark.parametrize(
    ("asked", "command", "asks"),
    [("turn", "mistake", True), ("turn", "slower", False), ("claim", "no", False), ("claim", "unsure", True)],
)
def test_what_is_likely_is_asked_about_where_a_wrong_guess_does_no_harm(
    asked: Question, command: Command, asks: bool
) -> None:
    heard = Heard.read("hm", Reading(Meaning(command=command), 0.6, acts=False, asks=True), asked)
    assert heard.meaning is None
    assert bool(heard.guesses) == asks
