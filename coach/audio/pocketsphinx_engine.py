"""The first look through PocketSphinx, the embedded default: its wheel carries a US English model."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from coach.audio.confidence import Evidence, confidence
from coach.audio.errors import ModelError
from coach.audio.grammar import jsgf
from coach.audio.levels import dbfs
from coach.audio.recogniser import Heard, Partial, tidy
from coach.audio.wav import RATE, Samples, to_float, to_int16

NAME = "pocketsphinx"
STEADY = 0.2  # seconds; 316 of 318 partials that stood as long were right (synthetic voices, clean)
TARGET = 0.03  # of full scale: the level that the model hears best
PAD = np.zeros(int(0.3 * RATE), np.int16)  # silence on both sides
_MOST_GAIN = 50.0
_SCORE_SHIFT = 1024  # the decoder keeps its scores divided by this
_LONGEST = 12 * RATE  # samples looked at again when an utterance has ended


@dataclass(frozen=True)
class _Decoding:
    text: str
    score: float  # nats a frame over the words; 0 would be a perfect match of every frame
    frames: int  # that the words take, 10 ms each


class PocketSphinx:
    """A first look with PocketSphinx. Raises ModelError when it is not installed properly."""

    name = NAME
    steady = STEADY

    def __init__(self) -> None:
        try:
            from pocketsphinx import Decoder

            # Language weight and penalties off, best path off: measured best for short commands.
            self._decoder: Any = Decoder(lm=None, bestpath=False, lw=1.0, wip=1.0, pip=1.0, loglevel="FATAL")
        except (ImportError, OSError, RuntimeError) as error:
            raise ModelError(f"PocketSphinx does not work ({error}). Run scripts/setup again.") from error
        self._grammars: dict[tuple[str, ...], str] = {}
        self._phrases: tuple[str, ...] = ()
        self._unknown: tuple[str, ...] = ()
        self._sound = bytearray()
        self._started = False
        self._last = ""

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` with a word that the pronouncing dictionary lacks."""
        return self._unknown

    def limit(self, phrases: Sequence[str]) -> None:
        """From now on only these can be heard."""
        wanted = tidy(phrases)
        self._phrases = tuple(phrase for phrase in wanted if all(map(self._can_say, phrase.split())))
        self._unknown = tuple(phrase for phrase in wanted if phrase not in self._phrases)
        self.reset()

    def feed(self, block: bytes) -> Partial | None:
        """The next stretch of sound; a Partial when what was heard so far has changed."""
        self._sound += block
        if not self._phrases:
            return None
        if not self._started:
            self._activate(self._phrases)
            self._decoder.start_utt()
            self._started = True
        self._decoder.process_raw(self._levelled(np.frombuffer(block, np.int16)).tobytes())
        hypothesis = self._decoder.hyp()
        text = hypothesis.hypstr if hypothesis else ""
        if text == self._last:
            return None
        self._last = text
        return Partial(text)

    def finish(self) -> Heard:
        """What was heard in the whole utterance: one of the phrases, or nothing useful."""
        samples = np.frombuffer(bytes(self._sound), np.int16)[-_LONGEST:]
        self.reset()
        if not self._phrases or not samples.any():
            return Heard("", 0.0, self.name)
        # Decoded again as a whole: with its own level and cepstral mean, which streaming cannot know.
        best = self._decode(samples, self._phrases)
        if best.text not in self._phrases:  # the final hypothesis may be an incomplete path
            return Heard("", 0.0, self.name)
        sure = confidence(Evidence(best.score, best.frames, len(best.text.split())))
        return Heard(best.text, sure, self.name)

    def reset(self) -> None:
        """Forget the utterance so far."""
        if self._started:
            self._decoder.end_utt()
        self._sound.clear()
        self._started, self._last = False, ""

    def _decode(self, samples: Samples, phrases: tuple[str, ...]) -> _Decoding:
        self._activate(phrases)
        self._decoder.start_utt()
        sound = np.concatenate([PAD, self._levelled(samples), PAD])
        self._decoder.process_raw(sound.tobytes(), full_utt=True)
        self._decoder.end_utt()
        hypothesis = self._decoder.hyp()
        if not hypothesis:
            return _Decoding("", -math.inf, 0)
        words = [segment for segment in self._decoder.seg() if segment.word[0] not in "<([+"]
        frames = sum(segment.end_frame - segment.start_frame + 1 for segment in words)
        total = sum(math.log(max(segment.ascore, 1e-300)) for segment in words) * _SCORE_SHIFT
        return _Decoding(hypothesis.hypstr, total / max(frames, 1), frames)

    def _activate(self, phrases: tuple[str, ...]) -> None:
        name = self._grammars.get(phrases)
        if name is None:
            name = self._grammars[phrases] = f"moment-{len(self._grammars)}"
            self._decoder.add_jsgf_string(name, jsgf(phrases))
        self._decoder.activate_search(name)

    def _levelled(self, samples: Samples) -> Samples:
        level = 10 ** (dbfs(samples) / 20)
        return to_int16(to_float(samples) * min(TARGET / max(level, 1e-9), _MOST_GAIN))

    def _can_say(self, word: str) -> bool:
        """Whether the word has a pronunciation; compounds get that of their parts."""
        if self._decoder.lookup_word(word):
            return True
        for cut in range(len(word) - 3, 2, -1):
            parts = [self._decoder.lookup_word(part) for part in (word[:cut], word[cut:])]
            if all(parts):
                self._decoder.add_word(word, " ".join(parts), True)
                return True
        return False
