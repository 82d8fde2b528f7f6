"""The coach's voice: text to sound, made ahead and cached.

All synthesis happens in a child process (see tts_worker) that is ended and restarted if it dies or hangs.
"""

import json
import queue
import subprocess
import sys
import tempfile
import threading
from collections import OrderedDict, deque
from collections.abc import Iterable
from concurrent.futures import Executor
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from coach.speech.errors import AudioError, SynthesisError
from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import VOICE_RATE, Samples

_TRIES = 3
_START_SECONDS = 10.0
_PHRASE_SECONDS = 6.0  # a phrase takes about 20 ms; after this long the worker hangs
_KEPT_WORKERS = 4  # simultaneous voices of all lessons
_KEPT_BYTES = 48 * 1024 * 1024  # about 18 minutes of speech
_AUDIBLE = 60  # of 32768; about -55 dBFS
_MARGIN = VOICE_RATE // 100
_ROOM = 1 << 20  # bytes needed for the file of a sentence
_NO_ROOM = "The coach cannot speak: the disk has no room for its sound ({}). Free some space."
_NO_VOICE = "The coach cannot speak: {}. Install espeak-ng (on Debian or Ubuntu: apt-get install espeak-ng)."


@dataclass(frozen=True)
class Voice:
    """How the coach sounds."""

    name: str = "en-us"  # a voice of espeak-ng, optionally with a variant: "en-us+f3"
    rate: int = 135  # words per minute; espeak-ng allows 80 to 450
    pitch: int = 50  # 0..100
    volume: float = 0.9  # 0..1; above 1 it would clip

    def __post_init__(self) -> None:
        if not (80 <= self.rate <= 450 and 0 <= self.pitch <= 100 and 0 < self.volume <= 1):
            raise SynthesisError(
                f"A voice with rate {self.rate}, pitch {self.pitch} and volume {self.volume} cannot be made: "
                "the rate goes from 80 to 450 words a minute, the pitch from 0 to 100, the volume up to 1."
            )


def trim(samples: Samples) -> Samples:
    """Remove the silence around the words: espeak-ng adds nearly half a second at the end, during which nobody could
    answer."""
    heard = np.flatnonzero(np.abs(samples.astype(np.int32)) > _AUDIBLE)
    if len(heard) == 0:
        return samples[:0]
    return samples[max(heard[0] - _MARGIN, 0) : heard[-1] + _MARGIN]


class Synthesiser:
    """Synthesises texts into samples at VOICE_RATE. Thread-safe.

    Use as a context manager, or call `close`.
    """

    def __init__(self, voice: Voice | None = None) -> None:
        self.voice = voice or Voice()
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._workers: OrderedDict[Voice, _Worker] = OrderedDict()
        self._one_at_a_time = threading.Lock()
        self._made: OrderedDict[tuple[Voice, str], Samples] = OrderedDict()
        self._made_bytes = 0
        self._closed = False

    def synthesise(self, text: str, voice: Voice | None = None) -> Samples:
        """The sound of `text`; returned at once if it is cached. Raises SynthesisError."""
        key = (voice or self.voice, " ".join(text.split()))
        if not any(letter.isalnum() for letter in key[1]):
            return np.zeros(0, np.int16)  # nothing to pronounce
        with self._one_at_a_time:
            if key in self._made:
                self._made.move_to_end(key)
                return self._made[key]
            return self._keep(key, self._speak(*key))

    def voices(self) -> tuple[str, ...]:
        """The names of all available voices."""
        with self._one_at_a_time:
            return tuple(self._ask(self.voice, {"voices": True}).get("voices", ()))

    def close(self) -> None:
        """End the child processes and remove their files."""
        self._closed = True
        with self._one_at_a_time:
            for worker in self._workers.values():
                worker.stop()
            self._workers.clear()
        if self._folder:
            self._folder.cleanup()

    def __enter__(self) -> "Synthesiser":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _keep(self, key: tuple[Voice, str], samples: Samples) -> Samples:
        self._made[key] = samples
        self._made_bytes += samples.nbytes
        while self._made_bytes > _KEPT_BYTES and len(self._made) > 1:
            self._made_bytes -= self._made.popitem(last=False)[1].nbytes
        return samples

    def _speak(self, voice: Voice, text: str) -> Samples:
        """The sound; retried if espeak-ng wrote an empty file, which happens about once in a hundred."""
        for _ in range(_TRIES):
            samples = self._speak_once(voice, text)
            if len(samples):
                break
        return samples

    def _speak_once(self, voice: Voice, text: str) -> Samples:
        path = self._file()
        self._ask(
            voice,
            {
                "text": text,
                "path": str(path),
                "voice": voice.name,
                "rate": voice.rate,
                "pitch": voice.pitch,
                "volume": voice.volume,
            },
        )
        try:
            rate, samples = wav.read_native(path)
        except AudioError as error:
            raise SynthesisError(_NO_VOICE.format(error)) from error
        finally:
            path.unlink(missing_ok=True)
        if rate != VOICE_RATE:
            samples = wav.to_int16(resample(wav.to_float(samples), rate, VOICE_RATE))
        return trim(samples)

    def _file(self) -> Path:
        """A file for the worker to write to. Raises SynthesisError if the disk is full."""
        try:
            if self._folder is None:
                self._folder = tempfile.TemporaryDirectory(prefix="turncaller-voice-")
        except OSError as error:  # it says that no folder can be written to
            raise SynthesisError(_NO_ROOM.format(error.strerror or error)) from error
        return Path(self._folder.name) / "phrase.wav"

    def _check_room(self) -> None:
        """Raises SynthesisError if a file cannot be written, since the worker would only fall silent."""
        path = self._file().with_suffix(".room")
        try:
            path.write_bytes(bytes(_ROOM))
        except OSError as error:
            raise SynthesisError(_NO_ROOM.format(error.strerror or error)) from error
        finally:
            path.unlink(missing_ok=True)

    def _ask(self, voice: Voice, request: dict[str, Any]) -> dict[str, Any]:
        """Send one request to the worker; if that fails or hangs, try again with a second worker."""
        reason = ""
        for _ in range(2):
            if self._closed:
                raise SynthesisError("The voice was switched off.")
            try:
                reply = self._worker(voice).ask(request)
            except _WorkerLostError as lost:
                self._stop_worker(voice)
                reason = str(lost)
                continue
            if "error" in reply:
                self._stop_worker(voice)  # after an error pyttsx3 mixes up the answers to requests
                reason = str(reply["error"])
                if "voice" in reason.lower() and "voice" in request:
                    name = request["voice"]
                    raise SynthesisError(f'There is no voice "{name}". turncaller soundcheck lists them.')
                continue
            return reply
        self._check_room()
        raise SynthesisError(_NO_VOICE.format(reason))

    def _worker(self, voice: Voice) -> "_Worker":
        """The process for this voice. One each, since espeak-ng applies a new rate late or never."""
        worker = self._workers.pop(voice, None) or _Worker()
        self._workers[voice] = worker  # keep the most recently used last
        while len(self._workers) > _KEPT_WORKERS:
            self._workers.popitem(last=False)[1].stop()
        return worker

    def _stop_worker(self, voice: Voice) -> None:
        worker = self._workers.pop(voice, None)
        if worker:
            worker.stop()


