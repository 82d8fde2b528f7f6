"""Which step the learner is at, by its name, its number, or what they say of the cube."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from measure import measure_talk, read

from coach.language import USUAL_COLOURS, Meaning, Scene, load

LANGUAGE = load()
SHARED = Path(os.environ.get("TURNCALLER_SHARED", Path(__file__).parents[3] / "shared"))
MARKS = Scene({"F": "smooth", "B": "bumpy", "R": "rings", "L": "cuts", "U": "dots", "D": "stripes"}, about="step")
STEP = Scene(about="step")


def told(text: str, scene: Scene = STEP) -> Meaning | None:
    return LANGUAGE.understand(text, "other", scene)


@pytest.mark.parametrize(
    ("step", "texts"),
    [
        ("bottom-cross", ("bottom cross", "all scrambled", "I haven't done anything yet", "start from the beginning")),
        ("bottom-corners", ("the second one", "the white cross is there", "the white cross is done, corners aren't")),
        ("middle-edges", ("middle edges please", "number three", "the first layer is done")),
        ("top-cross", ("step four", "two layers are done", "everything but the top", "only the last layer is left")),
        ("top-face", ("top face", "the yellow cross is there", "I've done the top cross, what's next?")),
        ("top-corners", ("the top is yellow but the sides aren't", "the last but one", "top corners")),
        ("top-edges", ("the last step", "corners are all right, only edges left", "let me do the top edges")),
    ],
)
def test_a_step_is_named_numbered_or_described(step: str, texts: tuple[str, ...]) -> None:
    assert {text: told(text) for text in texts} == dict.fromkeys(texts, Meaning(step=step))


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("the stripes cross is done", "bottom-corners"),
        ("the dots cross is there", "top-face"),
        ("the top has dots but the sides don't match", "top-corners"),
    ],
)
def test_top_and_bottom_go_by_the_learners_own_words(text: str, step: str) -> None:
    assert told(text, MARKS) == Meaning(step=step)
    held = Scene({**USUAL_COLOURS, "U": "white", "D": "yellow"}, about="step")
    assert told("the white cross is done", held) == Meaning(step="top-face")


@pytest.mark.parametrize("text", ["the cross", "corners", "not the last one", "it is solved", "one side", "um", "yes"])
def test_what_may_be_several_steps_or_none_is_no_step(text: str) -> None:
    assert told(text) is None


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("what is a top face?", Meaning(command="explain", step="top-face")),
        ("what does the middle edges step look like?", Meaning(command="explain", step="middle-edges")),
        ("which steps are there", None),
        ("same as yesterday", Meaning(command="resume")),
        ("where we left off", Meaning(command="resume")),
        ("I don't know", Meaning(command="read")),
        ("I'll read you the cube", Meaning(command="read")),
        ("I'm not sure", Meaning(command="unsure")),
        ("help", Meaning(command="help")),
        ("go back one", Meaning(command="back")),
        ("my first two layers broke", Meaning(command="layers-broken")),
    ],
)
def test_what_is_said_instead_of_a_step(text: str, meaning: Meaning | None) -> None:
    assert told(text) == (meaning or Meaning(command="explain"))


def test_on_return_a_step_that_is_named_counts_as_well_as_yes_and_no() -> None:
    scene = Scene(about="return")
    assert [told(text, scene) for text in ("yes please", "no", "no, the top cross", "wait a moment")] == [
        Meaning(command="yes"), Meaning(command="no"), Meaning(step="top-cross"), Meaning(command="wait"),
    ]  # fmt: skip


def test_a_step_is_told_only_where_it_was_asked_for() -> None:
    for text in ("the top cross", "the second one", "two layers are done"):
        meaning = LANGUAGE.understand(text, "other")
        assert meaning is None or meaning.step is None


@pytest.mark.parametrize("name", ["talk.jsonl", "talk_more.jsonl"])
def test_most_of_what_people_say_of_where_they_are_is_understood(name: str) -> None:
    path = SHARED / "examples" / name
    if not path.exists():
        pytest.skip(f"{path} is not here")
    lines = [line for line in read(path) if line["moment"] == "step"]
    counts = Counter(result for result, _, _ in measure_talk(lines))
    assert counts["accepted"] >= 0.7 * len(lines)
    assert counts["harmful"] <= 0.03 * len(lines)
