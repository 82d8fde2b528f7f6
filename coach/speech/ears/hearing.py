"""Hears an utterance with every available pass."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from coach.speech.ears import recogniser, transcript
from coach.speech.ears.recogniser import Alternative, Recogniser, Transcript
from coach.speech.ears.second_pass import WhisperPass
from coach.speech.errors import ModelError
from coach.speech.signal import cleaning
from coach.speech.signal.levels import loud_span
from coach.speech.signal.lowered import lower
from coach.speech.signal.wav import RATE, Samples

_BLOCK = RATE // 10
_SHORT = round(2.5 * RATE)  # in samples: no phrase of a moment takes longer
_SENTENCE = RATE  # in samples: anything this short is no sentence
_BESIDE = 0.7  # where a phrase was expected, a sentence needs this confidence: it may be talk to somebody else
_CLEAR = 0.9  # a meaning with at least this share is not looked at again
_PLAIN = 0.85  # a phrase heard with this confidence is not looked for in the learner's own words


class Interpretation(Protocol):
    """What the writings of an utterance mean together. Only the implementer of `settle` knows the type of `best`."""

    @property
    def best(self) -> object | None:
        """The likeliest meaning; None if nothing was meant. Equal meanings compare equal."""

    @property
    def confidence(self) -> float:
        """Its calibrated probability, 0..1."""

    @property
    def acts(self) -> bool:
        """Whether it is sure enough to act on."""

    @property
    def asks(self) -> bool:
        """Whether it is likely enough to ask for confirmation."""


class ExpectedAnswer(Protocol):
    """The expected answer: interprets its writings together, and helps to transcribe it."""

    @property
    def open(self) -> bool:
        """Whether people mostly answer in their own words; if not, they still may."""

    @property
    def before(self) -> str:
        """What might have been said before: a prompt that biases the transcription towards its words."""

    @property
    def words(self) -> tuple[tuple[str, ...], ...]:
        """The words that answers are made of, if they are few, in each manner of answering."""

    @property
    def repeats(self) -> bool:
        """Whether the same may be said twice over; otherwise such a repetition is taken for the transcriber's."""

    def respell(self, text: str) -> str:
        """A transcript in the spelling of the expected answer; "" for one that cannot be what was said."""

    def settle(self, writings: Sequence[tuple[str, float]]) -> Interpretation:
        """The joint meaning of these writings, each with its share."""


def hear(look: Recogniser, samples: Samples, phrases: Sequence[str]) -> Transcript:
    """Hear a whole recording as one utterance, with a first pass alone."""
    look.limit(phrases)
    for at in range(0, len(samples), _BLOCK):
        look.feed(samples[at : at + _BLOCK].tobytes())
    return look.finish()


def decide(
    second: recogniser.SecondPass, samples: Samples, phrases: Sequence[str], answer: ExpectedAnswer | None = None
) -> Transcript:
    """What the second pass hears. With `answer`, which interprets writings, also the learner's own words."""
    if answer is None:
        return second.closed(samples, phrases)
    spoken = len(loud_span(samples, 0.0))
    if not answer.open:
        return _beside(second, samples, phrases, answer, spoken)
    closed = second.closed(samples, phrases) if spoken < _SHORT else None
    plain = closed and closed.text and closed.confidence >= _PLAIN and spoken <= _longest(closed.text)
    if not closed or not plain or _may_be_a_part(answer.respell(closed.text), answer.words):
        return _own_words(second, samples, answer)
    if not answer.words:
        return closed
    own = _own_words(second, samples, answer)  # a few of their words may sound like a phrase: "all but four", "hold on"
    return own if own.text else closed


def _may_be_a_part(phrase: str, words: Sequence[Sequence[str]]) -> bool:
    """Whether the phrase is made of the words of answers, so that more of them may have been said."""
    return any(set(phrase.split()) <= {word.lower() for word in some} for some in words)


def _beside(
    second: recogniser.SecondPass, samples: Samples, phrases: Sequence[str], answer: ExpectedAnswer, spoken: int
) -> Transcript:
    """What is said where a phrase is expected: a phrase, or own words if it took longer than any phrase."""
    closed = second.closed(samples, phrases)
    if spoken < _SENTENCE or (closed.text and spoken <= _longest(closed.text)):
        return closed
    own = _own_words(second, samples, answer)
    surely = own.meaning is not None and own.confidence >= _BESIDE
    return own if surely else Transcript("", 0.0, own.engine, own.alternatives)


def _own_words(second: recogniser.SecondPass, samples: Samples, answer: ExpectedAnswer) -> Transcript:
    """What was said in the learner's own words. If that is not clear at once, also count transcripts of the lowered and
    the cleaned sound and by the model not fitted to lessons: what only the fitted model hears was perhaps not said."""
    written = _written(second, samples, answer)
    first = settled(answer, written)
    if first.confidence >= _CLEAR or not first.alternatives:
        return first
    others = [lower(samples), *([cleaning.clean(samples)] if cleaning.installed() else [])]
    again = [_written(second, other, answer) for other in others]
    return settled(answer, transcript.merged(written, *again, _written(second, samples, answer, fitted=False)))


def _written(
    second: recogniser.SecondPass, samples: Samples, answer: ExpectedAnswer, fitted: bool = True
) -> Transcript:
    def respell(text: str) -> str:
        return answer.respell(text if answer.repeats else transcript.once(text))

    return transcript.respelled(second.open(samples, answer.before, fitted, answer.words), respell)


def _longest(phrase: str) -> float:
    """Samples that a phrase takes when said slowly; a longer utterance contains something else as well."""
    return RATE * (0.9 + 0.5 * len(phrase.split()))


def settled(answer: ExpectedAnswer, heard: Transcript) -> Transcript:
    """What was heard, with the likeliest meaning of all writings; nothing useful if none is sure enough."""
    written = transcript.texts(heard)
    whole = answer.settle([(one.text, one.confidence) for one in written])
    if whole.best is None or not whole.asks:
        return Transcript("", whole.confidence, heard.engine, tuple(written))

    def says_it(one: Alternative) -> float:
        alone = answer.settle([(one.text, 1.0)])
        return one.confidence * alone.confidence if alone.best == whole.best else 0.0

    text = max(written, key=says_it).text
    others = tuple(one for one in written if one.text != text)
    if whole.acts:
        return Transcript(text, whole.confidence, heard.engine, others, whole.best)
    guess = Alternative(text, whole.confidence)
    return Transcript("", whole.confidence, heard.engine, (guess, *others), whole.best)


def second_pass() -> WhisperPass | None:
    """The second pass, if it is installed and its model is intact (`soundcheck` reports problems)."""
    if not WhisperPass.available():
        return None
    try:
        return WhisperPass()
    except ModelError:
        return None
