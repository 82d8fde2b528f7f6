"""What is shown of a lesson by voice: what the coach says, what it has heard, and what happens to the sound."""

from __future__ import annotations

import sys
from typing import TextIO


class Captions:
    """Lines on a terminal, or wherever `out` leads."""

    def __init__(self, out: TextIO | None = None) -> None:
        self._out = out or sys.stdout

    def coach(self, text: str) -> None:
        """The coach says it."""
        print(text, file=self._out, flush=True)

    def learner(self, text: str) -> None:
        """The coach has heard it."""
        print(f"> {text}", file=self._out, flush=True)

    def tell(self, text: str) -> None:
        """Something about the sound, which nobody says."""
        print(text, file=sys.stderr, flush=True)
