"""The shell of a learner who answers by typing: the coach is heard and read, and waits for as long as it takes."""

from __future__ import annotations

import time
from collections.abc import Iterable

from coach.app.interruption import MovesOn, sentences
from coach.app.typed import read_typed
from coach.dialogue import Adjust, Event, Listen, Say, When
from coach.language import Language
from coach.language.commands import Trait, has
from coach.speech.errors import SynthesisError
from coach.speech.turns.turns import BREATH, joined
from coach.speech.voice.synthesis import Narrator
from coach.web.line import LearnerLine, Screen


class WrittenShell:
    """Speaks over the line, and takes what is typed there. A typed answer cuts the coach off."""

    def __init__(self, language: Language, line: LearnerLine, narrator: Narrator) -> None:
        self._language, self._line, self._narrator = language, line, narrator
        line.reads = True
        self._screen = Screen(line)
        self._mute = False  # the synthesiser has failed: captions only

    def say(self, say: Say) -> None:
        """Returns once it has been heard, or when an answer is typed. Raises LineLost."""
        if isinstance(say, MovesOn):
            self._drop_what_is_no_answer()
        self._screen.coach(say.text)
        if self._mute:
            return
        try:
            sound, _ = joined([self._narrator.synthesise(sentence) for sentence in sentences(say.text)], BREATH)
        except SynthesisError as error:
            self._mute = True
            self._screen.tell(f"{error} Please read what the coach says here.")
            return
        loudspeaker = self._line.loudspeaker
        loudspeaker.begin(sound)
        with self._line.changed:
            while not (loudspeaker.played.over or self._line.typed):
                self._wait()
            loudspeaker.cut_off()

    def listen(self, listen: Listen) -> Event | None:
        """What is typed. Raises LineLost."""
        began = time.monotonic()
        self._line.listen()
        with self._line.changed:
            while not self._line.typed:
                self._wait()
            text = self._line.typed.popleft()
        return read_typed(text, self._language, listen, When(began, time.monotonic()) if listen.timed else None)

    def adjust(self, adjust: Adjust) -> None:
        """Make the voice louder or softer by some steps."""
        self._line.loudspeaker.adjust(adjust.volume)

    def prepare(self, texts: Iterable[str]) -> None:
        """Synthesise ahead of time what may be said next."""
        self._narrator.prefetch(sentence for text in texts for sentence in sentences(text))

    def close(self) -> None:
        """Drop what has not been synthesised yet."""
        self._narrator.close()

    def _drop_what_is_no_answer(self) -> None:
        """What was typed before the next question could be read is no answer to it; a wish like "stop" stands."""
        with self._line.changed:
            meant = [(text, self._language.understand(text, "turn")) for text in self._line.typed]
            self._line.typed.clear()
            self._line.typed += [text for text, meaning in meant if meaning and has(meaning.command, Trait.ANYTIME)]

    def _wait(self) -> None:
        """Wait for a change, now and then looking whether the line still holds."""
        self._line.check()
        self._line.changed.wait(0.5)
