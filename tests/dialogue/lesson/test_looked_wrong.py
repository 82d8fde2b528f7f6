"""Who takes back what they said of the top and tells it anew in the same breath is not asked again; and who finds the
cube all wrong is not told how to hold it."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import PLACE_NUMBER, Cube
from coach.dialogue import Ask, Listen
from coach.language.meaning import Question
from coach.simulation import Learner, random_cube
from tests.dialogue.lessons import Held, hold

LINE = "a line from left to right"
EDGES = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}


def with_corner() -> tuple[Cube, str]:
    """A cube with two edges up that are no line, and where these are."""
    for seed in range(200):
        cube = random_cube("top-cross", Random(seed))
        top = cube.faces[PLACE_NUMBER["U4"]]
        up = [name for place, name in EDGES.items() if cube.faces[PLACE_NUMBER[place]] == top]
        if len(up) == 2 and set(up) not in ({"back", "front"}, {"left", "right"}):
            return cube, " and ".join(f"the {name} one" for name in up)
    raise AssertionError("there is such a cube")


def told(first: str, at: Question, then: str, cube: Cube, truthful: bool = False) -> Held:
    """A lesson in which `first` is said of the edges on top, and `then` when the coach listens for `at`."""
    says = {"look-top-edges": first, at: then}

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        return says.pop(listen.asked, None)

    return hold(cube, "top-cross", answer=answer, truthful=truthful)


def looks(of: Held) -> int:
    return sum(isinstance(act, Ask) and act.query.asks == "look-top-edges" for act in of.acts)


@pytest.mark.parametrize("begins", ["oh sorry I looked wrong, it's", "no wait, it's"])
def test_the_look_told_anew_is_taken(begins: str) -> None:
    cube, up = with_corner()
    held = told(LINE, "ready", f"{begins} {up}", cube)
    assert looks(held) == 1
    assert held.learner.cube.solved


def test_it_is_taken_once_the_turns_are_taken_back() -> None:
    cube, up = with_corner()
    held = told(LINE, "turn", f"oh sorry I looked wrong, it's {up}", cube)
    assert looks(held) == 1
    assert held.learner.cube.solved


@pytest.mark.parametrize("text", ["it doesn't look like that, it's all mixed up", "mine isn't like that, it's a mess"])
def test_who_finds_it_all_wrong_is_asked_what_they_see(text: str) -> None:
    cube, up = with_corner()
    held = told(up, "ready", text, cube)
    assert looks(held) == 2
    assert held.learner.cube.solved
