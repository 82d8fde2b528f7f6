"""The sound of one utterance in progress, and what the two passes make of it."""

from collections.abc import Sequence
from concurrent.futures import Future

import numpy as np

from coach.speech.ears.hearing import ExpectedAnswer
from coach.speech.ears.recogniser import Recogniser, Transcript
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.wav import Samples
from coach.speech.turns.endpoint import in_samples

_GAP = in_samples(0.04)  # look at the sound after this much quiet, since it may be over
_LONG_GAP = in_samples(0.2)  # the same for an answer in the learner's own words, which takes longer to look at
_MOST_LOOKS = 6  # looks at the gaps of an utterance: a look takes longer than the sound that arrives meanwhile


class Take:
    """One utterance. It is looked at whenever it may be over; if it goes on, the result is dropped."""

    def __init__(
        self, recognition: TwoPass, first: Recogniser, phrases: Sequence[str], answer: ExpectedAnswer | None
    ) -> None:
        self._recognition, self._first_pass = recognition, first
        self._phrases, self._answer = phrases, answer
        self._sound = bytearray()
        self._looks = 0
        self._pending: Future[Transcript] | None = None  # the second pass on the sound up to the last loud block
        self._heard: Transcript | None = None  # what both passes make of it
        self._ended = False  # whether the first pass has ended its utterance
        self.early = False  # whether the last look started before silence
        first.limit(phrases)

    @property
    def samples(self) -> Samples:
        """The whole sound."""
        return np.frombuffer(bytes(self._sound), np.int16)

    @property
    def own_words(self) -> bool:
        """Whether it is most likely in the learner's own words."""
        return self._answer is not None and self._answer.open

    @property
    def gap(self) -> int:
        """Look after this many samples of quiet."""
        return _LONG_GAP if self.own_words else _GAP

    @property
    def ready(self) -> bool:
        """Whether the result is available without waiting."""
        return self._heard is not None or (self._pending is not None and self._pending.done())

    def add(self, block: bytes, loud: bool) -> str | None:
        """Add a block; returns the text of a changed partial. A result from a gap holds until speech resumes."""
        self._sound += block
        if loud and not self.early:
            self.forget()
        if self._ended and not loud:
            return None
        if self._ended:
            block, self._ended = bytes(self._sound), False
        partial = self._first_pass.feed(block)
        return partial.text if partial else None

    def forget(self) -> None:
        """Drop the result, since the utterance goes on."""
        if self._pending:
            self._pending.cancel()
        self._pending = self._heard = None
        self.early = False

    def look(self, *, early: bool = False) -> None:
        """Start to look at the sound so far, unless that has been done."""
        if self._pending or self._heard or (self._looks >= _MOST_LOOKS and not early):
            return
        self._looks += 1
        self.early = early
        self._begin()

    def heard(self) -> Transcript:
        """What was said so far. Waits for the second pass."""
        if not (self._heard or self._pending):
            self._begin()
        if self._heard is None:
            second = self._pending.result() if self._pending else None
            self._heard = self._recognition.decided(second, self._finish, self._answer)
        return self._heard

    def _begin(self) -> None:
        self._pending = self._recognition.begin(self.samples, self._phrases, self._answer)
        if self._pending is None:  # the first pass alone is done at once
            self._heard = self._recognition.decided(None, self._finish, self._answer)

    def _finish(self) -> Transcript:
        self._ended = True
        return self._first_pass.finish()
