"""A cube that is read whole tells which runs went wrong, however it is held and whatever was misheard before."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.evidence import Answered, Stickers
from coach.belief.slips.hindsight import look_back
from coach.belief.slips.trail import Trail
from coach.cube import Cube, parse
from coach.cube.search import ROTATIONS_TO
from coach.simulation import random_cube

RUNS = ("F R U R' U' F'", "R U R' U R U2 R'", "U' L' U L U F U' F'")
"""Three sequences of a method."""


def trail(cube: Cube) -> Trail:
    """The three runs, each called from the beginning to the end."""
    result = Trail((cube.faces,))
    for run in RUNS:
        result = result.beginning_run().calling(parse(run))
    return result


def done(cube: Cube, *runs: str) -> Cube:
    for run in runs:
        cube = cube.do(parse(run))
    return cube


@pytest.fixture
def cube() -> Cube:
    return random_cube("bottom-cross", Random(4))


@pytest.mark.parametrize("way", [*ROTATIONS_TO.values()][::5])
def test_all_runs_are_found_right_in_any_hold(cube: Cube, way: tuple) -> None:
    seen = look_back(trail(cube), done(cube, *RUNS).do(way).faces)
    assert seen and all(seen.tells_of(run) and seen.before(run) < 0.02 for run in (1, 2, 3))
    assert seen.wrong.get(3, 0.0) < 0.02


@pytest.mark.parametrize("wrong", (1, 2, 3))
@pytest.mark.parametrize("at", (0, 2, 5))
def test_the_run_that_went_wrong_is_found(cube: Cube, wrong: int, at: int) -> None:
    runs = [run.split() for run in RUNS]
    del runs[wrong - 1][at]
    seen = look_back(trail(cube), done(cube, *map(" ".join, runs)).faces)
    assert seen and seen.wrong[wrong] > 0.95
    assert all((seen.before(run) < 0.02) == (run <= wrong) for run in (1, 2, 3))


def test_a_row_that_was_misread_and_a_check_that_was_misheard_are_seen_to_be_wrong(cube: Cube) -> None:
    end = done(cube, *RUNS)
    facts = tuple((place, end.faces[place]) for place in range(9))
    misread = tuple((place, "U" if face != "U" else "D") for place, face in facts[:3])
    for word in (Answered(facts, yes=False), Stickers(misread)):
        seen = look_back(trail(cube).hearing(word), end.faces)
        assert seen and seen.wrong.get(3, 0.0) < 0.02 and seen.before(3) < 0.02


def test_a_slip_that_was_found_where_there_was_none_is_taken_back(cube: Cube) -> None:
    believed = trail(cube).with_done({3: ()})
    seen = look_back(believed, done(cube, *RUNS).faces)
    assert seen and seen.before(3) < 0.02


def test_nothing_explains_another_cube(cube: Cube) -> None:
    assert look_back(trail(cube), random_cube("bottom-cross", Random(5)).faces) is None


def test_nothing_is_told_of_runs_that_are_not_on_the_trail(cube: Cube) -> None:
    seen = look_back(trail(cube), done(cube, *RUNS).faces)
    assert seen and not seen.tells_of(0) and not seen.tells_of(4)
