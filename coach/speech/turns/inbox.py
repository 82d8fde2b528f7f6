"""What a source has pushed, for somebody who waits for it."""

import queue
from contextlib import suppress

from coach.speech.turns.ports import Source

_KEPT_BLOCKS = 500  # 10 s of sound nobody took; the oldest goes first
_WAIT_SECONDS = 0.25


class Inbox:
    """Blocks in the order in which they came."""

    def __init__(self, source: Source) -> None:
        self._blocks: queue.Queue[bytes] = queue.Queue(_KEPT_BLOCKS)
        self._source = source
        source.start(self.push)

    def push(self, block: bytes) -> None:
        """One more, from any thread."""
        while True:
            try:
                return self._blocks.put_nowait(block)
            except queue.Full:
                self.waiting()

    def take(self) -> bytes:
        """The next block. Waits for it; raises DeviceError when the source is lost."""
        while True:
            with suppress(queue.Empty):
                return self._blocks.get(timeout=_WAIT_SECONDS)
            self._source.check()

    def waiting(self) -> bytes | None:
        """The next block if it has come already."""
        with suppress(queue.Empty):
            return self._blocks.get_nowait()
        return None

    def clear(self) -> None:
        """Forget what has come so far."""
        while self.waiting() is not None:
            pass

    @property
    def lost_blocks(self) -> int:
        """How many blocks never came."""
        return self._source.lost_blocks
