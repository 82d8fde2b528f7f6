"""A Ctrl-C that is never lost."""

from __future__ import annotations

import signal
from types import FrameType


class CtrlC:
    """Makes sure that one Ctrl-C is enough while the context is entered.

    KeyboardInterrupt is raised wherever Python happens to be. A destructor drops it, and a library that is being loaded
    may turn it into an ImportError, after which the lesson would go on. So the key press is remembered as well.
    """

    def __init__(self) -> None:
        self._down = False
        self._replaces = False

    def pressed(self) -> bool:
        """Whether it has been pressed since the last call."""
        down, self._down = self._down, False
        return down

    def _press(self, _signal: int, _frame: FrameType | None) -> None:
        self._down = True
        raise KeyboardInterrupt

    def __enter__(self) -> CtrlC:
        # The parent process may have set the key to be ignored; respect that.
        if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            signal.signal(signal.SIGINT, self._press)
            self._replaces = True
        return self

    def __exit__(self, *_: object) -> None:
        if self._replaces:
            signal.signal(signal.SIGINT, signal.default_int_handler)
