"""The microphone: blocks of 16-bit mono at 16 kHz."""

import queue
import time
from contextlib import suppress
from typing import Any

import numpy as np

from coach.sound.devices import DeviceKind, Stream
from coach.speech.signal.resample import Resampler
from coach.speech.signal.wav import RATE, to_float, to_int16

_KEPT_BLOCKS = 500  # 10 s of sound nobody took; the oldest goes first
_WAIT_SECONDS = 0.25


class Microphone(Stream):
    """Records all the time; who is not interested calls `clear` before listening.

    `name` is a device's name or a part of it; None is the system's default.
    """

    kind: DeviceKind = "input"

    def __init__(self, name: str | None = None) -> None:
        super().__init__(name, RATE)
        self._blocks: queue.Queue[bytes] = queue.Queue(_KEPT_BLOCKS)
        self._resampler: Resampler | None = None

    def read(self) -> bytes:
        """The next block, about 20 ms of sound. Waits for it; raises DeviceError when the device is gone."""
        while True:
            try:
                return self._blocks.get(timeout=_WAIT_SECONDS)
            except queue.Empty:
                self.check()

    def clear(self) -> None:
        """Forget what was recorded so far."""
        with suppress(queue.Empty):
            while True:
                self._blocks.get_nowait()

    def deaf_for(self, seconds: float) -> None:
        """Let so much time of sound pass unheard: the tail of the coach's own words in the room."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            self.read()
        self.clear()

    def _prepare(self, rate: int) -> None:
        self.clear()
        self._resampler = Resampler(rate, RATE) if rate != RATE else None

    def _block(self, data: Any, frames: int) -> None:
        block = bytes(data)
        if self._resampler:
            block = to_int16(self._resampler.feed(to_float(np.frombuffer(block, np.int16)))).tobytes()
        while True:
            try:
                self._blocks.put_nowait(block)
                return
            except queue.Full:
                with suppress(queue.Empty):
                    self._blocks.get_nowait()
