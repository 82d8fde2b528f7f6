"""What an answer tells beside its meaning, however it is spelt."""

from __future__ import annotations

from typing import get_args

import pytest

from coach.language import Meaning, Scene
from coach.language.aside import Aside, Mark
from tests.loaded import load


def aside(text: str) -> Aside:
    return load().aside(text, "row", Scene())


@pytest.mark.parametrize(
    "text", ["Stop!", "STOP.", "stooooop", "I’d like to stop.", "i'd  like to - stop", "Let's stop, here?"]
)
def test_a_plain_way_is_the_whole_of_what_is_said(text: str) -> None:
    assert {"stop", "only-stop"} <= aside(text).marks
    assert "only-stop" not in aside(f"{text} the kettle").marks


@pytest.mark.parametrize("text", ["Noooo, not that", "no... wait", "Nope"])
def test_it_opens_what_is_said(text: str) -> None:
    assert "no-first" in aside(text).marks and "no-first" not in aside(f"well {text}").marks


@pytest.mark.parametrize("text", ["north of it", "nothing", "stopwatch", ""])
def test_a_longer_word_is_another_one(text: str) -> None:
    assert not {"no-first", "stop", "only-stop"} & aside(text).marks


def test_every_mark_can_be_said() -> None:
    said = ["stop", "my answer was wrong", "go on", "finish this one", "carry on", "yes", "no", "never mind",
            "forget them all", "from the start", "why", "I did the last two", "not yet", "blue is facing me",
            "the row before", "it was red", "I'm here", "um", "are you there", "I only did half of it",
            "how does it begin", "I'm back", "okay", "my cube looks different", "go faster", "that's the lot",
                "the corner is not in"]  # fmt: skip
    of_class = {mark for text in ("say the hold again", "Tom dropped his", "nobody needs this")
                for mark in load().aside(text, "turn", Scene(size=25)).marks}  # fmt: skip
    assert {mark for text in said for mark in aside(text).marks} | of_class == set(get_args(Mark))


def test_a_row_is_named_by_its_face_and_its_place_there() -> None:
    for text, row in (
        ("whoops, the front's lower one is", ("F", 3)),
        ("I mean the top row on the left side", ("L", 1)),
        ("the front row of the bottom", ("D", 1)),
        ("the front row of the top", ("U", 3)),
        ("not the upper row of the front, the middle row of the right", ("R", 2)),
        ("ah no, front lower row was", ("F", 3)),
        ("and top back row is", ("U", 1)),
        ("on the left it's", None),
        ("on the left side, in the lower row, it is", ("L", 3)),
        ("the upper row of this side is", ("", 1)),
        ("and the lower row", ("", 3)),
    ):
        assert aside(text).row_named == row


@pytest.mark.parametrize(
    "text", ["the upper row of the right side is {row}", "whoops, the left side's upper one is {row}", "{row}"]
)
def test_a_row_is_read_rightly_whatever_side_is_named(text: str) -> None:
    for row in (("red", "orange", "blue"), ("white", "yellow", "yellow")):
        assert load().understand(text.format(row=" ".join(row)), "row") == Meaning(colours=row)


def test_the_first_word_that_is_asked_about_is_explained() -> None:
    assert aside("what is an edge, and what is a corner?").word == "glossary.edge"
    assert aside("what are the top corners about").word == "what.top-corners"
    assert aside("what do you mean").word is None


@pytest.mark.parametrize(
    "text", ["not red, orange", "orange, not red", "I said red but it's orange",
             "what I called red is orange", "swap that red for orange"],
)  # fmt: skip
def test_a_colour_takes_the_place_of_the_one_that_was_told(text: str) -> None:
    row = aside(text).row
    assert row and row.instead == ("red", "orange") and not row.colours


@pytest.mark.parametrize(
    ("text", "side"),
    [("the top is all yellow, I promise you", "U"), ("The left side was completely red", "L"), ("all red", None),
     ("the top is yellow, the front is all green", None)],
)  # fmt: skip
def test_a_side_is_said_to_be_of_one_colour(text: str, side: str | None) -> None:
    assert aside(text).side == side


@pytest.mark.parametrize(
    ("text", "sticker"),
    [
        ("no, there's blue in front", ("F", "blue")),
        ("no there's still a red one at the back", ("B", "red")),
        ("nope, the left side has a green sticker", ("L", "green")),
        ("orange is on top", ("U", "orange")),
        ("no, the green one isn't on the left", None),
        ("no, red should be on the left", None),
        ("no, there's blue and red in front", None),
        ("no, blue", None),
    ],
)
def test_a_reason_may_name_a_sticker(text: str, sticker: tuple[str, str] | None) -> None:
    assert aside(text).sticker == sticker


@pytest.mark.parametrize(
    ("text", "front"),
    [
        ("blue is in front", "blue"), ("no, I have red facing me", "red"), ("red is in front, not green", "red"),
        ("green's behind, blue in front", "blue"), ("blue points at me", "blue"), ("green isn't in front", None),
        ("red and blue in front", None), ("red, red, blue", None),
    ],
)  # fmt: skip
def test_the_side_that_is_said_to_be_in_front(text: str, front: str | None) -> None:
    assert aside(text).front == front
