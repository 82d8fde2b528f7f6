"""Two-pass recognition: one pipeline for lessons, recordings and benches.

The first pass streams while the sound goes on. The second looks at the whole sound, and if it is in doubt its result is
fused with that of the first.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Executor, Future
from typing import TypeVar

from coach.speech.ears.fusion import fuse, in_doubt
from coach.speech.ears.hearing import ExpectedAnswer, decide, hear
from coach.speech.ears.recogniser import Recogniser, SecondPass, Transcript
from coach.speech.signal.wav import Samples

_Result = TypeVar("_Result")


class TwoPass:
    """Both passes, or only one of them.

    `pool` runs the second pass while the sound goes on; without a pool it is done before `begin` returns.
    """

    def __init__(
        self, first: Recogniser | None, second: SecondPass | None = None, pool: Executor | None = None
    ) -> None:
        self.first, self.second = first, second
        self._pool = pool

    def prepare(self) -> None:
        """Load in the background what the second pass will need."""
        if self.second:
            self._submit(self.second.prepare)

    def begin(
        self, samples: Samples, phrases: Sequence[str], answer: ExpectedAnswer | None
    ) -> Future[Transcript] | None:
        """Start the second pass on the sound so far; None if there is no second pass."""
        if (second := self.second) is None:
            return None
        return self._submit(lambda: decide(second, samples, phrases, answer))

    def decided(
        self, second: Transcript | None, finish: Callable[[], Transcript], answer: ExpectedAnswer | None
    ) -> Transcript:
        """The final result. `finish` ends the first pass, which takes time and is not always needed."""
        if second is None:
            return finish()
        if self.first is None or (answer and answer.open) or second.meaning or not in_doubt(second):
            return second
        return fuse(finish(), second)

    def recording(self, samples: Samples, phrases: Sequence[str], answer: ExpectedAnswer | None = None) -> Transcript:
        """What was said in a whole recording; with `answer`, the second pass also hears the learner's own words."""
        second = self.begin(samples, phrases, answer)

        def finish() -> Transcript:
            assert self.first
            return hear(self.first, samples, phrases)

        return self.decided(second.result() if second else None, finish, answer)

    def _submit(self, work: Callable[[], _Result]) -> Future[_Result]:
        if self._pool:
            return self._pool.submit(work)
        done: Future[_Result] = Future()
        done.set_result(work())
        return done
