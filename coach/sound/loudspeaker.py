"""The loudspeaker: plays one stretch of sound after the other."""

import threading
import time
from typing import Any

import numpy as np

from coach.sound.devices import BLOCK_SECONDS, DeviceKind, Stream
from coach.speech.signal.resample import resample
from coach.speech.signal.volume import Volume
from coach.speech.signal.wav import VOICE_RATE, Samples, to_float, to_int16
from coach.speech.turns.ports import Played

_WAIT_SECONDS = 0.25
# Seconds of sound kept buffered. Through PulseAudio 0.06 and less raced through whole sentences (25 November 2026: in
# 25 of 30 trials), 0.08 and more never did; the second is for machines that need it.
_LATENCIES = (0.1, 0.2)
_DRY = 2  # switch to the next latency after this many gaps in speech


class Loudspeaker(Stream):
    """Keeps the device open and silent between utterances, so that each starts at once.

    `name` is a device's name or part of it; None is the system's default.
    """

    kind: DeviceKind = "output"

    def __init__(self, name: str | None = None) -> None:
        super().__init__(name, VOICE_RATE)
        self._device_rate = VOICE_RATE
        self._pending: Samples = np.zeros(0, np.int16)
        self._lock = threading.Lock()
        self._whole = 0  # samples in the current sound
        self._lead = 0  # samples of silence at its beginning
        self._cut_at: int | None = None  # samples at VOICE_RATE that had been heard when it was cut off
        self._taken = 0.0  # when the device took the last sample
        self._done = threading.Event()
        self._volume = Volume()
        self.latency: float = _LATENCIES[0]
        self._dry_before = 0

    def play(self, samples: Samples) -> bool:
        """Play samples at VOICE_RATE; returns True once they have been heard, False if cut off.

        Raises DeviceError if the device is gone.
        """
        self.begin(samples)
        while not self._done.wait(_WAIT_SECONDS):
            self.check()
        if self._cut_at is None:
            time.sleep(self._delay())  # what the device has buffered but not played yet
        return self._cut_at is None

    def begin(self, samples: Samples) -> None:
        """Start to play samples at VOICE_RATE and return at once. Raises DeviceError if the device is gone."""
        self._stay_ahead()
        self.check()
        # A device that starts up again may swallow its first block.
        lead = np.zeros(round(BLOCK_SECONDS * self._device_rate), np.int16)
        ready = np.concatenate([lead, self._at_volume(samples)])
        with self._lock:
            self._pending = ready
            self._whole, self._lead, self._cut_at = len(ready), len(lead), None
            self._done.clear()
        # Queued behind the silence in the device's buffer it would start 100 ms late; now it takes 3 to 15 ms.
        self.drop()

    @property
    def played(self) -> Played:
        """How much of the current sound has been played. Raises DeviceError if the device is gone."""
        if self._cut_at is not None:
            return Played(self._cut_at, over=True, cut_off=True)
        if not self._done.is_set():
            self.check()
        elif time.monotonic() >= self._taken + self._delay():
            return Played((self._whole - self._lead) * VOICE_RATE // self._device_rate, over=True)
        return Played(self._sounded(), over=False)

    def cut_off(self) -> None:
        """Fall silent at once; callable from any thread. Raises DeviceError if the device is gone."""
        with self._lock:
            self._cut_at = self._sounded()
            self._pending = self._pending[:0]
            self._done.set()
        self.drop()

    def adjust(self, steps: int) -> bool:
        """Play louder (positive) or softer; False if it cannot go any further."""
        return self._volume.adjust(steps)

    def _at_volume(self, samples: Samples) -> Samples:
        signal = to_float(samples).astype(np.float64)
        if self._device_rate != VOICE_RATE:
            signal = resample(signal, VOICE_RATE, self._device_rate)
        return to_int16(self._volume.of(signal))

    def _stay_ahead(self) -> None:
        """Buffer more sound from now on if it ran dry too often."""
        slower = [latency for latency in _LATENCIES if latency > self.latency]
        if self.lost_blocks - self._dry_before > _DRY and slower:
            self.latency = slower[0]
            self.open()

    def _sounded(self) -> int:
        """Samples of the current sound, at VOICE_RATE, that the device has played."""
        given = self._whole - len(self._pending) - self._lead - round(self._delay() * self._device_rate)
        return max(given, 0) * VOICE_RATE // self._device_rate

    def _delay(self) -> float:
        stream = self._stream
        return min(float(stream.latency), 0.5) if stream is not None else 0.0

    def _prepare(self, rate: int) -> None:
        self._device_rate = rate
        self._dry_before = self.lost_blocks
        self._pending = self._pending[:0]

    def _matters(self) -> bool:
        """Running dry leaves no gap before a sound begins, or once the device has all of it."""
        return not self._done.is_set() and len(self._pending) < self._whole

    def _block(self, data: Any, frames: int) -> None:
        with self._lock:
            if self._done.is_set():  # nothing to play, or cut off
                chunk = b""
            else:
                chunk = self._pending[:frames].tobytes()
                self._pending = self._pending[frames:]
                if len(self._pending) == 0:
                    self._taken = time.monotonic()
                    self._done.set()
        data[:] = chunk + bytes(len(data) - len(chunk))
