"""Where a short word begins in the sound around it, so that a clock can be stopped by its beginning.

A word may begin with a soft hiss, be interrupted by a stop consonant, and follow other noise, such as that of a cube
being turned. So the search goes back from its loudest vowel, in several bands of frequency at once.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.speech.signal.wav import RATE, Samples

_HOP: Final = RATE // 200  # 5 ms
_WINDOW: Final = RATE // 100
_BANDS: Final = ((120, 500), (500, 1200), (1200, 2500), (2500, 4000), (4000, 5500), (5500, 7600))  # Hz
_VOICED: Final = 2  # so many bands, from the lowest on, have the voice of a vowel
_VOWEL: Final = 12  # frames: a vowel lasts at least this long
_BELOW: Final = 20.0  # dB below the word's loudest frame in that band no longer belong to it
_ABOVE: Final = 12.0  # dB above the noise in some band do, unless they are hardly softer than the word itself
_HARDLY: Final = 3.0
_THERE: Final = 6.0  # dB that the word's loudest frame is above the noise in a band that it has any part in
_GAP: Final = 20  # frames of quiet within a word: 100 ms, as between the s and the o of "stop"
_REACH: Final = 160  # frames: further before its loudest vowel no short answer begins, so what is there is noise
_AROUND: Final = 80  # frames before the vowel in which the word's loudest frames are
_NOISE: Final = 90  # the noise is as loud as this percentage of its frames at most
_SMALLEST: Final = 1e-9


def onset(samples: Samples, noise: Samples) -> int:
    """The sample at which the loudest word in `samples` begins, given the `noise` before; 0 if there is none."""
    levels = _levels(samples)
    if len(levels) <= _VOWEL:
        return 0
    vowel = _loudest_vowel(levels[:, :_VOICED].max(axis=1))
    own = levels[max(vowel - _AROUND, 0) : vowel + _VOWEL].max(axis=0)
    before = np.concatenate([_levels(noise), levels[: max(vowel - _REACH, 0)]])
    threshold = own - _BELOW
    if len(before):
        loudest = np.percentile(before, _NOISE, axis=0)
        threshold = np.maximum(np.minimum(loudest + _ABOVE, own - _HARDLY), threshold)
        threshold[own < loudest + _THERE] = np.inf  # nothing of the word is in that band
    return _first((levels > threshold).any(axis=1), vowel) * _HOP + _WINDOW // 2


def _loudest_vowel(voiced: NDArray[np.float64]) -> int:
    """The frame in the middle of the loudest vowel."""
    lasting = np.convolve(voiced, np.ones(_VOWEL) / _VOWEL, "valid")
    return int(lasting.argmax()) + _VOWEL // 2


def _first(loud: NDArray[np.bool_], vowel: int) -> int:
    """The first frame of the word with that vowel."""
    first, quiet = vowel, 0
    for frame in range(vowel, max(vowel - _REACH, -1), -1):
        quiet = 0 if loud[frame] else quiet + 1
        if quiet > _GAP:
            break
        if not quiet:
            first = frame
    return first


def _levels(samples: Samples) -> NDArray[np.float64]:
    """The level of each frame in each band, in dB of any reference."""
    count = (len(samples) - _WINDOW) // _HOP + 1
    if count < 1:
        return np.zeros((0, len(_BANDS)))
    starts = np.arange(count)[:, None] * _HOP + np.arange(_WINDOW)
    power = np.abs(np.fft.rfft(samples.astype(np.float64)[starts] / 32768 * np.hanning(_WINDOW), 4 * _WINDOW)) ** 2
    hertz = np.fft.rfftfreq(4 * _WINDOW, 1 / RATE)
    bands = [power[:, (hertz >= low) & (hertz < high)].mean(axis=1) for low, high in _BANDS]
    return np.asarray(10 * np.log10(np.stack(bands, axis=1) + _SMALLEST))
