"""The bench of learning by heart counts what it says."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import pytest

sys.path.append(str(Path(__file__).resolve().parents[2] / "scripts"))

from benches import learning

from coach.simulation.memory.activation import Activation, Fading
from coach.simulation.memory.mind import Habits, Mind


def pupil(tau: float) -> learning.Pupil:
    fading, random = Fading(tau=tau), Random(1)
    return learning.Pupil(Mind(lambda harder: Activation(fading, harder), Habits(slips=0), random))


def test_every_sequence_of_the_last_layer_is_to_be_known() -> None:
    named = [case for step in learning.METHOD.top_steps for case in step.cases if case.named]
    assert len(learning.TO_KNOW) == len(named) == len(learning.THINGS)


def test_a_hidden_test_teaches_nothing() -> None:
    somebody = pupil(tau=99)
    somebody.hidden_test()
    assert {each.result for each in somebody.hidden} == {"failed"}
    assert somebody.still_there() == 0
    assert not somebody.exercises


@pytest.mark.parametrize("design", learning.DESIGNS)
def test_a_day_takes_its_time_and_hardly_more(design: str) -> None:
    somebody = pupil(tau=-0.7)
    learning.DESIGNS[design]().day(somebody, 600)
    assert 600 <= somebody.mind.second < 900
    if design == "called lessons":
        assert {each.help for each in somebody.exercises} == {4}


def test_who_remembers_everything_knows_it_after_a_week() -> None:
    went = learning.course(lambda random: (pupil(-99).mind.model, Habits(slips=0)), learning.Fixed(), "one", 60)
    assert went.days == 8
    assert went.kept == pytest.approx(1)


def test_an_interval_contains_the_mean() -> None:
    assert learning.shown([1.0, 2.0, 3.0], form=".1f").startswith("2.0 [")
