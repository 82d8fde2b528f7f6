"""The second pass: Whisper on the finished utterance, limited to the phrases of the moment or open."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from pathlib import Path

import numpy as np

from coach.speech.ears import transcript, weighing
from coach.speech.ears.fusion import THRESHOLD
from coach.speech.ears.recogniser import Alternative, Transcript, tidy
from coach.speech.ears.weighing import Background, Likelihoods, Spelled, Tokens, Weighed
from coach.speech.ears.whisper import FILES, LONGEST, NAME, WINDOW, Free, Logs, Sound, Whisper
from coach.speech.errors import ModelError
from coach.speech.models import FOLDER, verified
from coach.speech.signal import cleaning
from coach.speech.signal.levels import dbfs, loud_span, measure
from coach.speech.signal.lowered import lower
from coach.speech.signal.wav import RATE, Samples, at_tempo

_FAINTEST = -65.0  # dBFS; nothing softer can be speech
_SHORTEST = RATE // 10
_CLEAR = 0.95  # at this confidence in the cleaned sound, skip the original sound (recordings described at WEIGHTS)
_SHOWN = 3 * RATE  # show the model this many samples of each other version of the sound: as good as 6 s, and faster
_TEMPO = 1.075
_ENOUGH = 0.55  # at this confidence, the lowered sound counts only if it raises it
_DISSENT = 6.0  # a phrase that is the likeliest in no version of the sound would lose this many nats
_STANDS_OUT = 15.0  # dB from the quiet to the loud parts; less than this may be background alone
_AS_LIKELY = 2.0  # at most this many nats behind the likeliest text
_MADE_UP, _MADE_UP_EACH = 10.0, 2.0  # at most so many nats behind, in all and a token, certain words were said
_NO_TIME, _ECHOED = 0.03, 0.3  # seconds; if so many words take none, they were not said
_SEVERAL = 3  # words; the model transcribes noise as one or two
_WORTH_CUTTING = WINDOW - RATE  # in samples; shorter sound is used whole, since cutting loses soft first sounds


@dataclass(frozen=True)
class SecondPassEvidence:
    """Signs of a right or wrong closed look, in nats unless stated otherwise."""

    evidence: float  # log ratio of the phrase's share among all that could have been said to its share in noise
    margin: float  # lead in evidence over the next phrase of the moment
    rival: float  # lead over the best word outside the moment (may be negative)
    no_speech: float  # probability, 0..1
    extra: int  # how many more words the free text has than the phrase
    contrast: float  # dB from the quiet to the loud parts of the sound
    dissent: float = 0.0  # share, 0..1, of the versions of the sound in which another phrase is likelier

    def features(self) -> tuple[float, ...]:
        """The evidence as bounded numbers for the logistic model."""
        return (
            min(max(self.evidence, -4.0), 9.0),
            math.tanh(self.margin / 3),
            min(max(self.rival, -8.0), 6.0),
            self.no_speech,
            float(min(max(self.extra, 0), 3)),
            min(self.contrast, 45.0) / 10,
        )


Writings = list[tuple[str, float]]  # texts with their log probabilities, likeliest first
Seen = tuple[Weighed, SecondPassEvidence, list[Weighed]]  # the likeliest phrase, its evidence, the others

# Weights of the features, the constant first: a logistic fit of 25 November 2026 to 302 recordings of 20 command words
# by 95 speakers, 69 of other words, 40 sentences with four one-second pieces of each, 20 of background and 140 pieces
# of noise, all crowd-recorded; the words clean, with a kitchen at 10 dB and with six talkers at 20 and 10 dB; in
# moments of at most twelve phrases and of all 35 words. Figures on quality are for speakers left out of the fit (six
# folds by speaker).
WEIGHTS: tuple[float, ...] = (-3.073, 0.994, 0.926, 0.244, -0.517, -0.161, 0.205)

# Right and wrong for the second pass alone at THRESHOLD, in moments of at most twelve words: clean 96.0% and 0.7%,
# kitchen at 10 dB 92.1% and 0.0%, six talkers at 20 dB 88.7% and 0.0%, at 10 dB 72.8% and 0.7%. All 35 words together,
# clean: 95.7% and 1.1%; with six talkers at 10 dB 67.4% and 4.0%. Taken for a command, clean: 2% of other words, 0.8%
# of sentences, 7.5% of one-second pieces of them, 3.3% of six talkers alone, no kitchen and no quiet. (For all
# speakers; those left out of the fit were within half a point of this before _DISSENT, without which all words with six
# talkers at 10 dB give 70.4% and 6.7%.)


class WhisperPass:
    """Whisper tiny.en. Raises ModelError if the model or the libraries are missing or broken."""

    name = NAME

    def __init__(self, folder: Path | None = None) -> None:
        """Load the model from that folder, or the fetched one after verifying it."""
        self._folder = folder or verified(NAME)
        self._whisper = Whisper(self._folder)
        self._background = Background.load()
        self._spelled: dict[str, Spelled] = {}

    @staticmethod
    def available(folder: Path = FOLDER / NAME) -> bool:
        """Whether the model's files and the libraries are installed."""
        from importlib.util import find_spec

        installed = all(find_spec(name) for name in ("ctranslate2", "faster_whisper", "tokenizers"))
        return installed and all((folder / name).is_file() for name in FILES)

    @cached_property
    def _fitted(self) -> Whisper:
        """The model fitted to lessons, for own words: with phrases it is worse at telling what is none of them."""
        try:
            return Whisper(self._folder, fitted=True)
        except ModelError:  # in mid-lesson: own words are still transcribed, only less surely
            return self._whisper

    def prepare(self) -> None:
        """Load the model for own words, which takes half a second."""
        assert self._fitted

    def closed(self, samples: Samples, phrases: Sequence[str]) -> Transcript:
        """Which of the phrases was said, if any."""
        best, evidence, others = self.look(samples, phrases)
        if best is None or evidence is None:
            return Transcript("", 0.0, self.name)
        sure = confidence(evidence)
        shares = _shares([best, *others])
        rest = tuple(Alternative(other.text, sure * shares[i + 1]) for i, other in enumerate(others[:3]))
        if sure < THRESHOLD:
            return Transcript("", sure, self.name, (Alternative(best.text, sure), *rest))
        return Transcript(best.text, sure, self.name, rest)

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        """What was said in the speaker's own words.

        The alternatives are other transcripts of the same sound; all confidences are shares of the probability.
        `hearing.ExpectedAnswer.settle` chooses among them by meaning. The result is empty if little can be made out.
        `before` is what might have been said before; `fitted` selects the model fitted to lessons instead of the
        original Whisper. If the sound may well be made up of one of the sets of `words`, it is transcribed by it alone.
        """
        near = self._near(samples)
        if near is None:
            return Transcript("", 0.0, self.name)
        whisper = self._fitted if fitted else self._whisper
        sound = whisper.encode(near, window=len(near) + transcript.SPACE)
        written = whisper.transcripts(sound, before, transcript.BEAMS)
        likeliest = max((log for text, log in written if text), default=-math.inf)
        near_it = [(text, log) for text, log in written if text and log > likeliest - _AS_LIKELY]
        fluency, text = max(((log / (len(whisper.tokens(text)) + 1), text) for text, log in near_it),
                            default=(-math.inf, ""))  # fmt: skip
        plain = _contrast(near) >= _STANDS_OUT and len(text.split()) >= _SEVERAL
        if fluency < (transcript.FLUENT if plain else transcript.FLUENT_SURELY):
            return Transcript("", 0.0, self.name)
        limited = [whisper.transcripts(sound, before, transcript.BEAMS, some) for some in words]
        written = _as_likely(whisper, sound, written, limited)
        return transcript.heard([(_said(whisper, sound, text), log) for text, log in written], self.name)

    def look(
        self, samples: Samples, phrases: Sequence[str]
    ) -> tuple[Weighed | None, SecondPassEvidence | None, list[Weighed]]:
        """The likeliest phrase, its evidence, and the other phrases. None: no sound or no phrase."""
        spelled = [self._spell(phrase) for phrase in tidy(phrases)]
        near = self._near(samples)
        if near is None or not spelled:
            return None, None, []
        contrast = _contrast(near)
        seen, views = self._as_it_came(near, spelled, contrast)
        sure = confidence(seen[1])
        if sure >= _CLEAR:
            return seen
        lowered = self._lowered(near, _mean(views), spelled, contrast)
        return seen if sure >= max(_ENOUGH, confidence(lowered[1])) else lowered

    def _as_it_came(self, near: Samples, spelled: Sequence[Spelled], contrast: float) -> tuple[Seen, list[Logs]]:
        """The result for the sound at its original pitch, and the versions of the sound that it is based on."""
        cleaned = cleaning.clean(near)
        sound = self._whisper.encode(cleaned)
        free = self._whisper.free(sound)
        likelihoods = _remembering(partial(self._whisper.likelihoods, sound))
        views = [free.first]
        seen = self._weighed(free, views, spelled, likelihoods, contrast)
        # Cleaning helps some sounds and hurts others, and so does a faster tempo; combined they beat either.
        if confidence(seen[1]) < _CLEAR and cleaning.installed():
            views.append(self._first(near))
            seen = self._weighed(free, views, spelled, likelihoods, contrast)
        # The faster version is used only if the first token decides the whole phrase.
        if confidence(seen[1]) < _CLEAR and cleaning.installed() and self._spell(seen[0].text).whole:
            views.append(self._first(at_tempo(cleaned, _TEMPO)))
            seen = self._weighed(free, views, spelled, likelihoods, contrast)
        return seen, views

    def _lowered(self, near: Samples, before: Logs, spelled: Sequence[Spelled], contrast: float) -> Seen:
        """The result if the lowered sound counts as much as the earlier versions."""
        low = lower(near)
        sound = self._whisper.encode(cleaning.clean(low), window=_SHOWN)
        free = self._whisper.free(sound)
        both = _mean([before, _mean([free.first, self._first(low)])])
        return self._weighed(free, [both], spelled, partial(self._whisper.likelihoods, sound), contrast)

    def _first(self, samples: Samples) -> Logs:
        return self._whisper.free(self._whisper.encode(samples, window=_SHOWN), tokens=1).first

    def _weighed(
        self, free: Free, views: Sequence[Logs], spelled: Sequence[Spelled], likelihoods: Likelihoods, contrast: float
    ) -> Seen:
        together = replace(free, first=_mean(views))
        best, *others = weighing.weigh(spelled, together, self._background, likelihoods)
        dissent = sum(weighing.is_another(best, spelled, view, self._background) for view in views) / len(views)
        return best, self._evidence(best, others, together, spelled, contrast, dissent), others

    @staticmethod
    def _near(samples: Samples) -> Samples | None:
        """The loud part of the sound; None if there is nothing to hear."""
        if len(samples) < _SHORTEST or dbfs(samples) < _FAINTEST:
            return None
        near = loud_span(samples) if len(samples) > _WORTH_CUTTING else samples
        return near[:LONGEST]

    def _spell(self, phrase: str) -> Spelled:
        if phrase not in self._spelled:
            self._spelled[phrase] = weighing.spell(phrase, self._whisper.tokens)
        return self._spelled[phrase]

    def _evidence(
        self,
        best: Weighed,
        others: Sequence[Weighed],
        free: Free,
        phrases: Sequence[Spelled],
        contrast: float,
        dissent: float,
    ) -> SecondPassEvidence:
        tokens, usual = self._background.table
        mine = {token for phrase in phrases for token in phrase.firsts}
        outside = ~np.isin(tokens, list(mine))
        rival = float((free.first[tokens[outside]] - usual[outside]).max())
        said, heard = weighing.words(best.text), weighing.words(free.text)
        return SecondPassEvidence(
            evidence=best.evidence,
            margin=best.evidence - others[0].evidence if others else 9.0,
            rival=best.evidence - rival,
            no_speech=free.no_speech,
            extra=len(heard) - len(said),
            contrast=contrast,
            dissent=dissent,
        )


