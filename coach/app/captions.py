"""What is displayed during a voice lesson: what the coach says, what it hears, and problems with the sound."""

from __future__ import annotations

import sys
from typing import TextIO


class Captions:
    """Writes lines to a terminal, or to any other `out`."""

    def __init__(self, out: TextIO | None = None) -> None:
        self._out = out or sys.stdout

    def coach(self, text: str) -> None:
        """Show what the coach says."""
        print(text, file=self._out, flush=True)

    def learner(self, text: str) -> None:
        """Show what the coach has heard."""
        print(f"> {text}", file=self._out, flush=True)

    def tell(self, text: str) -> None:
        """Show a message about the sound that is not spoken."""
        print(text, file=sys.stderr, flush=True)
