"""Queues what a source has pushed for a caller that waits for it."""

import queue
from contextlib import suppress

from coach.speech.turns.ports import Source

_KEPT_BLOCKS = 500  # 10 s of unread sound; the oldest is dropped first
_WAIT_SECONDS = 0.25


class Inbox:
    """Blocks in the order of their arrival."""

    def __init__(self, source: Source) -> None:
        self._blocks: queue.Queue[bytes] = queue.Queue(_KEPT_BLOCKS)
        self._source = source
        source.start(self.push)

    def push(self, block: bytes) -> None:
        """Add a block; callable from any thread."""
        while True:
            try:
                return self._blocks.put_nowait(block)
            except queue.Full:
                self.waiting()

    def take(self) -> bytes:
        """Wait for the next block and return it; raises DeviceError if the source is lost."""
        while True:
            with suppress(queue.Empty):
                return self._blocks.get(timeout=_WAIT_SECONDS)
            self._source.check()

    def waiting(self) -> bytes | None:
        """The next block if it is already there."""
        with suppress(queue.Empty):
            return self._blocks.get_nowait()
        return None

    def clear(self) -> None:
        """Drop all blocks received so far."""
        while self.waiting() is not None:
            pass

    @property
    def lost_blocks(self) -> int:
        """How many blocks were lost."""
        return self._source.lost_blocks
