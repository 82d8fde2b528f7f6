"""Advice and questions about sound: headphones, a dead microphone, a voice that is hard to hear."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from coach.app.session import Shell
from coach.dialogue import Ask, Heard, Listen, Query, Tell
from coach.speech.signal.levels import SILENCE, Levels, advice, advice_on_room
from coach.speech.turns.driver import Driver

HEADPHONES: Final = "Do you wear headphones? Say yes or no."
_MAY_INTERRUPT: Final = "Then you may speak while I speak, and I fall silent."
_HEADPHONES_SECONDS: Final = 5.0
_ROOM_SECONDS: Final = 0.5
_UNHEARD: Final = 2
"""After this many utterances in a row that were not understood, tell the learner what to do about it."""


def ask_headphones(shell: Shell) -> bool | None:
    """Ask whether the learner wears headphones; None if the question is not answered."""
    shell.say(Ask(HEADPHONES, Query("other", about="headphones")))
    event = shell.listen(Listen("other", _HEADPHONES_SECONDS))
    command = event.meaning.command if isinstance(event, Heard) and event.meaning else None
    if command not in ("yes", "no"):
        return None
    if command == "yes":
        shell.say(Tell(_MAY_INTERRUPT))
    return command == "yes"


def know_room(driver: Driver, tell: Callable[[str], None]) -> None:
    """Listen briefly to measure the noise before anybody speaks; say what to do about a loud room."""
    driver.hear_room(_ROOM_SECONDS)
    if remark := advice_on_room(driver.turns.floor):
        tell(remark)


class Advice:
    """Decides what to say about one learner's sound, once it is worth saying."""

    def __init__(self) -> None:
        self._unheard = 0
        self._told_dead = False

    def on(self, event: Heard, levels: Levels) -> str | None:
        """Advice after an utterance with these levels that was understood as `event`."""
        self._unheard = 0 if event.meaning or event.guesses else self._unheard + 1
        return advice(levels) if self._unheard == _UNHEARD else None

    def on_silence(self, signal: bool) -> str | None:
        """Advice after a missing answer; `signal`: whether the microphone has ever delivered any sound."""
        if signal or self._told_dead:
            return None
        self._told_dead = True
        return advice(Levels(SILENCE, SILENCE, 0.0))
