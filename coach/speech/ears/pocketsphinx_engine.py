"""The first pass through PocketSphinx, the embedded default: its wheel carries a US English model."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from coach.speech.ears.confidence import THRESHOLD, DecoderEvidence, confidence, loudness
from coach.speech.ears.grammar import jsgf
from coach.speech.ears.recogniser import Alternative, Partial, Transcript, tidy
from coach.speech.errors import ModelError
from coach.speech.signal import levels
from coach.speech.signal.levels import dbfs, loud_span
from coach.speech.signal.wav import RATE, Samples, to_float, to_int16

NAME = "pocketsphinx"
STEADY = 0.2  # in seconds; 316 of 318 partials that stood this long were right (synthetic voices, clean)
TARGET = 0.03  # part of full scale: the level at which the model hears best
_MOST_GAIN = 50.0
_UNIT = math.log(1.0001) * 1024  # nats per unit of the decoder's scores, which it stores divided by 1024
_MOST_MARGIN = 200.0  # nats
_MARGIN_SCALE = 10.0  # nats; the scores of neighbouring frames are far from independent
_KEPT_GRAMMARS = 16  # grammars of 2 to 5 MB each; a new one takes 5 ms. With 200, ten minutes of lessons took 190 MB
_DIGITAL_SILENCE = -88.0  # dBFS; no room is this quiet
_HISS = np.random.default_rng(0).normal(0, 10 ** (-80 / 20), RATE).astype(np.float32)
_GAIN_SPAN = 2 * RATE  # samples whose level sets the gain while streaming
_LONGEST = 12 * RATE  # decode at most this many samples again at the end of an utterance


@dataclass(frozen=True)
class _Span:
    begin: int  # frame
    end: int  # frame after the last
    score: float  # total nats
    pause: bool

    @property
    def length(self) -> int:
        return self.end - self.begin


@dataclass(frozen=True)
class _Decoding:
    text: str
    score: float  # nats of the whole path
    words: tuple[_Span, ...]
    pauses: tuple[_Span, ...]


class PocketSphinx:
    """A first pass with PocketSphinx. Raises ModelError if it is not installed properly."""

    name = NAME
    steady = STEADY

    def __init__(self) -> None:
        try:
            from pocketsphinx import Decoder

            # Language weight, penalties and best path are off: measured best for short commands.
            self._decoder: Any = Decoder(lm=None, bestpath=False, lw=1.0, wip=1.0, pip=1.0, loglevel="FATAL")
        except (ImportError, OSError, RuntimeError) as error:
            raise ModelError(f"PocketSphinx does not work ({error}). Run scripts/setup or pip again.") from error
        self._grammars: dict[tuple[str, ...], str] = {}
        self._made = 0  # number of grammars so far
        self._phrases: tuple[str, ...] = ()
        self._unknown: tuple[str, ...] = ()
        self._sound = bytearray()
        self._started = False
        self._mean = ""  # cepstral mean of the sound streamed so far: the speaker and the microphone
        self._last = ""

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` with a word missing from the pronouncing dictionary."""
        return self._unknown

    def limit(self, phrases: Sequence[str]) -> None:
        """Accept only these phrases from now on."""
        wanted = tidy(phrases)
        self._phrases = tuple(
            phrase for phrase in wanted if all(can_say(self._decoder, word) for word in phrase.split())
        )
        self._unknown = tuple(phrase for phrase in wanted if phrase not in self._phrases)
        self.reset()

    def feed(self, block: bytes) -> Partial | None:
        """Take the next block of sound; returns a Partial if the text so far has changed."""
        self._sound += block
        if not self._phrases:
            return None
        if not self._started:
            self._activate(self._phrases)
            self._start()
            if self._mean:
                self._decoder.set_cmn(self._mean)
            self._started = True
        so_far = np.frombuffer(bytes(self._sound[-2 * _GAIN_SPAN :]), np.int16)
        self._decoder.process_raw(_amplify(np.frombuffer(block, np.int16), _gain(so_far)).tobytes())
        hypothesis = self._decoder.hyp()
        text = hypothesis.hypstr if hypothesis else ""
        if text == self._last:
            return None
        self._last = text
        return Partial(text)

    def finish(self) -> Transcript:
        """What was heard in the whole utterance: one of the phrases, or nothing useful."""
        samples = np.frombuffer(bytes(self._sound[-2 * _LONGEST :]), np.int16)
        self.reset()
        best, evidence = self.examine(samples)
        if evidence is None:
            return Transcript("", 0.0, self.name)
        text, behind = best
        sure = confidence(evidence)
        # The two hypotheses share the confidence according to how well they fit.
        other = sure / (1 + math.exp(min(evidence.margin / _MARGIN_SCALE, 50.0)))
        alternatives = (Alternative(behind, other),) if behind else ()
        if sure < THRESHOLD:
            return Transcript("", sure, self.name, (Alternative(text, sure), *alternatives))
        return Transcript(text, sure, self.name, alternatives)

    def examine(self, samples: Samples) -> tuple[tuple[str, str], DecoderEvidence | None]:
        """The best phrase and the best other one, with the evidence for the first; (("", ""), None) for none.

        The utterance is decoded again as a whole, since streaming cannot know its level and cepstral mean.
        """
        span = loud_span(samples)
        sound = _amplify(span, _gain(span))
        if not self._phrases or not sound.any():
            return ("", ""), None
        best = self._decode(sound, self._phrases)
        # The final hypothesis may be an incomplete path, or none.
        if best.text not in self._phrases or not best.words:
            return ("", ""), None
        phones = self._phones(sound, best.text)
        others = tuple(phrase for phrase in self._phrases if phrase != best.text)
        behind = self._decode(sound, others) if others else _Decoding("", -math.inf, (), ())
        begin, end = best.words[0].begin, best.words[-1].end
        covers, energy, filled, contrast = loudness(sound, begin, end)
        evidence = DecoderEvidence(
            score=_mean(best.words),
            silence=_mean(best.pauses),
            weakest=min((phone.score / phone.length for phone in phones), default=-math.inf),
            shortest=min((phone.length for phone in phones), default=0),
            longest=max((phone.length for phone in phones), default=0),
            length=sum(word.length for word in best.words),
            margin=min(best.score - behind.score, _MOST_MARGIN),
            covers=covers,
            energy=energy,
            filled=filled,
            contrast=contrast,
        )
        return (best.text, behind.text if behind.text in others else ""), evidence

    def reset(self) -> None:
        """Forget the utterance so far."""
        if self._started:
            self._decoder.end_utt()
            self._mean = self._decoder.get_cmn(True)
        self._sound.clear()
        self._started, self._last = False, ""

    def forget(self) -> None:
        """Also forget the speaker."""
        self.reset()
        self._mean = ""

    def another(self) -> "PocketSphinx":
        """Another instance with its own decoder: 27 MB."""
        return PocketSphinx()

    def _decode(self, sound: Samples, phrases: tuple[str, ...]) -> _Decoding:
        self._activate(phrases)
        self._run(sound)
        hypothesis = self._decoder.hyp()
        if not hypothesis or hypothesis.score <= 0:
            return _Decoding("", -math.inf, (), ())
        spans = [
            _Span(segment.start_frame, segment.end_frame + 1, _nats(segment.ascore), segment.word[0] in "<[+")
            for segment in self._decoder.seg()
            if segment.word[0] != "("  # an empty step of the grammar
        ]
        words = tuple(span for span in spans if not span.pause)
        pauses = tuple(span for span in spans if span.pause)
        return _Decoding(hypothesis.hypstr, _nats(hypothesis.score), words, pauses)

    def _phones(self, sound: Samples, text: str) -> list[_Span]:
        """The phones of `text` by forced alignment: first its words, then the phones within them."""
        try:
            self._decoder.set_align_text(text)
            self._run(sound)
            self._decoder.set_alignment()
            self._run(sound)
            aligned = self._decoder.get_alignment()
        except RuntimeError:  # the words do not fit at all
            return []
        return [
            _Span(phone.start, phone.start + phone.duration, phone.score * _UNIT, False)
            for word in aligned or ()
            for phone in word
            if phone.name != "SIL" and not phone.name.startswith("+") and phone.duration > 0
        ]

    def _start(self) -> None:
        """Begin an utterance without any trace of earlier ones.

        Otherwise the decoder keeps the noise estimate of what it heard last, and once it has streamed it never again
        takes the mean of a whole utterance: measured, 6 points fewer right.
        """
        self._decoder.reinit_feat()
        self._decoder.start_utt()

    def _run(self, sound: Samples) -> None:
        self._start()
        self._decoder.process_raw(sound.tobytes(), full_utt=True)
        self._decoder.end_utt()

    def _activate(self, phrases: tuple[str, ...]) -> None:
        name = self._grammars.pop(phrases, None)
        if name is None:
            self._made += 1
            name = f"moment-{self._made}"
            self._decoder.add_jsgf_string(name, jsgf(phrases))
        self._decoder.activate_search(name)
        self._grammars[phrases] = name  # keep the most recently used last
        while len(self._grammars) > _KEPT_GRAMMARS:
            self._decoder.remove_search(self._grammars.pop(next(iter(self._grammars))))


