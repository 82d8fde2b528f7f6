"""Hearing recordings: what the `hear` command does with a file."""

from collections.abc import Sequence
from pathlib import Path

from coach.audio import engines, wav
from coach.audio.recogniser import Heard, Recogniser
from coach.audio.wav import RATE, Samples

_BLOCK = RATE // 10


class Hearing:
    """Hears one recording after the other with one engine. Raises ModelError when it cannot be had."""

    def __init__(self, engine: str | None = None) -> None:
        self._recogniser = engines.choose(engine)

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last file that the engine cannot hear for lack of a word."""
        return self._recogniser.unknown

    def file(self, path: str | Path, phrases: Sequence[str]) -> Heard:
        """What was said in a WAV file, one of the phrases or "". Raises AudioError when unreadable."""
        return hear(self._recogniser, wav.read(path), phrases)


def hear(recogniser: Recogniser, samples: Samples, phrases: Sequence[str]) -> Heard:
    """The whole of a recording as one utterance."""
    recogniser.limit(phrases)
    for at in range(0, len(samples), _BLOCK):
        recogniser.feed(samples[at : at + _BLOCK].tobytes())
    return recogniser.finish()