class Narrator:
    """One lesson's voice: a shared synthesiser, and this lesson's own queue of texts to synthesise ahead."""

    def __init__(self, synthesiser: Synthesiser, voice: Voice, work: Executor) -> None:
        """`work`: runs the synthesis ahead of time."""
        self._synthesiser, self._voice, self._work = synthesiser, voice, work
        self._wanted: deque[str] = deque()

    def synthesise(self, text: str) -> Samples:
        """The sound of `text`; returned at once if it is cached. Raises SynthesisError."""
        return self._synthesiser.synthesise(text, self._voice)

    def prefetch(self, texts: Iterable[str]) -> None:
        """Synthesise these in the background, so that they are ready when needed; replaces earlier requests."""
        self._wanted = wanted = deque(texts)
        self._work.submit(self._make, wanted)

    def close(self) -> None:
        """Drop all requests."""
        self._wanted = deque()

    def _make(self, wanted: deque[str]) -> None:
        """Synthesise one text, and queue the next for this lesson's next turn."""
        if not wanted or wanted is not self._wanted:
            return
        with suppress(AudioError, OSError):  # reported to whoever really needs the sound
            self.synthesise(wanted.popleft())
        with suppress(RuntimeError):  # the lesson is over
            self._work.submit(self._make, wanted)


class _WorkerLostError(Exception):
    """The child process ended or does not respond."""


class _Worker:
    """A handle on the child process. Raises _WorkerLostError if it does not respond in time."""

    def __init__(self) -> None:
        try:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "coach.speech.voice.tts_worker"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
                encoding="utf-8",
                start_new_session=True,  # Ctrl-C is for the lesson, which then ends the worker
            )
        except OSError as error:
            raise _WorkerLostError(f"its process cannot be started ({error})") from error
        self._replies: queue.SimpleQueue[str] = queue.SimpleQueue()
        threading.Thread(target=self._listen, name="voice-replies", daemon=True).start()
        greeting = self._reply(_START_SECONDS)
        if "error" in greeting:
            self.stop()
            raise SynthesisError(_NO_VOICE.format(greeting["error"]))

    def ask(self, request: dict[str, Any]) -> dict[str, Any]:
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(json.dumps(request) + "\n")
            self._process.stdin.flush()
        except OSError as error:
            raise _WorkerLostError("the speech process has ended") from error
        # Long texts take longer, but far less than this.
        return self._reply(_PHRASE_SECONDS + len(str(request.get("text", ""))) / 200)

    def stop(self) -> None:
        self._process.kill()
        self._process.wait()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            self._replies.put(line)
        self._replies.put("")

    def _reply(self, seconds: float) -> dict[str, Any]:
        try:
            line = self._replies.get(timeout=seconds)
        except queue.Empty:
            self.stop()
            raise _WorkerLostError("the speech process does not answer") from None
        if not line:
            self.stop()
            raise _WorkerLostError("the speech process has ended")
        reply = json.loads(line)
        return reply if isinstance(reply, dict) else {}
