"""How well the beginning of "stop" and "start" is found in the sound: the error of a clock that is stopped by voice."""

import random
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from benches import SHARED, fact, head, row
from benches.voices import Speaker
from coach.app.certainty import judge
from coach.dialogue import Listen
from coach.dialogue.replies import command_of
from coach.language import Scene
from coach.speech.signal import wav
from coach.speech.signal.wav import RATE, Samples

if TYPE_CHECKING:
    from coach.language import Language
    from coach.speech.ears.two_pass import TwoPass
    from coach.speech.turns.listening import Utterance

# Voices that the search for the beginning was not fitted to.
VOICES = (
    "espeak-ng en-gb-x-gbcwmd+f2", "espeak-ng en-gb-x-gbcwmd+m4", "espeak-ng en-029+m1", "espeak-ng en-us+f1",
    "espeak-ng en-us+m7", "espeak-ng en-gb-x-gbclan+f5", "flite kal", "festival cmu_us_slt_arctic_hts",
)  # fmt: skip
TEMPOS = 0.9, 1.1
WORDS = {"stop": "solve", "start": "inspection"}
COMMANDS = {"stop": "stop", "start": "ready"}
NOISES = (("quiet", "", 0), ("kitchen", "kitchen", 20), ("kitchen", "kitchen", 10), ("six talkers", "babble", 20),
          ("six talkers", "babble", 10))  # fmt: skip
LEVEL = 0.2  # of full scale, the loudest sample of the word
ROOM, BEFORE, AFTER = 1.0, 1.5, 1.5  # seconds: the noise is known a little before anybody listens
BLOCK = RATE // 50


def said() -> list[tuple[str, Samples]]:
    """The words by all voices that are here, from their first sample of one percent of the loudest on: its true
    beginning."""
    found: list[tuple[str, Samples]] = []
    missing = set()
    for voice in VOICES:
        for tempo in TEMPOS:
            for word in WORDS:
                try:
                    sound = wav.to_float(Speaker(voice, tempo).say(word))
                except (OSError, subprocess.CalledProcessError):
                    missing.add(voice)
                    continue
                loud = np.flatnonzero(np.abs(sound) >= np.abs(sound).max() / 100)
                found.append((word, sound[loud[0] : loud[-1] + 1] * LEVEL / np.abs(sound).max()))
    fact("onset: voices", f"{len(VOICES) - len(missing)}, missing: {', '.join(sorted(missing)) or 'none'}")
    return found


def onset(arguments: Sequence[str] = ()) -> None:
    """The error for words that were understood, in quiet and in noise."""
    from coach.app.runtime import Runtime

    head()
    if not shutil.which("espeak-ng"):
        print("espeak-ng is not here: not measured.")
        return
    words = said()
    with Runtime() as runtime, runtime.seat() as seat:
        recognition = seat.recognition()
        for name, file, decibels in NOISES:
            path = SHARED / "speech/noise" / f"{file}.wav"
            if not file or path.exists():
                draw, noise = random.Random(5), wav.read(path) if file else None
                sounds = [(word, _mixed(sound, noise, decibels, draw)) for word, sound in words]
                _measure(f"{name} {decibels} dB" if file else name, sounds, recognition, seat.language)


def _measure(
    what: str, sounds: Sequence[tuple[str, Samples]], recognition: "TwoPass", language: "Language"
) -> None:
    errors, late = [], []
    sure = asked = 0
    for word, sound in sounds:
        heard = _heard(word, sound, recognition, language)
        if heard is None:
            continue
        utterance, surely = heard
        sure, asked = sure + surely, asked + (not surely)
        late.append((utterance.seconds - BEFORE) * 1000)
        errors.append((utterance.seconds - utterance.ago - BEFORE) * 1000)
    row(f"onset, {what}: error, without its sign", [abs(error) for error in errors])
    if errors:
        fact(f"onset, {what}: middle of the error", f"{np.median(errors):8.1f} ms")
        row(f"onset, {what}: understood so long after", late)
    fact(f"onset, {what}: understood surely, asked about", f"{sure:8d} {asked:8d} of {len(sounds)}")


def _mixed(sound: Samples, noise: Samples | None, decibels: int, draw: random.Random) -> Samples:
    """The word in the middle of noise that is so much softer than it."""
    begin = round((ROOM + BEFORE) * RATE)
    whole = np.zeros(begin + len(sound) + round(AFTER * RATE))
    whole[begin : begin + len(sound)] = sound
    if noise is None:
        return wav.to_int16(whole + np.random.default_rng(draw.randrange(1 << 30)).normal(0, 2e-4, len(whole)))
    at = draw.randrange(len(noise) - len(whole))
    other = wav.to_float(noise[at : at + len(whole)])
    power = np.mean(sound**2) / np.mean(other[begin : begin + len(sound)] ** 2)
    return wav.to_int16(whole + other * np.sqrt(power / 10 ** (decibels / 10)))


def _heard(word: str, sound: Samples, recognition: "TwoPass", language: "Language") -> "tuple[Utterance, bool] | None":
    """The utterance that was understood as the word, and whether surely; None if there is none."""
    from coach.app.expected import expectation
    from coach.speech.turns.listening import Listener, Utterance

    listener = Listener(recognition)
    scene = Scene(about=WORDS[word])
    expected = expectation(language, Listen("other", 10.0, scene), 10.0)
    passed = 0.0
    for at in range(0, len(sound) - BLOCK + 1, BLOCK):
        if at < ROOM * RATE:
            listener.watch(sound[at : at + BLOCK].tobytes())
            continue
        if at - BLOCK < ROOM * RATE:
            listener.listen(expected)
        result = listener.block(sound[at : at + BLOCK].tobytes())
        if not isinstance(result, Utterance):
            continue
        event = judge(result.heard, result.levels, partial(language.understand, asked="other", scene=scene), "other")
        if command_of(event) == COMMANDS[word]:
            return replace(result, seconds=passed + result.seconds), True
        if COMMANDS[word] in map(command_of, event.guesses):
            return replace(result, seconds=passed + result.seconds), False
        passed += result.seconds  # something else: go on listening
        listener.listen(expected)
    return None
