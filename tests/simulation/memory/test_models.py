"""The models of memory give the values of their papers, and what every memory does."""

from __future__ import annotations

from collections.abc import Callable
from math import e, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.simulation.memory.activation import Activation, Fading
from coach.simulation.memory.halflife import HalfLife, Weights
from coach.simulation.memory.performance import Performance, Spacing
from coach.simulation.memory.trace import DAY, Trace

MODELS: tuple[Callable[[], Trace], ...] = (Activation, Performance, HalfLife)


def practised(model: Callable[[], Trace], *times: float, share: float = 1.0) -> Trace:
    trace = model()
    for time in times:
        trace.practise(time, share)
    return trace


class TestActivation:
    def test_the_example_of_the_paper(self) -> None:
        # Practised at 0, 126, 252 and 4,844 s, tested at 5,877 s: Pavlik & Anderson 2005, recomputed by ACT-R's authors
        trace = practised(Activation, 0, 126, 252, 4844)
        assert isinstance(trace, Activation)
        assert [decay for _, decay, _ in trace.practices] == pytest.approx([0.177, 0.26919, 0.31758, 0.26250], abs=1e-5)
        assert trace.activation(5877) == pytest.approx(-0.618736, abs=1e-6)

    def test_and_what_was_there_before_each_practice(self) -> None:
        trace = Activation()
        for time, activation in ((0, None), (126, -0.8560219), (252, -0.43415272), (4844, -0.9314301)):
            if activation is not None:
                assert trace.activation(time) == pytest.approx(activation, abs=1e-6)
            trace.practise(time)

    def test_one_decay_for_all_is_base_level_learning(self) -> None:
        trace = Activation(Fading(a=0.5, c=0.0))
        for time in (0, 126, 252, 4844):
            trace.practise(time)
        assert trace.activation(5877) == pytest.approx(-2.649625, abs=1e-6)

    def test_time_between_days_counts_less(self) -> None:
        within, between = practised(Activation, 0), practised(Activation, 0)
        assert within.recall(2160) == pytest.approx(between.recall(DAY))


class TestPerformance:
    def test_spaced_practice_fades_more_slowly(self) -> None:
        trace = Performance(Spacing(b=0.5, m=0.2), times=[0.0, 2.0], count=2)
        assert trace.decay == pytest.approx(0.5 + 0.2 / log(2 + e))

    def test_a_recent_practice_weighs_most(self) -> None:
        # With x = 1 the weighted age is the harmonic mean, Anderson et al. 2023, equation A3
        assert Performance(Spacing(x=1), times=[0.0, 2.0], count=2).age(4) == pytest.approx(8 / 3)
        assert Performance(times=[0.0]).age(8) == pytest.approx(8)


class TestHalfLife:
    def test_after_its_half_life_half_is_left(self) -> None:
        trace = practised(HalfLife, 0)
        assert isinstance(trace, HalfLife)
        assert trace.recall(trace.days * DAY) == pytest.approx(0.5)

    def test_it_stays_within_its_bounds(self) -> None:
        assert HalfLife(Weights(99, 1), count=1).days == 274
        assert HalfLife(Weights(-99, 1), count=1).days * DAY == pytest.approx(15 * 60)


@pytest.mark.parametrize("model", MODELS)
class TestEveryMemory:
    def test_what_was_never_practised_is_not_known(self, model: Callable[[], Trace]) -> None:
        assert model().recall(DAY) == 0

    @given(days=st.lists(st.integers(0, 30), min_size=1, max_size=8), later=st.integers(1, 30))
    def test_fades(self, model: Callable[[], Trace], days: list[int], later: int) -> None:
        trace = practised(model, *(day * DAY for day in sorted(days)))
        assert 0 <= trace.recall((31 + later) * DAY) <= trace.recall(31 * DAY) <= 1

    def test_grows_with_recall_and_less_by_being_told(self, model: Callable[[], Trace]) -> None:
        days = (0, DAY, 2 * DAY, 4 * DAY)
        once, told, recalled = practised(model, 0), practised(model, *days, share=0.4), practised(model, *days)
        assert once.recall(6 * DAY) < told.recall(6 * DAY) < recalled.recall(6 * DAY)


@pytest.mark.parametrize("model", [Activation, Performance])
def test_practice_on_several_days_lasts_longer(model: Callable[[], Trace]) -> None:
    at_once, spaced = practised(model, *(100.0 * n for n in range(6))), practised(model, *(n * DAY for n in range(6)))
    # after the same number of days from the last practice of each
    assert at_once.recall(30 * DAY) < spaced.recall(35 * DAY)
