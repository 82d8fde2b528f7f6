"""Whisper tiny.en through CTranslate2, from a local folder: sound in, probabilities of words out.

Makes no decisions; `second_pass` does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coach.speech.ears.adapted import adapted
from coach.speech.errors import ModelError
from coach.speech.models import how_to_fetch
from coach.speech.signal.wav import RATE, Samples, to_float

NAME = "whisper-tiny.en"
FILES = ("config.json", "model.bin", "tokenizer.json")
_READ = ("config.json", "model.bin", "vocabulary.txt")  # files that CTranslate2 reads
THREADS = 1  # a look takes 129 ms with one, and 196 with two (two cores, 26 November 2026)
LEAD = RATE // 2  # samples of silence before the sound: the model misses words that begin at once
WINDOW = 6 * RATE  # in samples; the model was made for 30 s, but 6 are as good for a word and five times faster
LONGEST = 30 * RATE
_HOP = 160  # samples per mel frame; the encoder halves the number of frames
_TAIL = RATE // 2  # samples after the sound that the decoder is shown
_MOST_TOKENS = 100  # for an answer in the learner's own words
_FEW_TOKENS = 9  # enough to tell a phrase from other speech; unlimited, the model says some words thirty times
_FOLLOWED = 3  # return the log probabilities that follow each of this many first tokens

Logs = NDArray[np.float32]


@dataclass(frozen=True)
class Sound:
    """An utterance as the encoder sees it."""

    encoded: Any  # ctranslate2.StorageView, 1 x frames x 384
    frames: int  # encoder frames (20 ms) up to just after the end of the sound


@dataclass(frozen=True)
class Free:
    """What the model transcribes without constraints."""

    text: str  # its first words
    first: Logs  # log probability of every token of the vocabulary in first place
    no_speech: float  # probability that nobody spoke
    tokens: tuple[int, ...] = ()  # the tokens of the text
    then: tuple[Logs, ...] = ()  # log probability of every token after the first of these, after the first two, ...


class Whisper:
    """The loaded model, about 100 MB of memory. Raises ModelError if it cannot be loaded."""

    def __init__(self, folder: Path, fitted: bool = False) -> None:
        """Load the model from that folder, unchanged or `fitted` to lessons."""
        missing = [name for name in FILES if not (folder / name).is_file()]
        if missing:
            raise ModelError(
                f"The speech model in {folder} is not complete: {', '.join(missing)} missing. "
                f"Run {how_to_fetch(NAME)}"
            )
        try:
            import ctranslate2
            from faster_whisper.feature_extractor import FeatureExtractor
            from tokenizers import Tokenizer
        except (ImportError, OSError) as error:
            raise ModelError(
                f"The second pass is not installed ({error}). Install it with pip install 'turncaller[second-pass]'."
            ) from error
        try:
            contents = {name: (folder / name).read_bytes() for name in _READ} if fitted else None
            if contents:
                contents["model.bin"] = adapted(contents["model.bin"])
            self._model: Any = ctranslate2.models.Whisper(
                str(folder), device="cpu", compute_type="int8", intra_threads=THREADS, inter_threads=1, files=contents
            )
            self._tokens: Any = Tokenizer.from_file(str(folder / "tokenizer.json"))
        except ModelError:
            raise
        except Exception as error:  # tokenizers raises plain Exception
            raise ModelError(
                f"The speech model in {folder} is broken ({error}). Delete the folder and run "
                f"{how_to_fetch(NAME)}"
            ) from error
        self._mel: Any = FeatureExtractor(feature_size=80)
        self._suppressed: dict[tuple[str, ...], list[int]] = {}
        self._view: Any = ctranslate2.StorageView
        special = self._tokens.token_to_id
        self._start = [special("<|startoftranscript|>"), special("<|notimestamps|>")]
        self._previous, self.end = special("<|startofprev|>"), special("<|endoftext|>")
        if None in (*self._start, self._previous, self.end):
            raise ModelError(f"The speech model in {folder} is not an English Whisper model.")

    def tokens(self, text: str) -> list[int]:
        """The tokens of a text."""
        return list(self._tokens.encode(text, add_special_tokens=False).ids)

    def encode(self, samples: Samples, window: int = WINDOW) -> Sound:
        """Encode an utterance of at most LONGEST samples; the rest is cut off.

        `window`: show the model at least this many samples, padded with silence.
        """
        signal = np.concatenate([np.zeros(LEAD, np.float32), to_float(samples)])[: LONGEST - _TAIL]
        used = len(signal) + _TAIL
        length = -(-max(min(window, LONGEST), used) // (2 * _HOP)) * 2 * _HOP
        mel = self._mel(np.pad(signal, (0, length - len(signal))), padding=0)[:, : length // _HOP]
        view = self._view.from_array(np.ascontiguousarray(mel[None], np.float32))
        return Sound(self._model.encode(view, to_cpu=True), used // (2 * _HOP))

    def free(self, sound: Sound, tokens: int = _FEW_TOKENS) -> Free:
        """The first tokens of the likeliest text, and what else it could begin with."""
        result = self._model.generate(
            sound.encoded, [self._start], beam_size=1, max_length=2 * tokens,  # it writes half of its max_length
            suppress_tokens=None, suppress_blank=False, return_logits_vocab=True, return_no_speech_prob=True,
        )[0]  # fmt: skip
        written = tuple(result.sequences_ids[0])
        steps = result.logits[0][: min(1 + _FOLLOWED, tokens)]
        first, *then = (log_softmax(np.array(logits, np.float32)) for logits in steps)
        return Free(self._text(written), first, float(result.no_speech_prob), written, tuple(then[: len(written)]))

    def transcripts(
        self, sound: Sound, before: str, count: int, words: tuple[str, ...] = ()
    ) -> list[tuple[str, float]]:
        """The likeliest texts with their log probabilities; `before`: what might have been said before. With `words`,
        nothing else is written but these, commas and full stops, and the probabilities are those among such texts."""
        prompt = [*([self._previous, *self.tokens(before)] if before else []), *self._start]
        result = self._model.generate(
            sound.encoded, [prompt], beam_size=count, num_hypotheses=count, length_penalty=0,
            max_length=len(prompt) + _MOST_TOKENS, suppress_blank=False, return_scores=True,
            suppress_tokens=self._others(words) if words else [-1],
        )[0]  # fmt: skip
        return [(self._text(ids), float(score)) for ids, score in zip(result.sequences_ids, result.scores, strict=True)]

    def _others(self, words: tuple[str, ...]) -> list[int]:
        """All tokens but those of the words, with or without a capital."""
        if words not in self._suppressed:
            ways = (way for word in words for way in (word, word.capitalize()))
            written = [text for way in ways for text in (way, f" {way}")]
            kept = {self.end, *(token for text in (*written, ",", ".") for token in self.tokens(text))}
            self._suppressed[words] = [at for at in range(self._tokens.get_vocab_size()) if at not in kept]
        return self._suppressed[words]

    def _text(self, tokens: Sequence[int]) -> str:
        return str(self._tokens.decode(list(tokens))).strip()

    def likelihoods(self, sound: Sound, texts: Sequence[Sequence[int]]) -> list[list[float]]:
        """The log probability of every token of each text, given the tokens before it in that text."""
        return [
            [float(np.log(max(chance, 1e-12))) for chance in result.text_token_probs[: len(text)]]
            for result, text in zip(self._aligned(sound, texts), texts, strict=True)
        ]

    def starts(self, sound: Sound, text: Sequence[int]) -> list[float]:
        """Where in the sound each token of the text begins, in seconds."""
        (result,) = self._aligned(sound, [text])
        begins: dict[int, int] = {}
        for token, frame in result.alignments:
            begins.setdefault(token, frame)
        return [begins.get(token, sound.frames) * 2 * _HOP / RATE for token in range(len(text))]

    def _aligned(self, sound: Sound, texts: Sequence[Sequence[int]]) -> list[Any]:
        if not texts:
            return []
        frames = np.array(sound.encoded)[:, : sound.frames]
        many = self._view.from_array(np.ascontiguousarray(np.repeat(frames, len(texts), 0)))
        lengths = [2 * sound.frames] * len(texts)
        return list(self._model.align(many, self._start[:1], list(map(list, texts)), lengths))


def log_softmax(logits: Logs) -> Logs:
    """Logits to log probabilities."""
    shifted = logits - logits.max()
    return np.asarray(shifted - np.log(np.exp(shifted).sum()), np.float32)
