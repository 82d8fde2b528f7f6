"""Advice and questions about sound: headphones, a dead microphone, a voice that is hard to hear."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from coach.app.session import Shell
from coach.dialogue import Ask, Heard, Listen, Query, Tell
from coach.language.phrases import Phrases
from coach.speech.signal.levels import Levels, trouble, trouble_of_room
from coach.speech.turns.driver import Driver

_HEADPHONES_SECONDS: Final = 5.0
_ROOM_SECONDS: Final = 0.5
_UNHEARD: Final = 2
"""After this many utterances in a row that were not understood, tell the learner what to do about it."""


def ask_headphones(shell: Shell, words: Phrases) -> bool | None:
    """Ask whether the learner wears headphones; None if the question is not answered."""
    shell.say(Ask(words.say("sound.headphones"), Query("other", about="headphones")))
    event = shell.listen(Listen("other", _HEADPHONES_SECONDS))
    command = event.meaning.command if isinstance(event, Heard) and event.meaning else None
    if command not in ("yes", "no"):
        return None
    if command == "yes":
        shell.say(Tell(words.say("sound.may-interrupt")))
    return command == "yes"


def know_room(driver: Driver, words: Phrases, tell: Callable[[str], None]) -> None:
    """Listen briefly to measure the noise before anybody speaks; say what to do about a loud room."""
    driver.hear_room(_ROOM_SECONDS)
    if wrong := trouble_of_room(driver.turns.floor):
        tell(words.say(f"sound.{wrong}"))


class Advice:
    """Decides what to say about one learner's sound, once it is worth saying."""

    def __init__(self, words: Phrases) -> None:
        self._words = words
        self._unheard = 0
        self._told_dead = False

    def on(self, event: Heard, levels: Levels) -> str | None:
        """Advice after an utterance with these levels that was understood as `event`."""
        self._unheard = 0 if event.meaning or event.guesses else self._unheard + 1
        wrong = trouble(levels) if self._unheard == _UNHEARD else None
        return self._words.say(f"sound.{wrong}") if wrong else None

    def on_silence(self, signal: bool) -> str | None:
        """Advice after a missing answer; `signal`: whether the microphone has ever delivered any sound."""
        if signal or self._told_dead:
            return None
        self._told_dead = True
        return self._words.say("sound.no-signal")
