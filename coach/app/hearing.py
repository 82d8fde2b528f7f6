"""Hearing recordings, as the `hear` command does."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from coach.app.certainty import unsure
from coach.app.expected import Expected
from coach.language import Language, load
from coach.language.meaning import Meaning, Question, Scene
from coach.speech.ears import engines
from coach.speech.ears.hearing import second_pass
from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.ears.second_pass import WhisperPass
from coach.speech.ears.two_pass import TwoPass
from coach.speech.ears.whisper import NAME as WHISPER
from coach.speech.signal import wav
from coach.speech.signal.wav import Samples


class Hearing:
    """Hears one recording after the other. Raises ModelError when the engine asked for cannot be had.

    Without a name both looks listen, or the first one alone where the second is not installed.
    """

    def __init__(self, engine: str | None = None, language: Language | None = None) -> None:
        self._first = None if engine == WHISPER else engines.choose(engine)
        self._second = WhisperPass() if engine == WHISPER else second_pass() if engine is None else None
        self._recognition = TwoPass(self._first, self._second)
        self._language = language

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last file that cannot be heard for lack of a word; a second pass can hear any."""
        return self._first.unknown if self._first and not self._second else ()

    def file(self, path: str | Path, phrases: Sequence[str], asked: Question | None = None) -> Transcript:
        """What was said in a WAV file: one of the phrases, or "". Raises AudioError when unreadable.

        With `asked`, the question, also one's own words where there is a second pass.
        """
        return self.sound(wav.read(path), phrases, asked)

    def sound(
        self, samples: Samples, phrases: Sequence[str], asked: Question | None = None, scene: Scene | None = None
    ) -> Transcript:
        """The same for sound that has been read."""
        if asked is not None:
            self._language = self._language or load()
        answer = None
        if self._language and self._second and asked:
            answer = Expected(self._language, asked, scene or Scene())
        return self._cautious(self._recognition.recording(samples, phrases, answer), asked)

    def _cautious(self, heard: Transcript, asked: Question | None) -> Transcript:
        """The same, or nothing useful where what changes the lesson was not heard surely."""
        if not (self._language and asked and heard.text):
            return heard
        settled = heard.meaning if isinstance(heard.meaning, Meaning) else None
        meant = settled or self._language.understand(heard.text, asked)
        if meant is None or not unsure(meant, heard.confidence):
            return heard
        alternatives = (Alternative(heard.text, heard.confidence), *heard.alternatives)
        return Transcript("", heard.confidence, heard.engine, alternatives)
