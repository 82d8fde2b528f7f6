"""What is said of somebody else is no yes, nor is a yes that describes something else; where the cube is solved."""

from __future__ import annotations

import pytest

from coach.language.meaning import Meaning, Question, Scene
from tests.loaded import load

ENGLISH = load()
CROSS = Scene(claim=dict.fromkeys(("U1", "U3", "U5", "U7"), True), claimed=("yellow",) * 5)
ROW = Scene(claimed=("orange",) * 3)


def command(text: str, scene: Scene, asked: Question = "claim") -> str | None:
    meaning = ENGLISH.understand(text, asked, scene)
    return meaning.command if meaning else None


@pytest.mark.parametrize(
    "text",
    ["the cat has it", "my neighbour has it", "he's got it", "she does", "my little brother did", "ok"],
)
def test_somebody_else_has_not_checked_the_cube(text: str) -> None:
    assert command(text, CROSS) is None
    assert command(text, ROW) is None


@pytest.mark.parametrize("text", ["yes", "my cube has it", "all of them have it", "yes it is"])
def test_what_is_said_of_the_cube_counts(text: str) -> None:
    assert command(text, CROSS) == "yes"


@pytest.mark.parametrize("text", ["yeah all yellow", "yes a wonderful cross", "yes, they're all green"])
def test_a_yes_to_something_else_is_asked_about(text: str) -> None:
    assert command(text, ROW) is None


@pytest.mark.parametrize("text", ["yes all orange", "yeah, orange orange orange", "yep, all of it"])
def test_a_yes_with_what_was_claimed_is_one(text: str) -> None:
    assert command(text, ROW) == "yes"


@pytest.mark.parametrize(
    "text",
    [
        "blue", "yellow's on top, blue's in front", "blue, green is behind", "blue with yellow on top",
        "I see blue, red is on my left", "it's blue, not green",
    ],
)  # fmt: skip
def test_the_colour_in_front_is_told_from_those_elsewhere(text: str) -> None:
    assert ENGLISH.understand(text, "other", Scene(about="front")) == Meaning(colours=("blue",))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("I haven't got a cube here", "no"), ("no cube, just ask me things", "no"), ("I don't have a cube", "no"),
        ("nope you left it all mixed up yesterday", "no"), ("nearly, only the top is a quarter off", "no"),
        ("all six sides feel alike, yes", "yes"), ("every side is one colour", "yes"),
    ],
)  # fmt: skip
def test_whether_the_cube_is_solved_is_told_in_many_ways(text: str, meant: str) -> None:
    assert command(text, Scene(about="solved"), "other") == meant


def test_it_may_be_solved_by_now() -> None:
    first = Scene(about="solve-first")
    assert command("let's, it's almost there", first, "other") == "yes"
    assert command("let's not", first, "other") == "no"
    for text in ("it's solved now, I did it myself", "I've just solved it"):
        assert ENGLISH.understand(text, "other", first) == Meaning(case="solved")
