"""The microphone: pushes blocks of 16-bit mono at 16 kHz."""

from typing import Any

import numpy as np

from coach.sound.devices import DeviceKind, Stream
from coach.speech.signal.resample import Resampler
from coach.speech.signal.wav import RATE, to_float, to_int16
from coach.speech.turns.ports import Push


class Microphone(Stream):
    """A source that records as long as it is open.

    `name` is a device's name or part of it; None is the system's default.
    """

    kind: DeviceKind = "input"

    def __init__(self, name: str | None = None) -> None:
        super().__init__(name, RATE)
        self._push: Push = lambda block: None
        self._resampler: Resampler | None = None

    def start(self, push: Push) -> None:
        """Push every block from now on, from the sound system's thread."""
        self._push = push

    def _prepare(self, rate: int) -> None:
        self._resampler = Resampler(rate, RATE) if rate != RATE else None

    def _block(self, data: Any, frames: int) -> None:
        block = bytes(data)
        if self._resampler:
            block = to_int16(self._resampler.feed(to_float(np.frombuffer(block, np.int16)))).tobytes()
        self._push(block)
