"""A recorded room, where the coach speaks and listens in simulated time, as fast as it can be computed.

It is both the coach's sink and its source of blocks. Everything that sounds in it is recorded.
"""

from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any

import numpy as np

from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.ports import Played

_BLOCK = 0.02  # seconds
_AT_EAR, _ON_TAPE = round(_BLOCK * RATE), round(_BLOCK * VOICE_RATE)
_HUM = -62.0  # dBFS of the room's own noise at the ear: no room is completely silent
_STILL = 0.25  # nobody speaks for this many seconds after the coach's last word
_LOOK = 0.3  # room time, in seconds, taken by a look at an utterance: a usual machine takes no more


class Room:
    """The coach plays into it and reads from it; others speak through `speak`."""

    lost_blocks = 0

    def __init__(self) -> None:
        self._tape: list[Samples] = []
        self._length = 0
        self._coming: Samples = np.zeros(0, np.int16)  # what the other person has still to say, at the ear
        self._coming_on_tape: Samples = np.zeros(0, np.int16)
        self._hum = np.random.default_rng(0)
        self._played = Played(0, over=True)
        self._still = False  # whether the coach has just spoken

    @property
    def seconds(self) -> float:
        """The current time in the room."""
        return self._length / VOICE_RATE

    @property
    def tape(self) -> Samples:
        """Everything that has sounded, at VOICE_RATE."""
        return np.concatenate(self._tape) if self._tape else np.zeros(0, np.int16)

    def speak(self, samples: Samples, after: float) -> None:
        """Somebody says this, at VOICE_RATE, after `after` seconds."""
        begin = round(after / _BLOCK)
        self._coming_on_tape = np.concatenate([np.zeros(begin * _ON_TAPE, np.int16), samples])
        at_ear = wav.to_int16(resample(wav.to_float(samples), VOICE_RATE, RATE))
        self._coming = np.concatenate([np.zeros(begin * _AT_EAR, np.int16), at_ear])

    # The source of blocks

    def take(self) -> bytes:
        """What is audible in the next 20 ms; after the coach's last word, first a longer silence."""
        if self._still:
            self._still = False
            return self._pass_in_silence()
        self._record(_first(self._coming_on_tape, _ON_TAPE))
        block = _first(self._coming, _AT_EAR).astype(np.float64)
        self._coming, self._coming_on_tape = self._coming[_AT_EAR:], self._coming_on_tape[_ON_TAPE:]
        hum = self._hum.normal(0.0, 32768 * 10 ** (_HUM / 20), _AT_EAR)
        return wav.to_int16((block + hum) / 32768).tobytes()

    def waiting(self) -> None:
        """No time passes unless somebody waits for it, so there is never a block yet."""

    def _pass_in_silence(self) -> bytes:
        self._record(np.zeros(round(_STILL * VOICE_RATE), np.int16))
        return bytes(2 * round(_STILL * RATE))

    # The sink

    @property
    def played(self) -> Played:
        """The coach is never interrupted here: whatever it begins is played in full."""
        return self._played

    def begin(self, samples: Samples) -> None:
        """The coach speaks, once anybody else has finished."""
        self._record(self._coming_on_tape)
        self._coming = self._coming_on_tape = self._coming[:0]
        self._record(samples)
        self._played, self._still = Played(len(samples), over=True), True

    def cut_off(self) -> None:
        """Nothing is sounding any more."""

    def adjust(self, steps: int) -> None:
        """The coach always has the same volume here."""

    def _record(self, samples: Samples) -> None:
        self._tape.append(samples)
        self._length += len(samples)


class RoomTime(Executor):
    """Does work when its result is needed; the result is ready after a fixed time in the room.

    So a recorded lesson is the same on every machine, however fast, and work cancelled in time is never done.
    """

    def __init__(self, room: Room) -> None:
        self._room = room

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Work that is ready after a moment."""
        return _Ready(lambda: fn(*args, **kwargs), self._room)


class _Ready(Future[Any]):
    def __init__(self, work: Callable[[], Any], room: Room) -> None:
        super().__init__()
        self._work, self._room, self._at = work, room, room.seconds + _LOOK

    def done(self) -> bool:
        return super().done() or self._room.seconds >= self._at

    def result(self, timeout: float | None = None) -> Any:
        if not super().done():
            self.set_result(self._work())
        return super().result(timeout)


def _first(samples: Samples, number: int) -> Samples:
    """The first `number` samples, padded with silence."""
    return np.pad(samples[:number], (0, max(number - len(samples), 0)))
