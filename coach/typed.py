"""The typed shell: each utterance a line on stdout, each answer a line on stdin. It waits for nothing."""

from __future__ import annotations

import sys
from typing import BinaryIO, Final, TextIO

from coach.dialogue import Adjust, Event, Heard, Listen, Say, Silence
from coach.language import Language

LONGEST_LINE: Final = 10_000


def read_line(source: BinaryIO) -> bytes:
    """The next line, of an endless one only the first LONGEST_LINE bytes; b"" at the end of input."""
    line = rest = source.readline(LONGEST_LINE)
    while rest and not rest.endswith(b"\n"):
        rest = source.readline(LONGEST_LINE)
    return line


class TypedShell:
    """Reads lines from `source` (bytes, so that anything may come in) and writes lines to `sink`."""

    def __init__(
        self, language: Language, source: BinaryIO | None = None, sink: TextIO | None = None
    ) -> None:
        self._language = language
        self._source = source or sys.stdin.buffer
        self._sink = sink or sys.stdout

    def say(self, say: Say) -> None:
        """Print the utterance on a line of its own."""
        print(say.text, file=self._sink, flush=True)

    def listen(self, listen: Listen) -> Event | None:
        """The next line; an empty one is silence, the end of input is None."""
        line = read_line(self._source)
        if not line:
            return None
        text = line.decode("utf-8", "replace").strip()
        if not text:
            return Silence(listen.seconds)
        return Heard(text, self._language.understand(text, listen.asked, listen.scene))

    def adjust(self, adjust: Adjust) -> None:
        """Typing has no volume."""
