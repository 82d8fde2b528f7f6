"""The first pass through Vosk, if there is an English model in `models/`.

Vosk crashes the whole process (segmentation fault) on some broken models and grammars, and goes to the network if it is
given no path. So a model folder is checked before it is loaded, and one not yet known to be intact is first loaded by a
child process.
"""

import hashlib
import json
import math
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np
import platformdirs

from coach.speech.ears.recogniser import Alternative, Partial, Transcript, tidy
from coach.speech.errors import ModelError
from coach.speech.models import how_to_fetch
from coach.speech.signal.levels import measure
from coach.speech.signal.wav import RATE

NAME = "vosk"
STEADY = 0.2  # in seconds; 39 of 40 partials that stood this long were right (synthetic voices, clean)

_REQUIRED = ("am/final.mdl", "conf/mfcc.conf", "conf/model.conf", "graph/HCLr.fst", "graph/Gr.fst")
_WITH_IVECTOR = (
    "ivector/final.dubm",
    "ivector/final.ie",
    "ivector/final.mat",
    "ivector/global_cmvn.stats",
    "ivector/online_cmvn.conf",
    "ivector/splice.conf",
)
# dB from the quiet to the loud parts. Vosk hears words in white noise, which has 1.5; synthesised words had at least
# 4.9 in white noise as loud as themselves (25 November 2026).
_SPEECH_VARIES = 3.0
_LONGEST = 30 * RATE  # in samples; earlier sound does not count
_WAYS = 5  # keep this many hypotheses of an utterance
_UNKNOWN_WORDS = ("[unk]", "<UNK>", "<unk>", "[UNK]")
_PROBE_SECONDS = 120.0
_PROBE = """
import json, sys, vosk
vosk.SetLogLevel(-1)
recogniser = vosk.KaldiRecognizer(vosk.Model(sys.argv[1]), 16000, json.dumps(["[unk]"]))
recogniser.AcceptWaveform(bytes(32000))
recogniser.FinalResult()
"""


def check_files(folder: Path) -> None:
    """Raises ModelError, naming what is missing or empty in a model folder."""
    if not folder.is_dir():
        raise ModelError(f"There is no speech model in {folder}. {how_to_fetch()} can fetch one.")
    wanted = _REQUIRED + (_WITH_IVECTOR if (folder / "ivector").is_dir() else ())
    broken = [name for name in wanted if not _has_content(folder / name)]
    if broken:
        raise ModelError(
            f"The speech model in {folder} is incomplete: {', '.join(broken)} missing or empty. "
            f"Delete the folder and run {how_to_fetch()} again."
        )


def check(folder: Path) -> None:
    """Raises ModelError unless the model can be loaded without crashing the process."""
    check_files(folder)
    seen = Path(platformdirs.user_cache_dir("turncaller")) / f"vosk-{_fingerprint(folder)}"
    if seen.exists():
        return
    command = [sys.executable, "-c", _PROBE, str(folder)]
    try:
        done = subprocess.run(command, capture_output=True, timeout=_PROBE_SECONDS, check=False)
        broken = done.returncode != 0
    except subprocess.TimeoutExpired:
        broken = True
    if broken:
        raise ModelError(
            f"The speech model in {folder} cannot be loaded: one of its files is damaged. "
            f"Delete the folder and run {how_to_fetch()} again."
        )
    with suppress(OSError):  # if this fails, the model is probed again next time
        seen.parent.mkdir(parents=True, exist_ok=True)
        seen.touch()


