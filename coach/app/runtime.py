"""What is loaded once per process and serves all lessons: the language, both passes, the voice, the workers.

A lesson takes a `Seat` and closes it at its end. Whoever creates the runtime closes it once no lesson is left.
"""

from __future__ import annotations

from concurrent.futures import Executor
from contextlib import ExitStack
from functools import cached_property
from threading import Lock

from coach.app.workers import Workers
from coach.language import Language, load
from coach.speech.ears.pool import FirstPasses
from coach.speech.ears.recogniser import Recogniser
from coach.speech.ears.second_pass import WhisperPass
from coach.speech.ears.two_pass import TwoPass
from coach.speech.ears.whisper import NAME as WHISPER
from coach.speech.voice.synthesis import Narrator, Synthesiser, Voice


class Runtime:
    """Loads each thing when a lesson first asks for it. Thread-safe."""

    def __init__(self) -> None:
        self._loading = Lock()
        self._held = ExitStack()
        self.first_passes = FirstPasses()
        self.looks = self._closing(Workers("looks"))
        """Runs the second pass, one utterance at a time, since it is not thread-safe."""
        self.ahead = self._closing(Workers("voice"))
        """Synthesises ahead of time what lessons may say next."""

    def seat(self) -> Seat:
        """One lesson's share of all this."""
        return Seat(self)

    def close(self) -> None:
        """End the threads and the voice processes."""
        self._held.close()

    @property
    def language(self) -> Language:
        """English with its reader."""
        with self._loading:
            return self._language

    @property
    def second_pass(self) -> WhisperPass | None:
        """The second pass, or None if it is not installed."""
        with self._loading:
            return self._second_pass

    @property
    def synthesiser(self) -> Synthesiser:
        """The voice processes and the sounds they have made."""
        with self._loading:
            return self._synthesiser

    @cached_property
    def _language(self) -> Language:
        language = load()
        language.prepare()
        return language

    @cached_property
    def _second_pass(self) -> WhisperPass | None:
        from coach.speech.ears.hearing import second_pass

        return second_pass()

    @cached_property
    def _synthesiser(self) -> Synthesiser:
        synthesiser = Synthesiser()
        self._held.callback(synthesiser.close)
        return synthesiser

    def _closing(self, workers: Workers) -> Workers:
        self._held.callback(workers.close)
        return workers

    def __enter__(self) -> Runtime:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


class Seat:
    """One lesson's share of the runtime. After `close` it does nothing more."""

    def __init__(self, runtime: Runtime) -> None:
        self._runtime = runtime
        self.language = runtime.language
        self.looks = runtime.looks.share()
        self._ahead = runtime.ahead.share()
        self._borrowed: list[Recogniser] = []

    def recognition(self, engine: str | None = None, pool: Executor | None = None) -> TwoPass:
        """Both passes, or only the first if the second is not installed; with a name, only that one.

        `pool`: where the second pass runs, if not together with other lessons. Raises ModelError.
        """
        pool = pool or self.looks
        if engine == WHISPER:
            return TwoPass(None, WhisperPass(), pool)
        first = self._runtime.first_passes.borrow(engine)
        self._borrowed.append(first)
        return TwoPass(first, self._runtime.second_pass if engine is None else None, pool)

    def narrator(self, voice: Voice) -> Narrator:
        """The coach's voice with this learner's settings."""
        return Narrator(self._runtime.synthesiser, voice, self._ahead)

    def close(self) -> None:
        """Close the seat and drop the jobs that are still waiting."""
        self.looks.shutdown()
        self._ahead.shutdown()
        while self._borrowed:
            self._runtime.first_passes.give_back(self._borrowed.pop())

    def __enter__(self) -> Seat:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
