"""Drives turns for a caller that waits: takes block after block until there is a result.

A caller that is called for every block, such as a socket's loop, uses `Turns.block` and `Turns.played` directly.
"""

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from coach.speech.errors import DeviceError
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.listening import Expectation, Unanswered, Utterance
from coach.speech.turns.ports import Sink
from coach.speech.turns.turns import BargeIn, Said, Turns

_Result = TypeVar("_Result")


class Blocks(Protocol):
    """Where the blocks come from: an inbox, a recorded room."""

    def take(self) -> bytes:
        """Wait for the next block and return it; raises DeviceError if none will come."""
        ...

    def waiting(self) -> bytes | None:
        """The next block if it is already there."""
        ...

    @property
    def lost_blocks(self) -> int:
        """How many blocks were lost."""
        ...


@dataclass(frozen=True)
class Typed:
    """The learner has typed this instead of saying it."""

    text: str


class Driver:
    """Connects turns, the incoming blocks and the sink. What is put into `typed` is the next answer: it cuts the coach
    off, and ends the learner's turn."""

    def __init__(
        self, turns: Turns, blocks: Blocks, sink: Sink, mend: Callable[[DeviceError], bool] = lambda problem: False
    ) -> None:
        """`mend` waits for a vanished device; it returns False if it gives up."""
        self.turns, self.sink = turns, sink
        self.typed: deque[str] = deque()  # from any thread
        self._blocks, self._mend = blocks, mend

    @property
    def lost_blocks(self) -> tuple[int, int]:
        """How often sound was lost on input and on output."""
        return self._blocks.lost_blocks, self.sink.lost_blocks

    def say(self, sentences: Sequence[Samples]) -> Said:
        """Play the sentences; returns once they have been played, or on a barge-in. Raises DeviceError."""
        return self._mending(lambda: self._say(sentences))

    def listen(self, expected: Expectation) -> Utterance | Unanswered | Typed:
        """What the learner says. Raises DeviceError."""
        return self._mending(lambda: self._listen(expected))

    def go_on(self) -> Utterance | Unanswered | Typed:
        """What the learner says in the rest of the turn. Raises DeviceError."""
        return self._mending(lambda: self._hear() if self.turns.go_on() else Unanswered())

    def hear_room(self, seconds: float) -> None:
        """Listen to this much sound to learn the noise floor before anybody speaks. Raises DeviceError."""
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
            if isinstance(self.turns.block(self._blocks.take()), BargeIn) or self.typed:
                self.sink.cut_off()
        return said

    def _listen(self, expected: Expectation) -> Utterance | Unanswered | Typed:
        # The learner's time starts now, unless they are already speaking.
        while not self.turns.speaking and (block := self._blocks.waiting()):
            self.turns.block(block)
        self.turns.listen(expected)
        return self._hear()

    def _hear(self) -> Utterance | Unanswered | Typed:
        while not self.typed:
            result = self.turns.block(self._blocks.take())
            if isinstance(result, Utterance | Unanswered):
                return result
        return Typed(self.typed.popleft())

    def _mending(self, work: Callable[[], _Result]) -> _Result:
        """Do the work, and repeat it from the start if a device has vanished meanwhile and is back."""
        while True:
            try:
                return work()
            except DeviceError as problem:
                if not self._mend(problem):
                    raise
                self.turns.forget()