class Vosk:
    """A first pass with the model in `folder`. Raises ModelError if it cannot be used.

    Its confidence is the share of a phrase among the hypotheses. It is not fitted to recordings and does not tell other
    speech from the phrases; requiring whole phrases does.
    """

    name = NAME
    steady = STEADY

    def __init__(self, folder: Path, shared: Any = None) -> None:
        """Load the model from that folder, or use `shared` if it is already loaded (a vosk.Model)."""
        check_files(folder)
        try:
            import vosk
        except (ImportError, OSError) as error:
            raise ModelError(f"Vosk is not installed properly ({error}). Run scripts/setup or pip again.") from error
        check(folder)
        vosk.SetLogLevel(-1)
        self._folder = folder
        try:
            self._model = shared or vosk.Model(str(folder))
            self._filler = next((word for word in _UNKNOWN_WORDS if self._knows(word)), None)
            self._recogniser: Any = vosk.KaldiRecognizer(self._model, RATE, self._grammar(()))
        except Exception as error:  # Vosk raises plain Exception
            raise ModelError(f"The speech model in {folder} cannot be loaded ({error}).") from error
        self._recogniser.SetMaxAlternatives(_WAYS)
        self._phrases: tuple[str, ...] = ()
        self._unknown: tuple[str, ...] = ()
        self._ways: list[tuple[str, float]] = [("", 0.0)]  # hypotheses for what Vosk's own endpointer has closed
        self._last = ""
        self._sound = bytearray()

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` with a word that the model lacks."""
        return self._unknown

    def limit(self, phrases: Sequence[str]) -> None:
        """Accept only these phrases from now on."""
        self.reset()  # a new grammar in the middle of an utterance crashes the process
        wanted = tidy(phrases)
        known = tuple(phrase for phrase in wanted if all(self._knows(word) for word in phrase.split()))
        if known != self._phrases:
            self._phrases = known
            self._recogniser.SetGrammar(self._grammar(known))
        self._unknown = tuple(phrase for phrase in wanted if phrase not in known)

    def feed(self, block: bytes) -> Partial | None:
        """Take the next block of sound; returns a Partial if the text so far has changed."""
        self._sound += block
        going_on = ""
        if self._recogniser.AcceptWaveform(block):
            self._close(self._recogniser.Result())
        else:
            going_on = json.loads(self._recogniser.PartialResult()).get("partial", "")
        text = f"{self._ways[0][0]} {going_on}"
        text = " ".join(word for word in text.split() if word != self._filler)
        if text == self._last:
            return None
        self._last = text
        return Partial(text)

    def finish(self) -> Transcript:
        """What was heard: one whole phrase, or nothing useful."""
        self._close(self._recogniser.FinalResult())
        best, shares = self._ways[0][0], _shares(self._ways)
        levels = measure(np.frombuffer(bytes(self._sound[-2 * _LONGEST :]), np.int16))
        self.reset()
        if levels.speech - levels.floor < _SPEECH_VARIES:
            return Transcript("", 0.0, self.name)
        # Inside Vosk the phrases become a bigram model, which recombines them; so check the whole text.
        whole = tuple(Alternative(text, share) for text, share in shares.items() if text in self._phrases)
        if best not in self._phrases:
            return Transcript("", 0.0, self.name, whole)
        return Transcript(best, shares[best], self.name, tuple(other for other in whole if other.text != best))

    def reset(self) -> None:
        """Forget the utterance so far."""
        self._recogniser.FinalResult()  # otherwise what it learned from this utterance would affect the next
        self._recogniser.Reset()
        self._ways, self._last = [("", 0.0)], ""
        self._sound.clear()

    def forget(self) -> None:
        """The same: nothing about a speaker outlives an utterance."""
        self.reset()

    def another(self) -> "Vosk":
        """Another instance on the same model."""
        return Vosk(self._folder, self._model)

    def _close(self, result: str) -> None:
        """Extend every hypothesis so far with every hypothesis for the next part."""
        found = json.loads(result).get("alternatives", [])
        part = [(str(way["text"]), float(way["confidence"])) for way in found] or [("", 0.0)]
        longer = [(f"{text} {more}".strip(), score + one) for text, score in self._ways for more, one in part]
        self._ways = sorted(longer, key=lambda way: -way[1])[:_WAYS]

    def _knows(self, word: str) -> bool:
        return bool(self._model.vosk_model_find_word(word) >= 0)

    def _grammar(self, phrases: Sequence[str]) -> str:
        # Never empty: an empty list crashes the process.
        filler = [self._filler] if self._filler else []
        return json.dumps([*phrases, *filler] or [" "], ensure_ascii=False)


def _shares(ways: Sequence[tuple[str, float]]) -> dict[str, float]:
    """The probability of each text, likeliest first; the scores are log likelihoods."""
    weights = {text: math.exp(score - ways[0][1]) for text, score in reversed(ways)}
    whole = sum(weights.values())
    return {text: weights[text] / whole for text in sorted(weights, key=lambda text: -weights[text])}


def _has_content(path: Path) -> bool:
    try:
        return path.is_file() and path.stat().st_size > 0
    except OSError:
        return False


def _fingerprint(folder: Path) -> str:
    """Changes with any file in the folder; cheap, since it reads no contents."""
    digest = hashlib.sha256(str(folder.resolve()).encode())
    for path in sorted(folder.rglob("*")):
        with suppress(OSError):  # for example a dangling link: the probe tells whether that matters
            status = path.stat()
            digest.update(f"{path.relative_to(folder)} {status.st_size} {status.st_mtime_ns}\n".encode())
    return digest.hexdigest()[:32]
