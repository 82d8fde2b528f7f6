"""Where a word begins: by the sound, with its true beginning known, and not by when it was understood."""

from __future__ import annotations

import numpy as np
import pytest

from coach.speech.signal.onset import onset
from coach.speech.signal.wav import RATE, Samples
from tests.conftest import Speaker

BEFORE, AFTER = round(0.3 * RATE), round(0.4 * RATE)


def _word(speak: Speaker, text: str) -> Samples:
    """The word alone, from its first sample of one percent of the loudest to the last."""
    sound = speak(text)
    loud = np.flatnonzero(np.abs(sound.astype(int)) >= np.abs(sound.astype(int)).max() / 100)
    return sound[loud[0] : loud[-1] + 1]


def _room(seconds: float, level: float, seed: int = 0) -> Samples:
    """Noise that is louder in the lower bands, as that of rooms is."""
    white = np.random.default_rng(seed).normal(0, 1, round(seconds * RATE))
    return np.asarray(np.convolve(white, np.ones(8) / 8, "same") * level, np.int16)


def _error(sound: Samples, level: float) -> float:
    """Milliseconds by which the onset is found too late, in noise of that level."""
    noise = _room(0.8, level)
    around = _room((BEFORE + len(sound) + AFTER) / RATE, level, 1)
    around[BEFORE : BEFORE + len(sound)] += sound
    return 1000 * (onset(around, noise) - BEFORE) / RATE


@pytest.mark.parametrize("word", ["stop", "start", "done", "finished", "go"])
@pytest.mark.parametrize("level", [3.0, 100.0])
def test_a_word_begins_where_its_sound_does_hiss_and_all(speak: Speaker, word: str, level: float) -> None:
    assert abs(_error(_word(speak, word), level)) <= 30


def test_the_gap_within_a_word_is_part_of_it(speak: Speaker) -> None:
    hiss = np.random.default_rng(2).normal(0, 1500, RATE // 10).astype(np.int16)
    rest = _word(speak, "top")
    assert abs(_error(np.concatenate([hiss, np.zeros(RATE // 14, np.int16), rest]), 3.0)) <= 15


def test_a_knock_well_before_the_word_is_not_its_beginning(speak: Speaker) -> None:
    knock = np.random.default_rng(3).normal(0, 6000, RATE // 50).astype(np.int16)
    gap = np.zeros(round(0.2 * RATE), np.int16)
    sound = np.concatenate([knock, gap, _word(speak, "stop")])
    assert abs(_error(sound, 3.0) - 220) <= 30


def test_noise_that_was_taken_for_speech_before_the_word_is_not_its_beginning(speak: Speaker) -> None:
    """As when a cube is turned loudly until it is solved: all of that is one utterance."""
    turning = _room(1.5, 300.0, 4)
    word = _word(speak, "stop")
    sound = np.concatenate([turning, word, _room(0.3, 300.0, 5)])
    assert abs(onset(sound, np.zeros(0, np.int16)) - len(turning)) <= 0.06 * RATE


@pytest.mark.parametrize("length", [0, 10, 500])
def test_where_there_is_hardly_any_sound_it_begins_at_once(length: int) -> None:
    assert onset(np.zeros(length, np.int16), np.zeros(0, np.int16)) == 0


def test_without_any_sound_before_it_the_word_is_found_as_well(speak: Speaker) -> None:
    sound = np.concatenate([_room(0.3, 3.0), _word(speak, "stop"), _room(0.3, 3.0)])
    assert abs(onset(sound, np.zeros(0, np.int16)) - BEFORE) <= 0.03 * RATE
