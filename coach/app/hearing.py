"""Transcribes recordings for the `hear` command."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from coach.app.certainty import unsure
from coach.app.expected import Expected
from coach.language import Language
from coach.language.meaning import Meaning, Question, Scene
from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal import wav
from coach.speech.signal.wav import Samples


class Hearing:
    """Transcribes one recording after the other."""

    def __init__(self, recognition: TwoPass, language: Language) -> None:
        self._recognition, self._language = recognition, language

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last file with a word missing from the vocabulary; a second pass can hear any phrase."""
        first, second = self._recognition.first, self._recognition.second
        return first.unknown if first and not second else ()

    def file(self, path: str | Path, phrases: Sequence[str], asked: Question | None = None) -> Transcript:
        """What was said in a WAV file: one of the phrases, or "". Raises AudioError if the file is unreadable.

        With a question in `asked` and a second pass, the learner's own words are heard too.
        """
        return self.sound(wav.read(path), phrases, asked)

    def sound(
        self, samples: Samples, phrases: Sequence[str], asked: Question | None = None, scene: Scene | None = None
    ) -> Transcript:
        """Does the same for sound that is already in memory."""
        answer = Expected(self._language, asked, scene or Scene()) if asked and self._recognition.second else None
        return self._cautious(self._recognition.recording(samples, phrases, answer), asked)

    def _cautious(self, heard: Transcript, asked: Question | None) -> Transcript:
        """Returns it unchanged, or as nothing useful if it would change the lesson and was not heard surely."""
        if not (asked and heard.text):
            return heard
        settled = heard.meaning if isinstance(heard.meaning, Meaning) else None
        meant = settled or self._language.understand(heard.text, asked)
        if meant is None or not unsure(meant, heard.confidence):
            return heard
        alternatives = (Alternative(heard.text, heard.confidence), *heard.alternatives)
        return Transcript("", heard.confidence, heard.engine, alternatives)
