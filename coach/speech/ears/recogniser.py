"""The interface of every recogniser, whatever its engine.

A *first pass* streams: blocks go in while the learner speaks, partial texts come out, and the end of the utterance
gives the result. A *second pass* takes the finished utterance and decides again. Both are limited to the phrases of the
moment, and both may hear nothing useful.
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
    """The result for an utterance. `text` is one of the phrases of the moment, or "": nothing useful."""

    text: str
    confidence: float  # 0..1, calibrated: the share of such results that are right
    engine: str
    alternatives: tuple[Alternative, ...] = ()  # what else it could have been, likeliest first
    meaning: object | None = None  # the likeliest meaning of all its writings together, if requested


@dataclass(frozen=True)
class Partial:
    """What has been heard so far in an unfinished utterance."""

    text: str


class Recogniser(Protocol):
    """A first pass. Sound goes in as 16-bit mono at 16 kHz, in blocks of any length.

    Not thread-safe.
    """

    @property
    def name(self) -> str: ...

    @property
    def steady(self) -> float:
        """Seconds that a complete partial must stand before it is worth acting on."""
        ...

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` that were left out because the vocabulary lacks a word."""
        ...

    def limit(self, phrases: Sequence[str]) -> None:
        """Accept only these phrases from now on. Cached, so switching is cheap. Drops an unfinished utterance."""
        ...

    def feed(self, block: bytes) -> Partial | None:
        """Take the next block of sound; returns a Partial if the text so far has changed."""
        ...

    def finish(self) -> Transcript:
        """End the utterance and return what was heard. The next `feed` starts another one."""
        ...

    def reset(self) -> None:
        """Forget the utterance so far."""
        ...

    def forget(self) -> None:
        """Also forget the speaker: the next one is somebody else."""
        ...

    def another(self) -> "Recogniser":
        """Another instance for a simultaneous speaker; shares the model if possible."""
        ...


class SecondPass(Protocol):
    """A stronger look at a finished utterance. Callable from any thread, one at a time."""

    @property
    def name(self) -> str: ...

    def closed(self, samples: Samples, phrases: Sequence[str]) -> Transcript:
        """Which of the phrases was said, if any."""
        ...

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        """What was said in the speaker's own words; the alternatives are other transcripts of the same sound.

        `before`: what might have been said before; a prompt that biases the transcription. `fitted`: use the model
        fitted to lessons, if there is one; otherwise one that knows nothing of them. `words`: all that answers are
        usually made of, in each manner of answering; what may well be made up of them is transcribed by them alone.
        """
        ...

    def prepare(self) -> None:
        """Load in advance what is not needed at once."""
        ...


def tidy(phrases: Iterable[str]) -> tuple[str, ...]:
    """Phrases as recognisers take them: lower case, single spaces, no duplicates, in the order given.

    A phrase with characters other than letters, apostrophes and spaces is left out, since these could have a meaning in
    a grammar.
    """
    cleaned = (" ".join(phrase.lower().replace("\u2019", "'").split()) for phrase in phrases)
    return tuple(dict.fromkeys(phrase for phrase in cleaned if _pronounceable(phrase)))


def _pronounceable(phrase: str) -> bool:
    return any(map(str.isalpha, phrase)) and all(letter.isalpha() or letter in "' " for letter in phrase)
