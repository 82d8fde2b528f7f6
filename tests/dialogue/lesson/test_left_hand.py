"""The method in the mirror leads through whole lessons like the method itself."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue import CallTurn
from coach.method import default_method
from coach.method.last_layer import build, orders, orientation_states
from coach.simulation import scrambled
from tests.dialogue import lessons


@pytest.fixture(autouse=True)
def left(monkeypatch: pytest.MonkeyPatch) -> None:
    method = default_method("left")
    monkeypatch.setattr(lessons, "default_method", lambda: method)


def _on_top(number: int) -> Cube:
    edges, corners = Random(number).choice(orders())
    return build(edges=edges, corners=corners) * orientation_states()[number]


@pytest.mark.parametrize("number", range(5, 216, 30))
def test_last_layers_end_solved_with_turns_of_the_left_side(number: int) -> None:
    held = lessons.hold(_on_top(number), "top-cross", number)
    assert held.end.outcome == "done" and held.learner.cube.solved
    turns = [str(act.turn) for act in held.acts if isinstance(act, CallTurn)]
    assert turns and not any(turn.startswith("R") for turn in turns)


@pytest.mark.parametrize("seed", range(3))
def test_scrambles_are_solved_from_the_bottom_cross(seed: int) -> None:
    held = lessons.hold(scrambled(Random(seed)), "bottom-cross", seed)
    assert held.end.outcome == "done" and held.learner.cube.solved
