"""Turns driven by somebody who waits: block after block is taken from where it comes until there is a result.

Who is called for every block instead, as by a socket's loop, calls `Turns.block` and `Turns.played` directly.
"""

from collections.abc import Callable, Sequence
from typing import Protocol, TypeVar

from coach.speech.errors import DeviceError
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.listening import Expectation, Unanswered, Utterance
from coach.speech.turns.ports import Sink
from coach.speech.turns.turns import BargeIn, Said, Turns

_Result = TypeVar("_Result")


class Blocks(Protocol):
    """Where the blocks are taken from: an inbox, a room on tape."""

    def take(self) -> bytes:
        """The next block. Waits for it; raises DeviceError when none will come."""
        ...

    def waiting(self) -> bytes | None:
        """The next block if it has come already."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How many blocks never came."""
        ...


class Driver:
    """Joins turns, the blocks that come in, and the sink."""

    def __init__(
        self, turns: Turns, blocks: Blocks, sink: Sink, mend: Callable[[DeviceError], bool] = lambda problem: False
    ) -> None:
        """`mend` waits for a device that has vanished; False once it is given up."""
        self.turns, self.sink = turns, sink
        self._blocks, self._mend = blocks, mend

    @property
    def lost_blocks(self) -> tuple[int, int]:
        """How often sound was lost on the way in, and on the way out."""
        return self._blocks.lost_blocks, self.sink.lost_blocks

    def say(self, sentences: Sequence[Samples]) -> Said:
        """Play them; returns when they have sounded, or when the learner has barged in. Raises DeviceError."""
        return self._mending(lambda: self._say(sentences))

    def listen(self, expected: Expectation) -> Utterance | Unanswered:
        """What the learner says. Raises DeviceError."""
        return self._mending(lambda: self._listen(expected))

    def go_on(self) -> Utterance | Unanswered:
        """What the learner says in what is left of the turn. Raises DeviceError."""
        return self._mending(lambda: self._hear() if self.turns.go_on() else Unanswered())

    def hear_room(self, seconds: float) -> None:
        """Let so much sound pass, so that the noise is known before anybody speaks. Raises DeviceError."""
        left = round(seconds * RATE)
        while left > 0:
            block = self._mending(self._blocks.take)
            self.turns.block(block)
            left -= len(block) // 2
        self.turns.forget()

    def _say(self, sentences: Sequence[Samples]) -> Said:
        while block := self._blocks.waiting():
            self.turns.block(block)  # the time since the last word counts as breath
        self.sink.begin(self.turns.say(sentences))
        while (said := self.turns.played(self.sink.played)) is None:
            if isinstance(self.turns.block(self._blocks.take()), BargeIn):
                self.sink.cut_off()
        return said

    def _listen(self, expected: Expectation) -> Utterance | Unanswered:
        # The learner's time begins now, unless they have begun to speak already.
        while not self.turns.speaking and (block := self._blocks.waiting()):
            self.turns.block(block)
        self.turns.listen(expected)
        return self._hear()

    def _hear(self) -> Utterance | Unanswered:
        while True:
            result = self.turns.block(self._blocks.take())
            if isinstance(result, Utterance | Unanswered):
                return result

    def _mending(self, work: Callable[[], _Result]) -> _Result:
        """Do it, and once more from its beginning when a device has vanished meanwhile and is back."""
        while True:
            try:
                return work()
            except DeviceError as problem:
                if not self._mend(problem):
                    raise
                self.turns.forget()
