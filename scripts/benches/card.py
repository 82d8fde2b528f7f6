"""The two ends of the virtual sound card, with exact times."""

import threading
import time
from collections import deque

import numpy as np

from coach.sound.microphone import Microphone
from coach.speech.signal.wav import RATE
from coach.speech.turns.inbox import Inbox

_KEPT = 1500  # blocks of 20 ms
_WINDOW = 100  # blocks over which the sound's own clock is set


class Ear:
    """Hears a device all the time and knows when each sample came."""

    def __init__(self, name: str) -> None:
        self.line = Microphone(name)
        self._inbox = Inbox(self.line)
        self.line.open()
        self._blocks: deque[tuple[float, np.ndarray]] = deque(maxlen=_KEPT)
        self._lock = threading.Lock()
        threading.Thread(target=self._follow, daemon=True).start()

    def _follow(self) -> None:
        count, offsets = 0, deque[float](maxlen=_WINDOW)
        while True:
            block = np.frombuffer(self._inbox.take(), np.int16)
            count += len(block)
            # Blocks come late by chance, never early: the earliest of the last ones set the clock.
            offsets.append(time.perf_counter() - count / RATE)
            with self._lock:
                self._blocks.append((min(offsets) + (count - len(block)) / RATE, block))

    def sound(self, since: float) -> tuple[np.ndarray, np.ndarray]:
        """The samples since then, and the time of each."""
        with self._lock:
            blocks = [(at, block) for at, block in self._blocks if at + len(block) / RATE > since]
        if not blocks:
            return np.zeros(0, np.int16), np.zeros(0)
        times = np.concatenate([at + np.arange(len(block)) / RATE for at, block in blocks])
        return np.concatenate([block for _, block in blocks]), times

    def first(self, since: float, level: int = 20) -> float | None:
        """When the first sample of at least that size came."""
        samples, times = self.sound(since)
        loud = np.flatnonzero((np.abs(samples.astype(int)) >= level) & (times >= since))
        return float(times[loud[0]]) if len(loud) else None

    def last(self, since: float, level: int = 20) -> float | None:
        """When the last sample of at least that size came."""
        samples, times = self.sound(since)
        loud = np.flatnonzero((np.abs(samples.astype(int)) >= level) & (times >= since))
        return float(times[loud[-1]]) if len(loud) else None


def onset(samples: np.ndarray, level: int = 20) -> int:
    """The first sample of at least that size."""
    return int(np.flatnonzero(np.abs(samples.astype(int)) >= level)[0])


def word_end(samples: np.ndarray, rate: int) -> int:
    """The sample at which the word ends: after it every 10 ms are 25 dB below its loudest ones."""
    frame = rate // 100
    whole = samples[: len(samples) // frame * frame].astype(np.float64).reshape(-1, frame)
    power = (whole**2).mean(axis=1)
    return int(np.flatnonzero(power > np.percentile(power, 97) / 10**2.5)[-1] + 1) * frame