def _mean(views: Sequence[Logs]) -> Logs:
    return np.asarray(np.mean(views, axis=0), np.float32)


def _remembering(likelihoods: Likelihoods) -> Likelihoods:
    """The same with a cache, so that each spelling is evaluated once."""
    known: dict[Tokens, Sequence[float]] = {}

    def remembered(ways: Sequence[Tokens]) -> list[Sequence[float]]:
        new = [way for way in ways if way not in known]
        known.update(zip(new, likelihoods(new), strict=True))
        return [known[way] for way in ways]

    return remembered


def _contrast(samples: Samples) -> float:
    levels = measure(samples)
    return levels.speech - levels.floor


def _said(whisper: Whisper, sound: Sound, text: str) -> str:
    """The text without what the model only says again at its end: words that take no time. (Marks never take any.)"""
    first, second = transcript.echo(text)
    if not second:
        return text
    words = text.split()
    begins = [len(whisper.tokens(" " + " ".join(words[:at]))) if at else 0 for at in range(first, len(words))]
    starts = whisper.starts(sound, whisper.tokens(f" {text}"))
    if np.mean(np.diff([starts[at] for at in begins]) < _NO_TIME) < _ECHOED:
        return text
    return _said(whisper, sound, " ".join(words[:second]))


def _as_likely(whisper: Whisper, sound: Sound, free: Writings, limited: Sequence[Writings]) -> Writings:
    """The likeliest of the `limited` writings, those by certain words, if nearly as likely as the free ones.

    On 29 November 2026 turns said by synthetic voices, in quiet and in noise, were at most 4 nats behind; other talk
    was 15 and more, or no text. Of 46 recorded single figures all but two were at most half a nat behind, of 48 other
    words 40 more than 2 nats a token: "eight" was 10 behind "right".
    """
    if not limited:
        return free
    likeliest = [next((text for text, _ in each if text), "") for each in (free, *limited)]
    of_free, *others = whisper.likelihoods(sound, [whisper.tokens(f" {text}") for text in likeliest])
    means = [sum(logs) / len(logs) for logs in others]  # a short text is no likelier for being short
    best = max(range(len(limited)), key=means.__getitem__)
    behind = sum(of_free) - sum(others[best])
    return limited[best] if behind < min(_MADE_UP, _MADE_UP_EACH * len(others[best])) else free


def confidence(evidence: SecondPassEvidence) -> float:
    """The probability, 0..1, that the phrase was really said."""
    constant, *weights = WEIGHTS
    amount = constant + sum(w * value for w, value in zip(weights, evidence.features(), strict=True))
    amount -= _DISSENT * evidence.dissent
    return 1 / (1 + math.exp(-max(min(amount, 50.0), -50.0)))


def _shares(weighed: Sequence[Weighed]) -> list[float]:
    whole = weighing.total([one.evidence for one in weighed])
    return [math.exp(one.evidence - whole) for one in weighed]
