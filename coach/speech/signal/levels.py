"""How loud sound is: levels in dB below full scale, the noise floor, the span that holds speech."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from coach.speech.signal.wav import RATE, Samples

FRAME = RATE // 100  # 10 ms
_CLIPPED_SHARE = 0.005
_TOO_QUIET = -48.0  # dBFS of the loud parts of speech: what is softer drowns in a sound card's own noise
_TOO_NOISY = 8.0  # dBFS of the loud parts of speech; anything softer drowns in a sound card's own noise
LOUD_ROOM = -40.0  # dBFS of background that hides soft speech
LOUD_BELOW_PEAK = 25.0  # dB; frames within this of the loudest are loud
LOUD_ABOVE_FLOOR = 6.0  # dB
SILENCE = -96.0  # dBFS of 16-bit samples that are all zero

Trouble = Literal["no-signal", "too-loud", "too-quiet", "noisy", "loud-room"]
"""What is wrong with the sound that somebody can do something about. The words for it are a language's."""


@dataclass(frozen=True)
class Levels:
    """Levels of a stretch of sound in dB relative to full scale (0 dBFS: as loud as possible)."""

    speech: float  # its loud parts (95th percentile of the frames)
    floor: float  # its quiet parts (10th percentile)
    clipped: float  # share of samples at full scale, 0..1


def dbfs(samples: Samples) -> float:
    """RMS level in dBFS; SILENCE for nothing or only zeros."""
    if len(samples) == 0:
        return SILENCE
    return float(_db(np.mean(samples.astype(np.float64) ** 2)))


def frames(samples: Samples) -> NDArray[np.float64]:
    """The level of each whole 10 ms frame in dBFS."""
    whole = samples[: len(samples) // FRAME * FRAME].astype(np.float64).reshape(-1, FRAME)
    return np.asarray(_db((whole**2).mean(axis=1)), np.float64)


def measure(samples: Samples) -> Levels:
    """Speech level, noise floor and clipping of a stretch of sound."""
    levels = frames(samples)
    if len(levels) == 0:
        return Levels(SILENCE, SILENCE, 0.0)
    clipped = float(np.mean(np.abs(samples.astype(np.int32)) >= 32767))
    return Levels(float(np.percentile(levels, 95)), float(np.percentile(levels, 10)), clipped)


def quiet(samples: Samples) -> float:
    """The level of the quiet parts in dBFS (10th percentile of the frames)."""
    levels = frames(samples)
    return float(np.percentile(levels, 10)) if len(levels) else dbfs(samples)


def loud_span(samples: Samples, margin: float = 0.3) -> Samples:
    """The part from the first loud frame to the last, with `margin` seconds on both sides."""
    levels = frames(samples)
    if len(levels) == 0:
        return samples
    floor, peak = np.percentile(levels, 10), np.percentile(levels, 97)
    loud = np.flatnonzero(levels > max(peak - LOUD_BELOW_PEAK, floor + LOUD_ABOVE_FLOOR))
    if len(loud) == 0:
        return samples
    around = round(margin * RATE)
    return samples[max(0, int(loud[0]) * FRAME - around) : (int(loud[-1]) + 1) * FRAME + around]


def trouble_of_room(floor: float) -> Trouble | None:
    """What is wrong with a room with that noise floor in dBFS; None where it is quiet enough."""
    return "loud-room" if floor > LOUD_ROOM else None


def trouble(levels: Levels) -> Trouble | None:
    """What is wrong with the level of what was heard; None where it is fine."""
    if levels.speech <= SILENCE:
        return "no-signal"
    if levels.clipped > _CLIPPED_SHARE:
        return "too-loud"
    if levels.speech < _TOO_QUIET:
        return "too-quiet"
    return "noisy" if levels.speech - levels.floor < _TOO_NOISY else None


def _db(power: NDArray[np.float64] | np.floating) -> NDArray[np.float64]:
    return np.asarray(np.maximum(10 * np.log10(np.maximum(power, 1e-9) / 32768.0**2), SILENCE))
