"""Times, penalties and averages against the WCA Regulations; each test names the article that it checks."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.learning.times import (
    Attempt,
    Penalty,
    Result,
    average_of_five,
    best,
    mean_of_three,
    measured,
    standing,
    start_penalty,
    written,
)

WHEN = datetime(2026, 11, 29, 12, 0)
TEN_MINUTES = 60_000
results = st.none() | st.integers(1, 200_000)


@pytest.mark.parametrize(
    ("seconds", "centiseconds"),
    [(41.32, 4132), (41.329, 4132), (41.3299999, 4132), (9.999, 999), (0.29, 29), (599.999, 59_999), (1.15, 115)],
)
def test_9f1_results_under_ten_minutes_are_truncated_to_the_hundredth(seconds: float, centiseconds: int) -> None:
    assert measured(seconds) == centiseconds


@pytest.mark.parametrize(
    ("seconds", "whole"), [(600.49, 600), (600.5, 601), (754.49, 754), (754.50, 755), (3599.99, 3600)]
)
def test_9f2_results_over_ten_minutes_are_rounded_to_the_second(seconds: float, whole: int) -> None:
    assert measured(seconds) == 100 * whole


@given(st.integers(0, 59_999))
def test_9f1_every_hundredth_is_itself(centiseconds: int) -> None:
    assert measured(centiseconds / 100) == centiseconds


@pytest.mark.parametrize(
    ("inspected", "penalty"),
    [(0.5, ""), (14.99, ""), (15.0, ""), (15.01, "+2"), (16.9, "+2"), (17.0, "+2"), (17.01, "DNF"), (60.0, "DNF")],
)
def test_a4d1_and_a4d2_a_late_start_is_penalised(inspected: float, penalty: Penalty) -> None:
    assert start_penalty(inspected) == penalty


def test_a4d1_two_seconds_are_added_to_the_recorded_time() -> None:
    assert Attempt(WHEN, 1765).result == 1765
    assert Attempt(WHEN, 1765, "+2").result == 1965  # the example of A7b1: 17.65 + 2 = 19.65
    assert Attempt(WHEN, 1765, "DNF").result is None  # 9f4
    assert Attempt(WHEN, 59_850, "+2").result == 60_100  # 9f2: 10:00.50 becomes 10:01


def test_9f8_the_best_and_the_worst_of_five_are_removed() -> None:
    for order in permutations((1000, 1100, 1201, 1300, 9000)):
        assert average_of_five(order) == 1200  # (11.00 + 12.01 + 13.00) / 3 = 12.003...


def test_9f8_equal_results_are_removed_once() -> None:
    assert average_of_five((1000, 1000, 1000, 1600, 1600)) == 1200


@pytest.mark.parametrize(
    ("times", "average"),
    [
        ((1000, 1100, 1201, 1300, None), 1200),  # one DNF is the worst result
        ((None, 1100, 1201, 1300, None), None),
        ((None,) * 5, None),
    ],
)
def test_9f9_one_dnf_is_the_worst_result_and_more_make_the_average_a_dnf(
    times: tuple[Result, ...], average: Result
) -> None:
    assert average_of_five(times) == average


def test_9f10_and_9f11_a_mean_of_three_takes_all_three() -> None:
    assert mean_of_three((1000, 1100, 1202)) == 1101  # 11.00666... rounded
    assert mean_of_three((1000, None, 1202)) is None


@given(st.tuples(results, results, results, results, results))
def test_9f1_and_9f2_averages_are_rounded_to_the_nearest(times: tuple[Result, ...]) -> None:
    known = sorted(time for time in times if time is not None)
    average = average_of_five(times)
    assert (average is None) == (len(known) < 4)
    if average is None:
        return
    exact = Fraction(sum(known[1:4]), 3)
    unit = 1 if exact < TEN_MINUTES else 100
    assert average % unit == 0 and abs(average - exact) <= Fraction(unit, 2)
    assert abs(average - exact) < Fraction(unit, 2) or average > exact  # x.50 becomes x+1


def test_9f8_other_numbers_of_attempts_have_no_average() -> None:
    with pytest.raises(ValueError, match="five results, not 4"):
        average_of_five((1, 2, 3, 4))
    with pytest.raises(ValueError, match="three results, not 4"):
        mean_of_three((1, 2, 3, 4))


def test_9f7_and_9f12a_the_best_is_the_shortest_time_and_a_dnf_is_worse_than_any() -> None:
    assert best((None, 2000, 1999)) == 1999
    assert best((None,)) is None


def test_how_somebody_stands_looks_at_the_last_attempts_and_at_all_of_them() -> None:
    times = (1000, 1000, 1000, 1000, 1000, 3000, 3000, 3000)
    stands = standing(times)
    assert (stands.count, stands.best, stands.average, stands.best_average, stands.mean) == (8, 1000, 2333, 1000, 3000)
    few = standing(times[:2])
    assert (few.count, few.best, few.average, few.mean) == (2, 1000, None, None)
    assert standing([]).best is None


@pytest.mark.parametrize(
    ("result", "text"),
    [(905, "9.05"), (4132, "41.32"), (6230, "1:02.30"), (59_999, "9:59.99"), (72_500, "12:05"), (None, "DNF")],
)
def test_results_are_written_as_people_write_them(result: Result, text: str) -> None:
    assert written(result) == text
