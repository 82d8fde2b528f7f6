"""What is said of a case and of how the cube is held for it."""

from __future__ import annotations

import pytest

from coach.language import Meaning, Scene
from coach.method import default_method
from tests.loaded import load

LANGUAGE = load()


def read(text: str, step: str) -> Meaning | None:
    return LANGUAGE.understand(text, "hold", Scene(about=step))


@pytest.mark.parametrize(
    "text, case",
    (
        ("a dot", "dot"), ("that's the line", "line"), ("a line from left to right", "line"),
        ("it's a corner, it goes to the back and the left", "corner"),
        ("a corner shape at the back and left", "corner"),
    ),
)  # fmt: skip
def test_a_case_of_the_top_cross_is_named(text: str, case: str) -> None:
    found = read(text, "top-cross")
    assert found and found.case == case


@pytest.mark.parametrize("text", ("from left to right", "the line lies across, left and right", "left and right"))
def test_a_hold_is_told_as_a_look(text: str) -> None:
    found = read(text, "top-cross")
    assert found and found.look["U3"] and found.look["U5"] and not found.look["U1"]


@pytest.mark.parametrize(
    "text, place, corners",
    (
        ("two corners, yellow points towards me", "F0", 2), ("two, the sticker points at me", "F0", None),
        ("no corner, the sticker points left", "L2", 0), ("none, it points to the left", "L2", None),
        ("it faces me", "F0", None),
            ("no corners, and the near left one has its yellow looking to the left", "L2", 0),
            ("one corner, front left", "U6", None),
    ),
)  # fmt: skip
def test_where_a_corner_points_is_told(text: str, place: str, corners: int | None) -> None:
    found = read(text, "top-face")
    assert found and found.look[place] and found.corners == corners


@pytest.mark.parametrize(
    "text, places",
    (
        ("on the left", ("U3",)), ("it comes to the left side", ("U3",)), ("at the back", ("U1",)),
        ("to the front", ("U7",)), ("at the back, and they go round to the right", ("U1", "U5")),
    ),
)  # fmt: skip
@pytest.mark.parametrize("step", ("top-corners", "top-edges"))
def test_a_hold_is_told_by_its_side(text: str, places: tuple[str, ...], step: str) -> None:
    found = read(text, step)
    assert found and dict(found.look) == dict.fromkeys(places, True)


@pytest.mark.parametrize("step", ("top-cross", "top-face", "top-corners", "top-edges"))
@pytest.mark.parametrize(
    "text, said", (("I don't know", "unsure"), ("give me a hint", "hint"), ("wait a moment", "wait"), ("stop", "stop"))
)
def test_what_is_no_answer_stays_what_it_is(step: str, text: str, said: str) -> None:
    found = read(text, step)
    assert found and found.command == said


@pytest.mark.parametrize("text", ("not on the left", "it isn't at the back", "the cat is on the table"))
def test_what_is_denied_or_said_to_others_is_no_hold(text: str) -> None:
    found = read(text, "top-corners")
    assert found is None or not found.look


def test_a_side_said_before_belongs_to_the_place_not_to_the_name_of_the_sequence() -> None:
    method = default_method()
    taught = tuple((each.id, each.say("en", "name")) for each in method.sequences)
    scene = Scene(about="middle-edges", taught=taught)
    for said, case, place in (
        ("on the right, and then the join", None, "U5"), ("right then the join", None, "U5"),
        ("on the right, then the join in front", "front-join", "U5"), ("the join, the right one", "right-join", None),
        ("in front, the join on the right", "right-join", "U7"),
    ):  # fmt: skip
        heard = LANGUAGE.understand(said, "hold", scene)
        assert heard and heard.case == case and (place is None or heard.look.get(place)), (said, heard)
