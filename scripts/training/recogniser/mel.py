"""Sound as Whisper sees it: the logarithm of its power in 80 bands, a hundred times a second."""

from __future__ import annotations

from random import Random

import numpy as np
import torch
from torch import Tensor

from coach.speech.signal.wav import RATE

BANDS, WINDOW, HOP = 80, 400, 160  # samples
_LINEAR, _STEP = 1_000.0, 200 / 3  # Hz: Slaney's scale has steps of _STEP below, and 27 to a factor of 6.4 above
_MASKED, _WIDEST = 0.3, 8  # so many batches lack some bands, and so many at most


def filters() -> Tensor:
    """BANDS x frequencies: triangles of equal area on Slaney's mel scale."""
    highest = _LINEAR / _STEP + 27 * np.log(RATE / 2 / _LINEAR) / np.log(6.4)
    mel = np.linspace(0, highest, BANDS + 2)
    above = _LINEAR * np.exp(np.log(6.4) / 27 * (mel - _LINEAR / _STEP))
    corners = np.where(mel < _LINEAR / _STEP, mel * _STEP, above)
    low, middle, high = (corners[at : at + BANDS, None] for at in range(3))
    frequency = np.linspace(0, RATE / 2, WINDOW // 2 + 1)
    rising, falling = (frequency - low) / (middle - low), (high - frequency) / (high - middle)
    weights = np.maximum(0, np.minimum(rising, falling)) * 2 / (high - low)
    return torch.from_numpy(weights.astype(np.float32))


def log_mel(signal: Tensor, filters: Tensor) -> Tensor:
    """batch x samples to batch x BANDS x frames, in the range that the model knows."""
    window = torch.hann_window(WINDOW, device=signal.device)
    power = torch.stft(signal, WINDOW, HOP, window=window, return_complex=True)[..., :-1].abs().square()
    logs = (filters @ power).clamp_min(1e-10).log10()
    loudest = logs.amax((1, 2), keepdim=True)
    return (torch.maximum(logs, loudest - 8) + 4) / 4


def masked(mel: Tensor, random: Random) -> Tensor:
    """The same, now and then without some bands that lie side by side."""
    if random.random() < _MASKED:
        first = random.randrange(BANDS - 10)
        mel[:, first : first + random.randint(1, _WIDEST)] = mel.amin()
    return mel
