"""The mouth of a simulated learner, with a different voice from the coach's."""

import shutil
import subprocess
import tempfile
from pathlib import Path

from coach.speech.errors import SynthesisError
from coach.speech.signal import wav
from coach.speech.signal.levels import dbfs, loud_span
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.voice.synthesis import Synthesiser, Voice

LEVEL = -23.0
"""dBFS of the loud parts of its speech."""

_FALLBACK = Voice(name="en-us+f2", rate=135)


class Mouth:
    """Speaks with flite if it is installed, so in a different voice from the coach's, else with espeak-ng."""

    def __init__(self) -> None:
        self._espeak = None if shutil.which("flite") else Synthesiser(_FALLBACK)

    def sound(self, text: str) -> Samples:
        """The text as sound at VOICE_RATE, its loud parts at LEVEL. Raises SynthesisError."""
        samples = by_flite(text) if self._espeak is None else self._espeak.synthesise(text)
        sound = wav.to_float(samples)
        loud = dbfs(loud_span(wav.to_int16(resample(sound, VOICE_RATE, RATE)), 0.0))
        return wav.to_int16(sound * 10 ** ((LEVEL - loud) / 20))

    def close(self) -> None:
        """Close the synthesiser."""
        if self._espeak:
            self._espeak.close()


def by_flite(text: str, voice: str = "slt") -> Samples:
    """The text as sound at VOICE_RATE, spoken by flite. Raises SynthesisError."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        command = ["flite", "-voice", voice, "-t", text, "-o", str(path)]
        try:
            subprocess.run(command, check=True, capture_output=True, timeout=10)
        except (OSError, subprocess.SubprocessError) as error:
            raise SynthesisError(f"flite cannot speak: {error}.") from error
        rate, samples = wav.read_native(path)
    return wav.to_int16(resample(wav.to_float(samples), rate, VOICE_RATE))
