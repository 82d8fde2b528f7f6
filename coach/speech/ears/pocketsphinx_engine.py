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
STEADY = 0.2  # seconds; 316 of 318 partials that stood as long were right (synthetic voices, clean)
TARGET = 0.03  # of full scale: the level that the model hears best
_MOST_GAIN = 50.0
_UNIT = math.log(1.0001) * 1024  # nats in a unit of the decoder's scores, which it keeps divided by 1024
_MOST_MARGIN = 200.0  # nats
_MARGIN_SCALE = 10.0  # nats; the scores of neighbouring frames are far from independent
_KEPT_GRAMMARS = 16  # of 2 to 5 MB each; one takes 5 ms to make anew. With 200, ten minutes of lessons took 190 MB
_DIGITAL_SILENCE = -88.0  # dBFS; no room is as quiet
_HISS = np.random.default_rng(0).normal(0, 10 ** (-80 / 20), RATE).astype(np.float32)
_GAIN_SPAN = 2 * RATE  # samples whose level sets the gain while streaming
_LONGEST = 12 * RATE  # samples looked at again when an utterance has ended


@dataclass(frozen=True)
class _Span:
    begin: int  # frame
    end: int  # frame after the last
    score: float  # nats in all
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
    """A first pass with PocketSphinx. Raises ModelError when it is not installed properly."""

    name = NAME
    steady = STEADY

    def __init__(self) -> None:
        try:
            from pocketsphinx import Decoder

            # Language weight and penalties off, best path off: measured best for short commands.
            self._decoder: Any = Decoder(lm=None, bestpath=False, lw=1.0, wip=1.0, pip=1.0, loglevel="FATAL")
        except (ImportError, OSError, RuntimeError) as error:
            raise ModelError(f"PocketSphinx does not work ({error}). Run scripts/setup or pip again.") from error
        self._grammars: dict[tuple[str, ...], str] = {}
        self._made = 0  # grammars so far
        self._phrases: tuple[str, ...] = ()
        self._unknown: tuple[str, ...] = ()
        self._sound = bytearray()
        self._started = False
        self._mean = ""  # cepstral mean of what was streamed so far: the speaker and the microphone
        self._last = ""

    @property
    def unknown(self) -> tuple[str, ...]:
        """The phrases of the last `limit` with a word that the pronouncing dictionary lacks."""
        return self._unknown

    def limit(self, phrases: Sequence[str]) -> None:
        """From now on only these can be heard."""
        wanted = tidy(phrases)
        self._phrases = tuple(
            phrase for phrase in wanted if all(can_say(self._decoder, word) for word in phrase.split())
        )
        self._unknown = tuple(phrase for phrase in wanted if phrase not in self._phrases)
        self.reset()

    def feed(self, block: bytes) -> Partial | None:
        """The next stretch of sound; a Partial when what was heard so far has changed."""
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
        # The two hypotheses share what is believed, by how well they fit.
        other = sure / (1 + math.exp(min(evidence.margin / _MARGIN_SCALE, 50.0)))
        alternatives = (Alternative(behind, other),) if behind else ()
        if sure < THRESHOLD:
            return Transcript("", sure, self.name, (Alternative(text, sure), *alternatives))
        return Transcript(text, sure, self.name, alternatives)

    def examine(self, samples: Samples) -> tuple[tuple[str, str], DecoderEvidence | None]:
        """The best phrase and the best other one, with what speaks for the first; (("", ""), None) for none.

        Streaming cannot know an utterance's own level and cepstral mean, so it is decoded anew as a whole.
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
        """Forget the speaker, too."""
        self.reset()
        self._mean = ""

    def another(self) -> "PocketSphinx":
        """One more, with a decoder of its own: 27 MB."""
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
        """Begin an utterance that owes nothing to those before it.

        Otherwise the decoder goes on with the noise estimate of whatever it heard last, and once it has
        streamed never again takes the mean of a whole utterance: measured, 6 points fewer right.
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
        self._grammars[phrases] = name  # the most recently used comes last
        while len(self._grammars) > _KEPT_GRAMMARS:
            self._decoder.remove_search(self._grammars.pop(next(iter(self._grammars))))


def can_say(decoder: Any, word: str) -> bool:
    """Whether the decoder has a pronunciation for the word; compounds get that of their parts."""
    if decoder.lookup_word(word):
        return True
    for cut in range(len(word) - 3, 2, -1):
        parts = [decoder.lookup_word(part) for part in (word[:cut], word[cut:])]
        if all(parts):
            decoder.add_word(word, " ".join(parts), True)
            return True
    return False


def _gain(samples: Samples) -> float:
    """What brings these samples to the level that the model hears best."""
    return min(TARGET / max(10 ** (dbfs(samples) / 20), 1e-9), _MOST_GAIN)


def _amplify(samples: Samples, gain: float) -> Samples:
    """At the right level, and with a faint hiss where the quiet parts are digital silence.

    That, as in synthesised sound, is like nothing the model was trained on: of 36 clean synthesised phrases
    24 were heard rightly without the hiss and all with it; real recordings are as well off either way.
    """
    sound = to_float(samples) * gain
    if len(samples) and levels.quiet(to_int16(sound)) < _DIGITAL_SILENCE:
        sound = sound + np.resize(_HISS, len(sound))
    return to_int16(sound)


def _nats(ascore: float) -> float:
    """A score as the decoder's Python interface gives it, back from its exponential."""
    return math.log(max(ascore, 1e-300)) * 1024


def _mean(spans: Sequence[_Span]) -> float:
    return sum(span.score for span in spans) / max(sum(span.length for span in spans), 1)
