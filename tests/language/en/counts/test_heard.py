"""Counts of which a recogniser has several writings: another number makes one doubtful, a slip of the pen does not."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from coach.language import Scene
from tests.loaded import load

Writings = Sequence[tuple[str, float]]


@pytest.mark.parametrize(
    ("writings", "number", "acts"),
    [
        ([("Seven.", 0.95), ("Eleven.", 0.05)], 7, True),
        ([("Three hands.", 0.6), ("Say run, hands.", 0.4)], 3, True),
        ([("Thirteen.", 0.6), ("Thirty.", 0.4)], 13, False),
        ([("Okay, thirty.", 0.7), ("Okay, thirteen.", 0.3)], 30, False),
        ([("Seven.", 0.45), ("Heaven.", 0.55)], 7, False),
    ],
)
def test_only_another_number_makes_a_number_doubtful(writings: Writings, number: int, acts: bool) -> None:
    reading = load().settle(writings, "hands", Scene(about="line", size=33))
    assert reading.acts == acts
    if acts:
        assert reading.best and reading.best.number == number
    assert reading.asks or not acts


def test_a_doubt_that_was_said_stays_one() -> None:
    said, other = "Seven, I think?", "Even, I think?"
    assert not load().settle([(said, 0.7), (other, 0.3)], "hands", Scene(about="line", size=33)).acts
