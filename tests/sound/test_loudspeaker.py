"""What counts as lost at the loudspeaker: gaps in what the coach says. The device is a stand-in."""

from __future__ import annotations

import numpy as np
import pytest

from coach.sound.loudspeaker import Loudspeaker
from coach.speech.signal.wav import VOICE_RATE

BLOCK = VOICE_RATE // 50
UNDERFLOW, FINE = "output underflow", ""


class Stream:
    """A device that takes everything."""

    latency = 0.1

    def abort(self, ignore_errors: bool = True) -> None: ...
    def start(self) -> None: ...
    def close(self, ignore_errors: bool = True) -> None: ...


class Speaker(Loudspeaker):
    opened: list[float]

    def __init__(self) -> None:
        super().__init__()
        self.opened = []
        self.open()

    def open(self) -> None:
        self.close()
        self._prepare(VOICE_RATE)
        self._stream = Stream()
        self.opened.append(self.latency)
        self.take(FINE)

    def take(self, status: str, blocks: int = 1) -> bytes:
        """The device takes so many blocks, and says each time how it was."""
        taken = b""
        for _ in range(blocks):
            data = bytearray(2 * BLOCK)
            self._called(data, BLOCK, None, status)
            taken += data
        return taken


SOUND = np.full(4 * BLOCK, 3000, np.int16)


def test_running_dry_in_silence_loses_nothing() -> None:
    speaker = Speaker()
    speaker.take(UNDERFLOW)
    speaker.begin(SOUND)
    speaker.take(UNDERFLOW)  # of the silence before
    assert any(speaker.take(FINE, 4))
    speaker.take(UNDERFLOW, 3)  # after the last word
    assert speaker.lost_blocks == 0


def test_a_gap_in_a_sentence_is_counted() -> None:
    speaker = Speaker()
    speaker.begin(SOUND)
    speaker.take(FINE)
    speaker.take(UNDERFLOW)
    assert speaker.lost_blocks == 1


@pytest.mark.parametrize(("gaps", "latencies"), [(2, 1), (3, 2), (9, 2)])
def test_after_some_gaps_more_sound_is_kept_ready(gaps: int, latencies: int) -> None:
    speaker = Speaker()
    for _ in range(gaps):
        speaker.begin(SOUND)
        speaker.take(FINE)
        speaker.take(UNDERFLOW)
    speaker.begin(SOUND)
    assert len(speaker.opened) == latencies
    assert speaker.opened == sorted(speaker.opened)
