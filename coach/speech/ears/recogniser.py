"""What every recogniser offers, whatever engine is inside.

A *first pass* streams: blocks go in while the learner speaks, partial texts come out, and the end of
the utterance gives what was heard. A *second pass* takes the finished utterance and decides anew.
Both are limited to the phrases of the moment, and both may hear nothing useful.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from coach.speech.signal.wav import Samples


@dataclass(frozen=True)
class Alternative:
    """Something else that the same sound could have been."""

    text: str
    confidence: float


@dataclass(frozen=True)
class Transcript:
    """What was heard in an utterance. `text` is one of the phrases of the moment, or "": nothing useful."""

    text: str
    confidence: float  # 0..1, calibrated: the share of such results that are right
    engine: str
    alternatives: tuple[Alternative, ...] = ()  # what else it could have been, likeliest first
    meaning: object | None = None  # the likeliest of all its writings together, where that was asked for


@dataclass(frozen=True)
class Partial:
    """What has been heard so far of an utterance that is still going on."""

    text: str


class Recogniser(Protocol):
    """A first pass. Sound goes in as 16-bit mono at 16 kHz, in blocks of any length.

    Not for several threads at once.
    """

    @property
    def name(self) -> str: ...

    @property
    def steady(self) -> float:
        """Seconds that a complete partial must stand before it is worth acting on."""
        ...

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` left out because the engine's vocabulary lacks a word."""
        ...

    def limit(self, phrases: Sequence[str]) -> None:
        """From now on only these can be heard. Cached, so cheap to switch. Drops a started utterance."""
        ...

    def feed(self, block: bytes) -> Partial | None:
        """The next stretch of sound; a Partial when what was heard so far has changed."""
        ...

    def finish(self) -> Transcript:
        """The end of the utterance: what was heard. The next `feed` starts another one."""
        ...

    def reset(self) -> None:
        """Forget the utterance so far."""
        ...

    def forget(self) -> None:
        """Forget the speaker, too: the next one is somebody else."""
        ...

    def another(self) -> "Recogniser":
        """One more of the same kind, for another speaker at the same time; it shares the model where that can be."""
        ...


class SecondPass(Protocol):
    """A stronger look over a finished utterance. For any thread, one at a time."""

    @property
    def name(self) -> str: ...

    def closed(self, samples: Samples, phrases: Sequence[str]) -> Transcript:
        """Which of the phrases it was, if any."""
        ...

    def open(self, samples: Samples, before: str = "", fitted: bool = True) -> Transcript:
        """What was said in the speaker's own words; the alternatives are other ways to write it down.

        `before`: what could have been said before; the text leans to its words. `fitted`: by a model that was fitted
        to what is said in lessons, where there is one; otherwise by one that knows nothing of them.
        """
        ...

    def prepare(self) -> None:
        """Load what is not needed at once, so that it is there when it is."""
        ...


def tidy(phrases: Iterable[str]) -> tuple[str, ...]:
    """Phrases as recognisers take them: lower case, single spaces, no doubles, in the order given.

    Whatever holds other characters than letters, apostrophes and spaces is left out, since it could
    mean something else inside a grammar.
    """
    cleaned = (" ".join(phrase.lower().replace("\u2019", "'").split()) for phrase in phrases)
    return tuple(dict.fromkeys(phrase for phrase in cleaned if _pronounceable(phrase)))


def _pronounceable(phrase: str) -> bool:
    return any(map(str.isalpha, phrase)) and all(letter.isalpha() or letter in "' " for letter in phrase)
