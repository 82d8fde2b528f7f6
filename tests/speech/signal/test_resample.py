"""Streams change rate block by block without a seam."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.speech.signal.resample import Resampler, resample


@settings(max_examples=30, deadline=None)
@given(
    cuts=st.lists(st.integers(0, 2000), max_size=12),
    rates=st.sampled_from([(44_100, 16_000), (48_000, 16_000), (8_000, 16_000), (22_050, 48_000)]),
)
def test_blocks_of_any_length_give_the_same_as_the_whole(cuts: list[int], rates: tuple[int, int]) -> None:
    signal = np.random.default_rng(len(cuts)).normal(0, 0.1, 2000)
    edges = [0, *sorted(cuts), 2000]
    stream = Resampler(*rates)
    parts = [stream.feed(signal[a:b]) for a, b in pairwise(edges)]
    whole = np.concatenate([*parts, stream.flush()])
    wanted = resample(signal, *rates)
    assert len(whole) >= len(wanted)
    assert np.allclose(whole[: len(wanted)], wanted)


@pytest.mark.parametrize("to_rate", [8_000, 16_000, 48_000])
def test_a_constant_stays_constant(to_rate: int) -> None:
    out = resample(np.ones(4000), 16_000, to_rate)
    assert np.allclose(out[len(out) // 4 : -len(out) // 4], 1.0, atol=1e-6)
