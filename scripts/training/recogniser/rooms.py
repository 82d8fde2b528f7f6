"""Sounds as a microphone has them: in a room, with noise or others talking, louder or softer."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

import torch
from torch import Tensor

from coach.speech.ears.whisper import LEAD
from coach.speech.signal.wav import RATE, Samples, to_float

_BEFORE, _AFTER = (0, 3_000), (30_000, 50_000)  # samples: before the sound beyond LEAD, and after it
_ROOM, _ECHO = 0.4, 8_000  # so many batches are in a room; its echo in samples
_LASTING, _ECHOING = (0.1, 0.5), (0.01, 0.06)  # seconds until an echo is 60 dB softer; its strength
_NOISE, _BABBLE, _VOICES = 0.35, 0.25, 4  # so many sounds have noise, so many others talking, and these are so many
_SLOPE = 1.2  # the noise's spectrum falls by its frequency to the power of up to so much
_DECIBELS, _GAIN = (6.0, 35.0), (-20.0, 3.0)  # of the sound over the noise; of all
_NOISE_AFTER = 3_000  # samples


class Rooms:
    """All sounds on the device, and batches of them made anew every time."""

    def __init__(self, sounds: Sequence[Samples], device: torch.device, random: Random) -> None:
        self._random, self._device = random, device
        self._lengths = torch.tensor([len(each) for each in sounds], device=device)
        # Half floats: for 4,000 sounds of at most 14 s 1.8 GB.
        self._held = torch.zeros(len(sounds), max(map(len, sounds)), dtype=torch.float16, device=device)
        for row, each in enumerate(sounds):
            self._held[row, : len(each)] = torch.from_numpy(to_float(each)).to(device)

    def heard(self, batch: Sequence[int]) -> Tensor:
        """batch x samples, full scale 1: silence, the sound, silence; of whole seconds, as each new size of a Fourier
        transform costs a plan on the GPU."""
        at = torch.tensor(batch, device=self._device)
        lengths = self._lengths[at]
        begin, used = LEAD + self._random.randrange(*_BEFORE), int(lengths.max())
        size = -(-(begin + used + self._random.randrange(*_AFTER)) // RATE) * RATE
        signal = torch.zeros(len(batch), size, device=self._device)
        signal[:, begin : begin + used] = self._held[at, :used].float()
        level = (signal.square().sum(1) / lengths).sqrt().clamp_min(1e-4)
        if self._random.random() < _ROOM:
            signal = self._in_room(signal)
        place = torch.arange(size, device=self._device)
        # In a lesson too the sound is followed by silence, not by the room.
        on = (place >= LEAD) & (place < (begin + lengths + _NOISE_AFTER)[:, None])
        noise = self._noise(len(batch), size) * on
        signal = signal + noise * (level * _ratio(-self._uniform(len(batch), *_DECIBELS)))[:, None]
        return (signal * _ratio(self._uniform(len(batch), *_GAIN))[:, None]).clamp(-1, 1)

    def _uniform(self, count: int, low: float, high: float) -> Tensor:
        return torch.empty(count, device=self._device).uniform_(low, high)

    def _in_room(self, signal: Tensor) -> Tensor:
        """With an echo that dies away, the same for all."""
        seconds = torch.arange(_ECHO, device=self._device) / RATE
        falling = torch.exp(-6.9 * seconds / self._random.uniform(*_LASTING))  # exp(-6.9): 60 dB
        echo = torch.randn(_ECHO, device=self._device) * falling * self._random.uniform(*_ECHOING)
        echo[0] = 1.0
        size = signal.shape[1]
        whole = size + RATE  # more than the echo, so that none comes round to the beginning
        both = torch.fft.rfft(signal, n=whole) * torch.fft.rfft(echo, n=whole)
        return torch.fft.irfft(both, n=whole)[:, :size]

    def _noise(self, count: int, size: int) -> Tensor:
        """count x size, each of deviation 1, or nothing."""
        chosen = torch.rand(count, 1, device=self._device)
        noise, babble = _unit(self._coloured(count, size)), _unit(self._babble(count, size))
        nothing = torch.zeros_like(noise)
        return torch.where(chosen < _NOISE, noise, torch.where(chosen < _NOISE + _BABBLE, babble, nothing))

    def _coloured(self, count: int, size: int) -> Tensor:
        """Noise whose spectrum falls, more or less steeply."""
        spectrum = torch.fft.rfft(torch.randn(count, size, device=self._device))
        frequency = torch.arange(1, spectrum.shape[1] + 1, device=self._device)
        return torch.fft.irfft(spectrum * frequency ** -self._uniform(count, 0, _SLOPE)[:, None], n=size)

    def _babble(self, count: int, size: int) -> Tensor:
        """Other sounds together."""
        babble = torch.zeros(count, size, device=self._device)
        length = min(size, self._held.shape[1])
        for _ in range(_VOICES):
            others = torch.randint(0, len(self._held), (count,), device=self._device)
            babble[:, :length] += self._held[others, :length].float().roll(self._random.randrange(length), 1)
        return babble


def _unit(signal: Tensor) -> Tensor:
    return signal / signal.std(1, keepdim=True).clamp_min(1e-6)


def _ratio(decibels: Tensor) -> Tensor:
    return 10 ** (decibels / 20)
