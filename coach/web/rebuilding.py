"""A shell that first replays what has happened in a lesson, silently, and then goes on at the same question."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence

from coach.app.session import Shell
from coach.dialogue import Adjust, Event, Heard, Listen, Say


class Rebuilding:
    """Passes everything on to a shell once the past is told, and hands every new event to `keep`."""

    def __init__(self, shell: Shell, past: Sequence[Event], keep: Callable[[Event], None]) -> None:
        self._shell, self._keep = shell, keep
        self._past = deque(past)
        # Whether they said this or that would be asked with the words, which are not kept: ask the question again.
        while self._past and isinstance(last := self._past[-1], Heard) and last.guesses:
            self._past.pop()
        self._unsaid: list[Say] = []
        self.going_on = not self._past
        """Whether the past is over."""

    def say(self, say: Say) -> None:
        """Say it; what belongs to the past is said only if nothing has happened since."""
        if self.going_on:
            self._shell.say(say)
        else:
            self._unsaid.append(say)

    def listen(self, listen: Listen) -> Event | None:
        """The next event of the past, or a new one."""
        if self._past:
            self._unsaid.clear()
            return self._past.popleft()
        self.going_on = True
        unsaid, self._unsaid = self._unsaid, []
        for say in unsaid:
            self._shell.say(say)
        event = self._shell.listen(listen)
        if event:
            self._keep(event)
        return event

    def adjust(self, adjust: Adjust) -> None:
        """Make the voice louder or softer."""
        self._shell.adjust(adjust)
