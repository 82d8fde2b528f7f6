"""What a voice lesson needs of an ear and a mouth: a microphone and a loudspeaker, or a room on tape."""

from typing import Protocol

from coach.speech.signal.wav import Samples


class Ear(Protocol):
    """Where the sound of the room comes from."""

    @property
    def lost_blocks(self) -> int:
        """How often sound was lost."""
        ...

    def open(self) -> object:
        """Begin, or begin anew. Raises DeviceError where that cannot be."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...

    def read(self) -> bytes:
        """The next block, about 20 ms of 16-bit mono at 16 kHz. Raises DeviceError when it is gone."""
        ...

    def deaf_for(self, seconds: float) -> None:
        """Let so much time of sound pass unheard."""
        ...


class Mouth(Protocol):
    """Where the coach's sound goes: samples at VOICE_RATE. All but `close` may raise DeviceError."""

    @property
    def lost_blocks(self) -> int:
        """How often it has run dry."""
        ...

    @property
    def playing(self) -> bool:
        """Whether what was begun still sounds."""
        ...

    def open(self) -> object:
        """Begin, or begin anew."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...

    def play(self, samples: Samples) -> object:
        """Returns when they have sounded."""
        ...

    def begin(self, samples: Samples) -> None:
        """Start to play and return at once."""
        ...

    def hush(self) -> int:
        """Fall silent; how many samples have sounded of what was begun."""
        ...

    def adjust(self, steps: int) -> object:
        """Louder (positive) or softer."""
        ...
