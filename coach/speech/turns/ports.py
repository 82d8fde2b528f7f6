"""The two ports of a talk: where the learner's sound comes from, and where the coach's goes."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from coach.speech.signal.wav import Samples

Push = Callable[[bytes], None]
"""Takes the next block: about 20 ms of 16-bit mono at RATE."""


class Source(Protocol):
    """Where sound comes from: a microphone, a socket."""

    def start(self, push: Push) -> None:
        """Push every block from now on, from whatever thread has it, in order."""
        ...

    def check(self) -> None:
        """Raises DeviceError once no more will come."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How many blocks never came."""
        ...


@dataclass(frozen=True)
class Played:
    """How far the last sound has come."""

    samples: int
    """So many have sounded, at VOICE_RATE."""

    over: bool
    """Whether no more of it will sound."""

    cut_off: bool = False
    """Whether that was before its end."""


class Sink(Protocol):
    """Where sound goes: a loudspeaker, a socket, a tape. Raises DeviceError once it is gone."""

    def begin(self, samples: Samples) -> None:
        """Play these, at VOICE_RATE, and return at once."""
        ...

    def cut_off(self) -> None:
        """Fall silent at once."""
        ...

    @property
    def played(self) -> Played:
        """How far the sound that was begun last has come."""
        ...

    def adjust(self, steps: int) -> object:
        """Play louder (positive) or softer."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How often it ran dry within a sound."""
        ...
