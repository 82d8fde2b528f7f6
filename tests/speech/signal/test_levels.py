"""Levels in dB below full scale, and what they tell a person."""

import numpy as np
import pytest

from coach.speech.signal.levels import SILENCE, Levels, dbfs, measure, trouble, trouble_of_room
from tests.loaded import load


def test_a_full_scale_sine_is_three_decibels_below_a_full_scale_square() -> None:
    turn = 2 * np.pi * np.arange(16_000) / 16
    assert dbfs((32767 * np.sin(turn)).astype(np.int16)) == pytest.approx(-3.01, abs=0.02)
    assert dbfs(np.full(100, -32768, np.int16)) == pytest.approx(0.0)


def test_half_the_size_is_six_decibels_less() -> None:
    noise = np.random.default_rng(1).normal(0, 4000, 16_000)
    assert dbfs(noise.astype(np.int16)) - dbfs((noise / 2).astype(np.int16)) == pytest.approx(6.02, abs=0.05)


@pytest.mark.parametrize("length", [0, 5, 16_000])
def test_nothing_and_zeros_are_silence(length: int) -> None:
    assert dbfs(np.zeros(length, np.int16)) == SILENCE
    assert measure(np.zeros(length, np.int16)).speech == SILENCE


def test_speech_and_floor_are_told_apart() -> None:
    rng = np.random.default_rng(2)
    quiet, loud = rng.normal(0, 30, 16_000), rng.normal(0, 3000, 8_000)
    levels = measure(np.concatenate([quiet, loud, quiet]).astype(np.int16))
    assert levels.speech - levels.floor == pytest.approx(40, abs=2)
    assert levels.clipped == 0


@pytest.mark.parametrize(
    ("levels", "word"),
    [
        (Levels(SILENCE, SILENCE, 0), "No signal"),
        (Levels(-3, -50, 0.02), "too loud"),
        (Levels(-55, -80, 0), "very quiet"),
        (Levels(-25, -30, 0), "loud around you"),
    ],
)
def test_a_bad_level_is_told_in_words(levels: Levels, word: str) -> None:
    assert word in load().sentences.say(f"sound.{trouble(levels)}")


def test_a_good_level_is_not_worth_a_word() -> None:
    assert trouble(Levels(-20, -60, 0.0)) is None


def test_a_loud_room_is_told_and_a_quiet_one_is_not_worth_a_word() -> None:
    assert "loud around you" in load().sentences.say(f"sound.{trouble_of_room(-30.0)}")
    assert trouble_of_room(-60.0) is None
