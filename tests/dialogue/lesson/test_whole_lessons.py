"""Whole lessons: every last layer state, scrambles from the bottom up, cubes that are read."""

from __future__ import annotations

from random import Random
from statistics import median

import pytest

from coach.belief.top import TOP_CORNERS, TOP_EDGES
from coach.cube import Cube, all_shown, parse
from coach.dialogue import Say
from coach.dialogue.lesson import Settings
from coach.method.last_layer import build, orders, orientation_states
from coach.simulation import Learner, random_cube, scrambled
from tests.dialogue.lessons import hold

HOLDS = ("", "y", "y'", "y2")


def _lying(number: int) -> Cube:
    """Orientation state `number` with its pieces in some order."""
    random = Random(number)
    edges, corners = random.choice(orders())
    return build(edges=edges, corners=corners) * orientation_states()[number]


@pytest.mark.parametrize("part", range(8))
def test_every_orientation_state_ends_solved_from_the_top_cross(part: int) -> None:
    for number in range(part, 216, 8):
        held = hold(_lying(number), "top-cross", number)
        assert held.end.outcome == "done"
        assert held.learner.cube.solved
        crossed = all_shown(_lying(number).faces, TOP_EDGES)
        assert held.asked_before_first_turn() <= (5 if crossed else 3)


def test_at_most_three_questions_before_the_first_turn_of_the_top_face() -> None:
    for number, cube in enumerate(c for c in orientation_states() if all_shown(c.faces, TOP_EDGES)):
        if all_shown(cube.faces, TOP_EDGES + TOP_CORNERS):
            continue
        held = hold(cube, "top-face", number)
        assert held.asked_before_first_turn() <= 3
        assert held.learner.cube.solved


def test_scrambles_are_solved_from_the_bottom_cross() -> None:
    lessons = [hold(scrambled(Random(seed)), "bottom-cross", seed) for seed in range(16)]
    assert all(held.end.outcome == "done" and held.learner.cube.solved for held in lessons)
    assert median(held.end.turns for held in lessons) <= 130
    assert median(held.end.questions for held in lessons) <= 26


def _lost(learner: Learner, listen: object, number: int) -> str | None:
    return "I don't know where I am" if number == 0 else None


def test_a_cube_is_read_and_solved_when_nobody_knows_where_things_stand() -> None:
    for seed in range(4):
        held = hold(scrambled(Random(seed)), None, seed, _lost)
        assert held.end.outcome == "done"
        assert held.learner.cube.solved


def test_brief_plans_are_short() -> None:
    lessons = [
        hold(scrambled(Random(seed)), "bottom-cross", seed, settings=Settings(manner="brief")) for seed in range(4)
    ]
    assert all(held.learner.cube.solved for held in lessons)
    assert median(held.end.turns for held in lessons) <= 75


@pytest.mark.parametrize("step", ["top-corners", "top-edges"])
def test_the_last_two_steps_start_by_themselves(step: str) -> None:
    random = Random(step)
    for seed in range(6):
        cube = random_cube("top-face", random)
        before = hold(cube, "top-face", seed, answer=None)
        assert before.learner.cube.solved
        edges, corners = random.choice(orders())
        start = build(edges=edges, corners=corners if step == "top-corners" else (0, 1, 2, 3))
        if step == "top-edges" and sum(a > b for i, a in enumerate(edges) for b in edges[i:]) % 2:
            continue
        assert hold(start, step, seed).learner.cube.solved


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (build(flips=(1, 0, 0, 0)), "edge"),
        (build(twists=(0, 1, 0, 0)), "corner"),
        (build(edges=(1, 0, 2, 3)), "two"),
    ],
)
def test_a_cube_put_together_wrongly_is_told_so(fault: Cube, words: str) -> None:
    held = hold(fault * scrambled(Random(5)), None, 5, _lost, truthful=False)
    assert held.end.outcome == "unsolvable"
    assert words in " ".join(say.text for say in held.said[-3:])


def test_any_colours_and_marks_will_do() -> None:
    """Blue on top, white in front: the learner's cube turned as a whole, the colours told at the start."""
    cube = scrambled(Random(3))
    held = hold(
        cube,
        "bottom-cross",
        3,
        settings=Settings(
            colours=dict(zip("URFDLB", ("yellow", "orange", "green", "white", "red", "blue"), strict=True))
        ),
    )
    assert held.learner.cube.solved


def test_the_same_words_are_never_said_three_times_in_a_row() -> None:
    """A learner who never says anything useful hears no sentence three times running, and the lesson ends."""
    for junk in ("", "what a lovely day", "um er"):
        held = hold(_lying(5), "top-cross", 1, lambda learner, listen, number, junk=junk: junk)
        texts = [act.text for act in held.acts if isinstance(act, Say)]
        assert not any(a == b == c for a, b, c in zip(texts, texts[1:], texts[2:], strict=False))
        assert held.end.outcome == "stopped"


def test_rotations_in_the_hold_are_followed() -> None:
    for turns in HOLDS:
        held = hold(_lying(77).do(parse(turns)).upright, "top-cross", 2)
        assert held.learner.cube.solved
