"""What the learner is told and asked about sound: headphones, a dead microphone, a voice that is hard to hear."""

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
"""After so many utterances in a row that were not understood the learner is told what to do about it."""


def ask_headphones(shell: Shell, words: Phrases) -> bool | None:
    """Whether the learner wears headphones; None where the question is not answered."""
    shell.say(Ask(words.say("sound.headphones"), Query("other", about="headphones")))
    event = shell.listen(Listen("other", _HEADPHONES_SECONDS))
    command = event.meaning.command if isinstance(event, Heard) and event.meaning else None
    if command not in ("yes", "no"):
        return None
    if command == "yes":
        shell.say(Tell(words.say("sound.may-interrupt")))
    return command == "yes"


def know_room(driver: Driver, words: Phrases, tell: Callable[[str], None]) -> None:
    """Listen for a moment, so that the noise is known before anybody speaks; tell what to do about a loud room."""
    driver.hear_room(_ROOM_SECONDS)
    if wrong := trouble_of_room(driver.turns.floor):
        tell(words.say(f"sound.{wrong}"))


class Advice:
    """What to say about one learner's sound, once it is worth saying."""

    def __init__(self, words: Phrases) -> None:
        self._words = words
        self._unheard = 0
        self._told_dead = False

    def on(self, event: Heard, levels: Levels) -> str | None:
        """About an utterance at those levels, which was understood as `event`."""
        self._unheard = 0 if event.meaning or event.guesses else self._unheard + 1
        wrong = trouble(levels) if self._unheard == _UNHEARD else None
        return self._words.say(f"sound.{wrong}") if wrong else None

    def on_silence(self, signal: bool) -> str | None:
        """About an answer that did not come; `signal`: whether anything ever came from the microphone."""
        if signal or self._told_dead:
            return None
        self._told_dead = True
        return self._words.say("sound.no-signal")
