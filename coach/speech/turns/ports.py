"""The two ports of a conversation: where the learner's sound comes from, and where the coach's goes."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from coach.speech.signal.wav import Samples

Push = Callable[[bytes], None]
"""Receives the next block: about 20 ms of 16-bit mono at RATE."""


class Source(Protocol):
    """Where sound comes from: a microphone, a socket."""

    def start(self, push: Push) -> None:
        """Push every block from now on, in order, from whatever thread."""
        ...

    def check(self) -> None:
        """Raises DeviceError if no more will come."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How many blocks were lost."""
        ...


@dataclass(frozen=True)
class Played:
    """How much of the current sound has been played."""

    samples: int
    """The number of samples played, at VOICE_RATE."""

    over: bool
    """Whether it is over."""

    cut_off: bool = False
    """Whether it was stopped before its end."""


class Sink(Protocol):
    """Where sound goes: a loudspeaker, a socket, a tape. Raises DeviceError if it is gone."""

    def begin(self, samples: Samples) -> None:
        """Start to play these samples at VOICE_RATE, and return at once."""
        ...

    def cut_off(self) -> None:
        """Fall silent at once."""
        ...

    @property
    def played(self) -> Played:
        """How much of the current sound has been played."""
        ...

    def adjust(self, steps: int) -> object:
        """Play louder (positive) or softer."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How often it ran dry within a sound."""
        ...
