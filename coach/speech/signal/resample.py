"""Changes the sample rate with a windowed-sinc polyphase filter, for whole recordings and for streams."""

from functools import lru_cache
from math import gcd

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

_ZERO_CROSSINGS = 16  # of the sinc on each side; more is steeper and slower
_BETA = 8.6  # Kaiser window: the stop band is about 86 dB down
_CUTOFF = 0.92  # part of the lower Nyquist frequency, to leave room for the filter's slope


@lru_cache(maxsize=16)
def _filters(up: int, down: int) -> NDArray[np.float64]:
    """One row of taps for each of the `up` fractional positions an output sample can have."""
    cutoff = _CUTOFF * min(1.0, up / down)
    half = int(np.ceil(_ZERO_CROSSINGS / cutoff))
    taps = np.arange(-half + 1, half + 1)
    offsets = taps[None, :] - (np.arange(up) / up)[:, None]
    window = np.i0(_BETA * np.sqrt(np.clip(1 - (offsets / half) ** 2, 0, None))) / np.i0(_BETA)
    rows = cutoff * np.sinc(cutoff * offsets) * window
    return np.asarray(rows / rows.sum(axis=1, keepdims=True), np.float64)


class Resampler:
    """Resamples a stream: feed it blocks of any length, it returns what is ready.

    The output is delayed by half the filter, about 1 ms; `flush` returns the end of the stream.
    """

    def __init__(self, from_rate: int, to_rate: int) -> None:
        common = gcd(from_rate, to_rate)
        self._up, self._down = to_rate // common, from_rate // common
        self._filters = _filters(self._up, self._down)
        self._half = self._filters.shape[1] // 2
        self._held: NDArray[np.float64] = np.zeros(self._half - 1)
        self._next = 0  # position of the next output sample, in 1/up input samples from the first held one

    def feed(self, block: NDArray[np.floating]) -> NDArray[np.float64]:
        """The output samples that this block completes."""
        if self._up == self._down:
            return np.asarray(block, np.float64)
        held = np.concatenate([self._held, np.asarray(block, np.float64)])
        width = self._filters.shape[1]
        ready = len(held) - width + 1  # input positions whose whole window is available
        count = max(0, -(-(ready * self._up - self._next) // self._down))
        at = self._next + self._down * np.arange(count)
        start, phase = at // self._up, at % self._up
        windows = sliding_window_view(held, width)[start] if count else np.zeros((0, width))
        out = np.einsum("ij,ij->i", windows, self._filters[phase])
        self._next += self._down * count
        drop = min(self._next // self._up, len(held))
        self._held, self._next = held[drop:], self._next - drop * self._up
        return np.asarray(out, np.float64)

    def flush(self) -> NDArray[np.float64]:
        """The rest of the output once the stream has ended."""
        return self.feed(np.zeros(self._half)) if self._up != self._down else np.zeros(0)


def resample(signal: NDArray[np.floating], from_rate: int, to_rate: int) -> NDArray[np.float64]:
    """A whole signal at another rate; its duration stays the same."""
    if from_rate == to_rate or len(signal) == 0:
        return np.asarray(signal, np.float64)
    stream = Resampler(from_rate, to_rate)
    step = from_rate * 4  # limits the memory needed for a long recording
    parts = [stream.feed(signal[at : at + step]) for at in range(0, len(signal), step)]
    return np.concatenate([*parts, stream.flush()])[: -(-len(signal) * to_rate // from_rate)]
