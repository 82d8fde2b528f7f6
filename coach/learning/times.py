"""Timed attempts and what follows from several of them, by the WCA Regulations; each rule names its article. They were
read on 29 November 2026, as they stand in the repository thewca/wca-regulations at 000b1974.

A result is a number of centiseconds, or None for a DNF (did not finish, 9f4). No time limit is applied (A1a1).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import floor
from typing import Final, Literal, TypeAlias, get_args

Penalty = Literal["", "+2", "DNF"]
"""None, two seconds, or disqualification of the attempt."""
Result: TypeAlias = int | None

PENALTIES: Final[tuple[Penalty, ...]] = get_args(Penalty)
INSPECTION_CALLS: Final = (8, 12)
"""Call these seconds of the inspection when they have elapsed (A3d2, A3d3)."""
INSPECTION: Final = 15
"""Whoever starts the solve after so many seconds of inspection gets two seconds more (A3a1, A4d1)."""
LATEST_START: Final = 17
"""Whoever starts it after so many seconds is disqualified (A4d2)."""
_PLUS: Final = 200
_TEN_MINUTES: Final = 60_000
FIVE: Final = 5
THREE: Final = 3
"""An average takes five results, a mean three (9f8, 9f10)."""
_EXACT: Final = 1e-6
"""Smaller than anything that can be measured: floating-point numbers are not exact."""


@dataclass(frozen=True)
class Attempt:
    """One timed solve: when, by the learner's own clock (local, without a time zone), the time that was recorded before
    any penalty (A7b1), and the scramble, "" if the coach does not know it."""

    when: datetime
    centiseconds: int
    penalty: Penalty = ""
    scramble: str = ""

    @property
    def result(self) -> Result:
        """The result with its penalty; None for a DNF."""
        return with_penalty(self.centiseconds, self.penalty)

    def with_penalty(self, penalty: Penalty) -> Attempt:
        """The same attempt judged otherwise."""
        return replace(self, penalty=penalty)


@dataclass(frozen=True)
class Standing:
    """How somebody stands: how many attempts, the best result, the average of the last five, the best average of five
    in a row, and the mean of the last three. The values of a DNF are None; so are those of too few attempts."""

    count: int
    best: Result
    average: Result
    best_average: Result
    mean: Result


def measured(seconds: float) -> int:
    """A measured time as it is recorded: under ten minutes truncated to the hundredth (9f1), over ten minutes rounded
    to the second, x.50 up (9f2)."""
    return _to_full(floor(seconds * 100 + _EXACT))


def _to_full(centiseconds: int) -> int:
    return centiseconds if centiseconds < _TEN_MINUTES else (centiseconds + 50) // 100 * 100


def with_penalty(centiseconds: int, penalty: Penalty) -> Result:
    """The result of an attempt with that recorded time."""
    return None if penalty == "DNF" else _to_full(centiseconds + (_PLUS if penalty == "+2" else 0))


def start_penalty(inspected: float) -> Penalty:
    """The penalty for starting the solve after so many seconds of inspection (A4d1, A4d2)."""
    return "" if inspected <= INSPECTION else "+2" if inspected <= LATEST_START else "DNF"


def best(results: Iterable[Result]) -> Result:
    """The best result: the shortest time (9f12a), and a DNF is worse than any (9f7)."""
    return min((result for result in results if result is not None), default=None)


def average_of_five(results: Sequence[Result]) -> Result:
    """The mean of five results without the best and the worst (9f8). One DNF counts as the worst; with more of them the
    average is a DNF (9f9). ValueError for any other number of results."""
    if len(results) != FIVE:
        raise ValueError(f"an average of five takes five results, not {len(results)}")
    times = sorted(result for result in results if result is not None)
    return _mean(times[1 : FIVE - 1]) if len(times) >= FIVE - 1 else None


def mean_of_three(results: Sequence[Result]) -> Result:
    """The mean of three results (9f10), a DNF if one of them is (9f11). ValueError for any other number of results."""
    if len(results) != THREE:
        raise ValueError(f"a mean of three takes three results, not {len(results)}")
    times = [result for result in results if result is not None]
    return _mean(times) if len(times) == THREE else None


def _mean(times: Sequence[int]) -> int:
    """The mean of three times: under ten minutes rounded to the hundredth (9f1), over ten minutes to the second, x.50
    up (9f2)."""
    total, unit = sum(times), 1 if sum(times) < THREE * _TEN_MINUTES else 100
    return (2 * total + THREE * unit) // (2 * THREE * unit) * unit


def standing(results: Sequence[Result]) -> Standing:
    """How somebody with these results, in chronological order, stands."""
    averages = [average_of_five(results[end - FIVE : end]) for end in range(FIVE, len(results) + 1)]
    mean = mean_of_three(results[-THREE:]) if len(results) >= THREE else None
    return Standing(len(results), best(results), averages[-1] if averages else None, best(averages), mean)


def written(result: Result) -> str:
    """The result as people write it: "9.05", "1:02.30", "12:05", "DNF"."""
    if result is None:
        return "DNF"
    minutes, rest = divmod(result, 6000)
    if result >= _TEN_MINUTES:
        return f"{minutes}:{rest // 100:02}"
    seconds = f"{rest // 100:02}.{rest % 100:02}" if minutes else f"{rest // 100}.{rest % 100:02}"
    return f"{minutes}:{seconds}" if minutes else seconds
