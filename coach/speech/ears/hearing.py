"""Hearing an utterance with all the looks there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coach.language import Language
from coach.language.meaning import Meaning, Question, Scene
from coach.speech.ears import recogniser, transcript
from coach.speech.ears.recogniser import Alternative, Heard, Recogniser
from coach.speech.ears.second_look import SecondLook
from coach.speech.errors import ModelError
from coach.speech.signal import cleaning
from coach.speech.signal.levels import loud_span
from coach.speech.signal.lowered import lower
from coach.speech.signal.wav import RATE, Samples

_OPEN: frozenset[Question] = frozenset({"look-top-edges", "look-top-corners", "piece", "row", "face"})
_OPEN_ABOUT = ("step", "return")
_BLOCK = RATE // 10
_SHORT = round(2.5 * RATE)  # samples; no phrase of a moment takes longer
_SENTENCE = RATE  # samples; what takes no longer is no sentence
_BESIDE = 0.7  # so surely a sentence is understood where a phrase was expected: it may be talk to somebody else
_CLEAR = 0.9  # a meaning with so large a share is not looked at again
_PLAIN = 0.85  # a phrase of the moment heard so surely is not looked for among one's own words


def is_open(asked: Question, scene: Scene) -> bool:
    """Whether that is a question which people answer in their own words."""
    return asked in _OPEN or (asked == "other" and scene.about in _OPEN_ABOUT)


def hear(look: Recogniser, samples: Samples, phrases: Sequence[str]) -> Heard:
    """The whole of a recording as one utterance, with a first look alone."""
    look.limit(phrases)
    for at in range(0, len(samples), _BLOCK):
        look.feed(samples[at : at + _BLOCK].tobytes())
    return look.finish()


def decide(
    second: recogniser.SecondLook, samples: Samples, phrases: Sequence[str], answer: Answer | None = None
) -> Heard:
    """What the second look hears. With `answer`, which tells what writings mean, also one's own words."""
    if answer is None:
        return second.closed(samples, phrases)
    spoken = len(loud_span(samples, 0.0))
    if not answer.open:
        return _beside(second, samples, phrases, answer, spoken)
    if spoken < _SHORT:
        closed = second.closed(samples, phrases)
        if closed.text and closed.confidence >= _PLAIN and spoken <= _longest(closed.text):
            return closed
    return _own_words(second, samples, answer)


def _beside(
    second: recogniser.SecondLook, samples: Samples, phrases: Sequence[str], answer: Answer, spoken: int
) -> Heard:
    """What is said where a phrase is expected: that, or where it took longer than any phrase, one's own words."""
    closed = second.closed(samples, phrases)
    if spoken < _SENTENCE or (closed.text and spoken <= _longest(closed.text)):
        return closed
    own = _own_words(second, samples, answer)
    surely = own.meaning is not None and own.confidence >= _BESIDE
    return own if surely else Heard("", 0.0, own.engine, own.alternatives)


def _own_words(second: recogniser.SecondLook, samples: Samples, answer: Answer) -> Heard:
    """What was said in one's own words; where it is not clear at once, also what is written of it lowered and cleaned,
    and by a model that knows nothing of lessons: what only one that expects them hears was perhaps not said."""
    written = _written(second, samples, answer)
    settled = answer.settled(written)
    if settled.confidence >= _CLEAR or not settled.alternatives:
        return settled
    others = [lower(samples), *([cleaning.clean(samples)] if cleaning.installed() else [])]
    again = [_written(second, other, answer) for other in others]
    return answer.settled(transcript.merged(written, *again, _written(second, samples, answer, fitted=False)))


def _written(second: recogniser.SecondLook, samples: Samples, answer: Answer, fitted: bool = True) -> Heard:
    return transcript.respelled(second.open(samples, answer.before, fitted), answer.respell)


def _longest(phrase: str) -> float:
    """Samples in which a phrase is said slowly; in more, something else was said as well."""
    return RATE * (0.9 + 0.5 * len(phrase.split()))


@dataclass(frozen=True)
class Answer:
    """An answer to a question: what its writings mean together, and what helps to write it down."""

    language: Language
    asked: Question
    scene: Scene | None = None

    @property
    def open(self) -> bool:
        """Whether that is mostly answered in one's own words; where it is not, they still may be said."""
        return is_open(self.asked, self.scene or Scene())

    def settled(self, heard: Heard) -> Heard:
        """What was heard with the likeliest meaning of all its writings; nothing useful where none is sure enough."""
        written = transcript.texts(heard)
        reading = self.language.settle([(one.text, one.confidence) for one in written], self.asked, self.scene)
        if reading.best is None or not reading.asks:
            return Heard("", reading.confidence, heard.engine, tuple(written))
        text = max(written, key=lambda one: one.confidence * self._chance(one.text, reading.best)).text
        others = tuple(one for one in written if one.text != text)
        if reading.acts:
            return Heard(text, reading.confidence, heard.engine, others, reading.best)
        guess = Alternative(text, reading.confidence)
        return Heard("", reading.confidence, heard.engine, (guess, *others), reading.best)

    def _chance(self, text: str, meaning: Meaning | None) -> float:
        reading = self.language.read(text, self.asked, self.scene)
        return reading.confidence if reading.best == meaning else 0.0

    @property
    def before(self) -> str:
        """What could have been said before the answer."""
        return self.language.before(self.asked)

    def respell(self, text: str) -> str:
        """A transcript in the lesson's spelling."""
        return self.language.respell(text, self.asked)


def second_look() -> SecondLook | None:
    """The second look, where it is installed and its model whole (`soundcheck` tells of the rest)."""
    if not SecondLook.available():
        return None
    try:
        return SecondLook()
    except ModelError:
        return None
