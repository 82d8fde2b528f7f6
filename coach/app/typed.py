"""The typed shell: each utterance is a line on stdout, each answer a line on stdin. It has no timeouts."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import BinaryIO, Final, TextIO

from coach.dialogue import Adjust, Event, Heard, Listen, Say, Silence, When
from coach.language import Language

LONGEST_LINE: Final = 10_000


def standard_input() -> BinaryIO:
    """The source of answers; empty if the process was started without stdin."""
    return sys.stdin.buffer if sys.stdin else BytesIO()


def read_line(source: BinaryIO) -> bytes:
    """The next line, truncated to LONGEST_LINE bytes; b"" at the end of input."""
    line = rest = source.readline(LONGEST_LINE)
    while rest and not rest.endswith(b"\n"):
        rest = source.readline(LONGEST_LINE)
    return line


def read_typed(text: str, language: Language, listen: Listen, when: When | None) -> Event:
    """What a typed answer says; an empty one is silence. `when`: if it is timed."""
    if not text.strip():
        return Silence(listen.seconds, when)
    heard = Heard.read(text.strip(), language.read(text.strip(), listen.asked, listen.scene), listen.asked)
    return replace(heard, when=when)


class TypedShell:
    """Reads lines from `source` (bytes, so that any input is accepted) and writes lines to `sink`."""

    def __init__(
        self,
        language: Language,
        source: BinaryIO | None = None,
        sink: TextIO | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        """`clock` gives seconds, for timed answers."""
        self._language = language
        self._source = source or standard_input()
        self._sink = sink or sys.stdout
        self._clock, self._open = clock, True

    def say(self, say: Say) -> None:
        """Print the utterance on a line of its own. If that fails, there is nobody left to talk to."""
        if not self._open:
            return
        try:
            print(say.text, file=self._sink, flush=True)
        except OSError as error:
            self._open = False
            print(f"What the coach says cannot be written: {error.strerror}. The lesson ends here.", file=sys.stderr)

    def listen(self, listen: Listen) -> Event | None:
        """The next line; an empty line is silence, the end of input is None."""
        began = self._clock()
        line = read_line(self._source) if self._open else b""
        when = When(began, self._clock()) if listen.timed else None
        return read_typed(line.decode("utf-8", "replace"), self._language, listen, when) if line else None

    def adjust(self, adjust: Adjust) -> None:
        """Typing has no volume."""

    def close(self) -> None:
        """Does nothing: standard input and output belong to the process."""
