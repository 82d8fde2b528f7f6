"""A whole lesson between the coach and a simulated learner, both heard, without any sound device.

The learner's answers are spoken by a second voice and go through the recogniser as a real learner's would;
the coach knows only what was heard. Everything ends up in one recording and a transcript beside it.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random
from typing import Final

import numpy as np
from tqdm import tqdm

from coach.audio import engines, wav
from coach.audio.hearing import hear
from coach.audio.recogniser import Recogniser
from coach.audio.resample import resample
from coach.audio.synthesis import VOICE_RATE, Synthesiser, Voice
from coach.audio.wav import RATE, Samples
from coach.dialogue import Adjust, Event, Heard, Lesson, Listen, Say, Silence
from coach.language import Language, load
from coach.language.phrases import load_phrases
from coach.learner import Learner, random_cube
from coach.method import default_method
from coach.session import SessionLog, Shell, run

COACH: Final = Voice(name="en-us", rate=135)
LEARNER: Final = Voice(name="en-us+f2", rate=135)
_BREATH: Final = 0.35
"""Seconds between the two voices."""


class _SilentShell:
    """The lesson without sound, to know beforehand how long it is."""

    def __init__(self, language: Language, learner: Learner) -> None:
        self.language, self.learner, self.said = language, learner, 0

    def say(self, say: Say) -> None:
        self.said += 1
        self.learner.hear(say)

    def listen(self, listen: Listen) -> Event:
        text = self.learner.answer(listen.asked)
        if not text:
            return Silence(listen.seconds)
        return Heard(text, self.language.understand(text, listen.asked, listen.scene))

    def adjust(self, adjust: Adjust) -> None:
        pass


class _HeardShell(_SilentShell):
    """Both voices into one recording, the learner's through the recogniser."""

    def __init__(self, language: Language, learner: Learner, voice: Synthesiser, bar: tqdm[None]) -> None:
        super().__init__(language, learner)
        self.voice, self.bar = voice, bar
        self.recogniser: Recogniser = engines.choose()
        self.sound: list[Samples] = []
        self.lines: list[str] = []

    def say(self, say: Say) -> None:
        super().say(say)
        self._add("Coach", say.text, self.voice.synthesise(say.text, COACH))
        self.bar.update()

    def listen(self, listen: Listen) -> Event:
        text = self.learner.answer(listen.asked)
        if not text:
            self._pause(listen.seconds)
            return Silence(listen.seconds)
        spoken = self.voice.synthesise(text, LEARNER)
        at_ear = wav.to_int16(resample(wav.to_float(spoken), VOICE_RATE, RATE))
        heard = hear(self.recogniser, at_ear, self.language.phrases(listen.asked, listen.scene))
        note = "" if heard.text == text else f" [heard: {heard.text or 'nothing useful'}]"
        self._add("Learner", text + note, spoken)
        meaning = self.language.understand(heard.text, listen.asked, listen.scene) if heard.text else None
        return Heard(heard.text, meaning, heard.confidence)

    def _add(self, who: str, text: str, samples: Samples) -> None:
        self.lines.append(f"{who}: {text}")
        self.sound.append(samples)
        self._pause(_BREATH)

    def _pause(self, seconds: float) -> None:
        self.sound.append(np.zeros(int(seconds * VOICE_RATE), np.int16))


def record(out: Path, step: str, seed: int) -> int:
    """Hold the lesson from `step` on, write the recording to `out` and the transcript beside it as .txt.
    Returns the exit code: 0 if the lesson was done. Raises AudioError or OSError where that cannot be."""
    language = load()
    cube = random_cube(step, Random(seed))

    def lesson(shell: Shell) -> bool:
        one = Lesson(default_method(), load_phrases(), step, offers=language.offers)
        return run(one, shell, SessionLog(None)).outcome == "done"

    rehearsal = _SilentShell(language, Learner(cube, Random(seed)))
    lesson(rehearsal)
    with (
        Synthesiser(COACH) as voice,
        tqdm(total=rehearsal.said, unit="sentence", desc="The lesson", file=sys.stderr) as bar,
    ):
        shell = _HeardShell(language, Learner(cube, Random(seed)), voice, bar)
        done = lesson(shell)
    sound = np.concatenate(shell.sound)
    wav.write(out, sound, VOICE_RATE)
    out.with_suffix(".txt").write_text("\n".join(shell.lines) + "\n", "utf-8")
    minutes, seconds = divmod(round(len(sound) / VOICE_RATE), 60)
    print(f"{out}: {minutes} min {seconds} s, both voices. The transcript is in {out.with_suffix('.txt')}.")
    return 0 if done else 1
