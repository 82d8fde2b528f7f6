"""Sequences and cases that are asked for by name, in any words, and what is no such question."""

from __future__ import annotations

import pytest

from coach.language.en.by_heart.taught import asked_for
from coach.language.meaning import Scene
from coach.language.teachings import taught
from coach.method import Hand, default_method
from tests.loaded import load

SENTENCES = load().sentences
GAPS = SENTENCES.gaps("yellow", "white")
SCENE = Scene(taught=taught(default_method(), SENTENCES, GAPS), about="top-face")


@pytest.mark.parametrize(
    ("said", "id"),
    [
        ("tell me the ring to the right", "ring-to-the-right"),
        ("how does the corner swap go", "corner-swap"),
        ("The corner swap, how does it go again?", "corner-swap"),
        ("I forgot how the double lift goes", "double-lift"),
        ("what are the turns of the three corner twist", "three-twist"),
        ("how does the twist go", "three-twist"),
        ("can you tell me the half turn in front, please", "half-turn"),
        ("say the wheel to the left", "ring-to-the-left"),
        ("remind me of the side door", "side-door"),
        ("go through the front lift with me", "front-lift"),
        ("please explain the join on the right", "right-join"),
        ("what do I do with a dot", "top-cross/dot"),
        ("what's the sequence for the line?", "top-cross/line"),
        ("what do you do with an L shape", "top-cross/corner"),
        ("what do I do when one corner is up", "top-face/one-up"),
        ("what if no corner is yellow on top", "top-face/none-up"),
        ("which sequence is it for two corners up", "top-face/two-up"),
        ("how do I go on when one side has two matching corners", "top-corners/one-pair"),
        ("what do I do if no side has matching corners", "top-corners/no-pair"),
        ("what do I do when no side is done", "top-edges/no-side"),
        ("what do I do with an edge in the middle layer", "bottom-cross/edge-in-the-middle"),
        ("what comes when all corners are up", "top-face/all-up"),
        ("what have I to do for the corner shape, how do I hold it", "top-cross/corner"),
    ],
)
def test_what_is_asked_for(said: str, id: str) -> None:
    assert asked_for(said, SCENE) == (id,)


def test_a_case_that_may_be_several_is_all_of_them() -> None:
    asked = asked_for("what do I do with one finished side", SCENE)
    assert asked == ("top-edges/to-the-right", "top-edges/to-the-left")


def test_of_two_steps_the_present_one_is_meant() -> None:
    for step, case in (("bottom-cross", "edge-up"), ("bottom-corners", "faces-up")):
        scene = Scene(taught=SCENE.taught, about=step)
        assert asked_for("what do I do when the white sticker points up", scene) == (f"{step}/{case}",)


@pytest.mark.parametrize(
    "said",
    [
        "what do I do now", "what do I do with my left hand", "what is a corner", "how do I hold it", "a dot",
        "what do I do with the corner", "what if I turned it the wrong way", "what do I do if it fell",
        "how do I turn the right side up", "what's next after the corner swap", "did you say the corner swap",
        "I did the corner swap wrong", "tell me when the ring is done", "what is a line", "right side up",
        "tell me the whole sequence", "how does the lift go", "how many turns has the front lift",
        "what do I do if I did the top twice", "how does the ring to the left go", "one corner, front left",
        "what did you say", "how much is left", "which way does the top go", "do you mean the right side",
        "let me try the corner swap alone", "why do we do the corner swap", "tell me if the cross is right",
        "just tell me all the turns in one go",
        "what does it mean, middle edges, how do they look when they are done",
        "what do I do when my hand hurts", "what do I say when I'm done",
        "I lost my place in the corner swap",
    ],
)  # fmt: skip
def test_what_asks_for_nothing_of_that(said: str) -> None:
    assert asked_for(said, SCENE) == ()


@pytest.mark.parametrize("hand", ["right", "left"])
def test_every_sequence_can_be_asked_for_by_its_whole_name(hand: Hand) -> None:
    method = default_method(hand)
    scene = Scene(taught=taught(method, SENTENCES, GAPS))
    for sequence in method.sequences:
        for ask in ("tell me {}", "how does {} go"):
            said = ask.format(sequence.say("en", "name"))
            assert asked_for(said, scene) == (sequence.id,)
            assert said.replace("-", " ") in load().phrases("turn", scene), "it can be heard as well"


def test_nothing_is_asked_for_where_nothing_is_taught() -> None:
    assert asked_for("how does the corner swap go", Scene()) == ()
