"""Checks which parts of the sound work on this machine, and says what to do about the rest."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coach.sound import devices
from coach.sound.local import chosen
from coach.sound.loudspeaker import Loudspeaker
from coach.sound.microphone import Microphone
from coach.speech import models
from coach.speech.ears import engines
from coach.speech.ears.second_pass import WhisperPass
from coach.speech.errors import AudioError, DeviceError
from coach.speech.signal.levels import Levels, measure, trouble, trouble_of_room
from coach.speech.signal.wav import RATE
from coach.speech.turns.inbox import Inbox
from coach.speech.voice.synthesis import Synthesiser

_SAMPLE = "This is how I sound. Now please say something."
_LISTEN_SECONDS = 3.0
_HOW_TO_INTERRUPT = (
    "with headphones (turncaller lesson --headphones yes). With loudspeakers it takes an echo canceller: "
    "pactl load-module module-echo-cancel, then choose its source and sink in the system's sound settings"
)


Words = Callable[[str], str]


@dataclass(frozen=True)
class Finding:
    """One finding: its subject, whether it is fine, and the details or what to do."""

    about: str
    fine: bool
    text: str
    prevents: bool = False  # whether it makes a voice lesson impossible

    def __str__(self) -> str:
        return f"{'ok  ' if self.fine else 'look'}  {self.about:<12} {self.text}"


def report(
    moments: Sequence[Sequence[str]],
    words: Words,
    microphone: str | None = None,
    loudspeaker: str | None = None,
) -> Iterator[Finding]:
    """The findings, one by one, as they are made. Speaks a sentence and listens for three seconds.

    `moments` are the phrases that a recogniser must be able to hear at each moment of a lesson, `words` the sentences
    of the language by their key. Devices by name, else
    those that a lesson would take.
    """
    microphone, loudspeaker = chosen("input", microphone), chosen("output", loudspeaker)
    with Synthesiser() as synthesiser:
        sample, *voice = _voice(synthesiser)
        yield from voice
    yield from _recognisers(moments)
    yield _names("microphones", "input")
    yield _names("loudspeakers", "output")
    yield _play(loudspeaker, sample)
    yield from _record(microphone, words)
    yield _interrupting(microphone)


def _voice(synthesiser: Synthesiser) -> tuple[np.ndarray, *tuple[Finding, ...]]:
    try:
        sample = synthesiser.synthesise(_SAMPLE)
        names = synthesiser.voices()
    except AudioError as error:
        return np.zeros(RATE // 10, np.int16), Finding("voice", False, str(error), prevents=True)
    english = [name for name in names if name.rpartition("/")[2].startswith("en")]
    return sample, Finding("voice", True, f"{synthesiser.voice.name}; English voices: {', '.join(english)}")


def _recognisers(moments: Sequence[Sequence[str]]) -> Iterator[Finding]:
    any_works = False
    for name in engines.NAMES:
        if name == "vosk" and engines.vosk_model() is None:
            yield Finding("recogniser", True, f"vosk: no model here (better ears: {models.how_to_fetch()})")
            continue
        try:
            recogniser = engines.choose(name)
        except AudioError as error:
            yield Finding("recogniser", False, f"{name}: {error}")
        else:
            any_works = True
            lacking = engines.lacking(recogniser, moments)
            yield Finding("recogniser", lacking is None, lacking or f"{name}: ready")
    if not any_works:
        yield Finding("recogniser", False, "none works: nobody is heard. Run scripts/setup or pip again", prevents=True)
    try:
        models.verified("whisper-tiny.en")
    except AudioError as error:
        yield Finding("second pass", True, f"not here: {error}")
        return
    if not WhisperPass.available():
        yield Finding("second pass", False, "its model is here but not its libraries: run scripts/setup or pip again")
    else:
        yield Finding("second pass", True, "whisper-tiny.en: ready")


def _names(about: str, kind: devices.DeviceKind) -> Finding:
    try:
        names = [device.name for device in devices.devices(kind)]
    except DeviceError as error:
        return Finding(about, False, str(error))
    if not names:
        return Finding(about, False, "none found. Plug one in, or go on typed: turncaller lesson --typed")
    return Finding(about, True, ", ".join(names))


def _play(name: str | None, sample: np.ndarray) -> Finding:
    mouth = Loudspeaker(name)
    try:
        mouth.open()
        mouth.play(sample)
    except DeviceError as error:
        return Finding("loudspeaker", False, str(error), prevents=True)
    finally:
        mouth.close()
    return Finding("loudspeaker", True, "played a sentence; turn it up if you heard nothing")


def _record(name: str | None, words: Words) -> Iterator[Finding]:
    microphone = Microphone(name)
    inbox = Inbox(microphone)
    try:
        microphone.open()
        blocks = [inbox.take() for _ in range(round(_LISTEN_SECONDS / 0.02))]
    except DeviceError as error:
        yield Finding("microphone", False, str(error), prevents=True)
        return
    finally:
        microphone.close()
    yield from level_lines(measure(np.frombuffer(b"".join(blocks), np.int16)), words)


def _interrupting(microphone: str | None) -> Finding:
    if devices.echo_cancelled(microphone):
        return Finding("interrupting", True, "the microphone has an echo canceller: you may speak over the coach")
    return Finding("interrupting", True, _HOW_TO_INTERRUPT)


def level_lines(levels: Levels, words: Words) -> Iterator[Finding]:
    """What the levels of a few seconds of sound tell."""
    wrong = trouble(levels)
    remark = words(f"sound.{wrong}") if wrong else None
    yield Finding("level", remark is None, remark or f"loudest {levels.speech:.0f} dBFS, good")
    wrong = trouble_of_room(levels.floor)
    remark = words(f"sound.{wrong}") if wrong else None
    yield Finding("noise", remark is None, f"background {levels.floor:.0f} dBFS. {remark or ''}".strip())