def can_say(decoder: Any, word: str) -> bool:
    """Whether the decoder has a pronunciation for the word; compounds are built from their parts."""
    if decoder.lookup_word(word):
        return True
    for cut in range(len(word) - 3, 2, -1):
        parts = [decoder.lookup_word(part) for part in (word[:cut], word[cut:])]
        if all(parts):
            decoder.add_word(word, " ".join(parts), True)
            return True
    return False


def _gain(samples: Samples) -> float:
    """The gain that brings these samples to the level at which the model hears best."""
    return min(TARGET / max(10 ** (dbfs(samples) / 20), 1e-9), _MOST_GAIN)


def _amplify(samples: Samples, gain: float) -> Samples:
    """Set the level, and add a faint hiss where quiet parts are digital silence.

    Digital silence, as in synthesised sound, is unlike anything the model was trained on: of 36 clean synthesised
    phrases 24 were right without the hiss and all with it; real recordings do equally well either way.
    """
    sound = to_float(samples) * gain
    if len(samples) and levels.quiet(to_int16(sound)) < _DIGITAL_SILENCE:
        sound = sound + np.resize(_HISS, len(sound))
    return to_int16(sound)


def _nats(ascore: float) -> float:
    """Convert a score from the decoder's Python interface back from its exponential."""
    return math.log(max(ascore, 1e-300)) * 1024


def _mean(spans: Sequence[_Span]) -> float:
    return sum(span.score for span in spans) / max(sum(span.length for span in spans), 1)
