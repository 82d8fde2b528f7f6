"""A whole side told in one answer, and put right in it."""

from __future__ import annotations

import pytest

from coach.language import Scene
from tests.loaded import load

LANGUAGE = load()
MARKS = dict(zip("FBRLUD", ("velvet", "cork", "foil", "tape", "glue", "lace"), strict=True))
TOLD = ["red", "red", "blue", "white", "green", "green", "blue", "blue", "red"]


def colours(text: str, scene: Scene) -> list[str]:
    meaning = LANGUAGE.understand(text, "face", scene)
    return [*meaning.colours] if meaning else []


@pytest.mark.parametrize(
    ("text", "right"),
    [("no, the fifth one was white", {4: "white"}), ("oh sorry, the last one is white", {8: "white"}),
     ("wait, the first and the second were green", {0: "green", 1: "green"}),
     ("no, not blue, the seventh was red", {6: "red"}),
     ("sorry, the middle row was red white red", {3: "red", 4: "white", 5: "red"}),
     ("oh no, the last row was all white", {6: "white", 7: "white", 8: "white"})],
)  # fmt: skip
def test_a_side_is_put_right_in_the_answer_that_tells_it(text: str, right: dict[int, str]) -> None:
    told = [right.get(at, colour) for at, colour in enumerate(TOLD)]
    assert colours(f"{' '.join(TOLD)}, {text}", Scene()) == told
    usual = dict(zip(("green", "blue", "orange", "red", "yellow", "white"), MARKS.values(), strict=True))
    said = " ".join(usual.get(word, word) for word in f"{' '.join(TOLD)} {text.replace(',', '')}".split())
    assert colours(said, Scene(MARKS)) == [usual[colour] for colour in told]


@pytest.mark.parametrize("said", ["no sorry,", "wait, I mean", "no, not blue,"])
def test_a_colour_is_put_right_on_the_way(said: str) -> None:
    text = f"red, blue, {said} green, white, white, red, blue, orange, orange, yellow"
    told = ["red", "green", "white", "white", "red", "blue", "orange", "orange", "yellow"]
    assert colours(text, Scene()) == told
