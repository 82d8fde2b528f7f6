"""What is said to somebody else, or of something that nobody asked about, is not believed; at most the coach asks."""

from __future__ import annotations

import pytest

from coach.language import Scene
from coach.language.meaning import Meaning, Question
from tests.loaded import load

LANGUAGE = load()
PIECE = Scene(piece=("white", "red"), others=(("white", "blue"), ("white", "green")))


@pytest.mark.parametrize(
    "text",
    ["my boss has a blue car, he parks it on the left in front of the house", "the white towel is at the back, on top",
     "your red shoes are under the bed on the right", "look out the front, there's a green parrot up in the tree",
     "the red line goes right to the bottom of the map", "mum, the white mug is at the bottom on the left"],
)  # fmt: skip
def test_a_colour_of_something_else_tells_of_no_piece(text: str) -> None:
    assert LANGUAGE.understand(text, "piece", PIECE) is None


@pytest.mark.parametrize(
    ("text", "place"),
    [("bottom left, and the white sticker points left", "DL"), ("top layer, at the front, white faces the front", "UF"),
     ("the white bit looks up, it's at the back on top", "UB"), ("bottom layer, on the right, white is down", "DR")],
)  # fmt: skip
def test_a_colour_of_a_sticker_does(text: str, place: str) -> None:
    meaning = LANGUAGE.understand(text, "piece", PIECE)
    assert meaning and meaning.place == place and not meaning.piece


@pytest.mark.parametrize(
    "text",
    ["the two lower layers are done, I swear", "the whole bottom is finished, believe me", "I already have the cross",
     "there is a cross on the bottom", "it's yellow on top, really"],
)  # fmt: skip
def test_a_row_is_not_confirmed_by_what_is_said_of_more_than_the_row(text: str) -> None:
    for claimed in (("red",), ("red", "red", "blue")):
        assert LANGUAGE.understand(text, "claim", Scene(claimed=claimed)) is None


def test_a_claim_of_the_cross_is() -> None:
    scene = Scene(claim=dict.fromkeys(("U1", "U3", "U5", "U7"), True), claimed=("yellow",) * 4)
    assert LANGUAGE.understand("it is cross, I swear", "claim", scene) == Meaning(command="yes")


@pytest.mark.parametrize("asked", ["row", "face", "piece", "turn", "ready", "continue"])
@pytest.mark.parametrize("text", ["the two lower layers are done, I swear", "the whole bottom is finished, believe me"])
def test_layers_that_are_done_are_not_broken(text: str, asked: Question) -> None:
    meaning = LANGUAGE.understand(text, asked, Scene())
    assert meaning is None or meaning.command != "layers-broken"


@pytest.mark.parametrize("text", ["the lower layers are not done any more", "the bottom is broken, it was finished"])
def test_broken_ones_are(text: str) -> None:
    meaning = LANGUAGE.understand(text, "turn", Scene())
    assert meaning and meaning.command == "layers-broken"
