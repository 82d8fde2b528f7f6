"""The second pass: Whisper over the finished utterance, closed to the phrases of the moment or open."""

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
from coach.speech.ears.whisper import FILES, LONGEST, NAME, WINDOW, Free, Logs, Whisper
from coach.speech.errors import ModelError
from coach.speech.models import FOLDER, verified
from coach.speech.signal import cleaning
from coach.speech.signal.levels import dbfs, loud_span, measure
from coach.speech.signal.lowered import lower
from coach.speech.signal.wav import RATE, Samples, at_tempo

_FAINTEST = -65.0  # dBFS; below nothing can be speech
_SHORTEST = RATE // 10
_CLEAR = 0.95  # so sure of the cleaned sound, the sound as it came changes nothing (recordings told of at WEIGHTS)
_SHOWN = 3 * RATE  # samples that the model is shown of the sound in other ways: as good as 6 s, and faster
_TEMPO = 1.075
_ENOUGH = 0.55  # so sure of a phrase, the lowered sound only counts where it makes surer
_DISSENT = 6.0  # nats that a phrase would lose if it was the likeliest in none of the ways to look at the sound
_STANDS_OUT = 15.0  # dB from the quiet to the loud parts; with less it may be background alone
_AS_LIKELY = 2.0  # nats behind the likeliest text
_SEVERAL = 3  # words; the model writes one or two of them for a noise
_WORTH_CUTTING = WINDOW - RATE  # samples; shorter sound is taken whole: cutting costs soft first sounds


@dataclass(frozen=True)
class SecondPassEvidence:
    """Signs of a right or wrong closed look, in nats where not said otherwise."""

    evidence: float  # log of the phrase's share among all that could have been said over the one it has in noise
    margin: float  # by which the next phrase of the moment has less evidence
    rival: float  # by which the best word outside the moment has less (negative: more)
    no_speech: float  # probability, 0..1
    extra: int  # words that the free text has more than the phrase
    contrast: float  # dB from the quiet to the loud parts of the sound
    dissent: float = 0.0  # share, 0..1, of the ways to look at the sound in which another phrase is likelier

    def features(self) -> tuple[float, ...]:
        """The same as numbers for the logistic model, each bounded."""
        return (
            min(max(self.evidence, -4.0), 9.0),
            math.tanh(self.margin / 3),
            min(max(self.rival, -8.0), 6.0),
            self.no_speech,
            float(min(max(self.extra, 0), 3)),
            min(self.contrast, 45.0) / 10,
        )


Seen = tuple[Weighed, SecondPassEvidence, list[Weighed]]  # the likeliest phrase, what speaks for it, the others

# Weights of the features, the constant first: a logistic fit of 25 November 2026 to 302 recordings of 20
# command words by 95 speakers, 69 of other words, 40 sentences and four pieces of a second out of each, 20 of
# background and 140 pieces of noise, all crowd-recorded; the words clean, with a kitchen at 10 dB and with six
# talkers at 20 and 10 dB; in moments of at most twelve phrases and of all 35 words. What is told about quality is
# of speakers left out of the fit (six folds by speaker).
WEIGHTS: tuple[float, ...] = (-3.073, 0.994, 0.926, 0.244, -0.517, -0.161, 0.205)

# At THRESHOLD, the second pass alone, right and wrong in moments of at most twelve of the words: clean 96.0%
# and 0.7%, kitchen at 10 dB 92.1% and 0.0%, six talkers at 20 dB 88.7% and 0.0%, at 10 dB 72.8% and 0.7%. All 35
# words together, clean: 95.7% and 1.1%; with six talkers at 10 dB 67.4% and 4.0%. Taken for a command, clean: 2%
# of other words, 0.8% of sentences, 7.5% of pieces of a second of them, 3.3% of six talkers alone, of kitchen and
# quiet nothing. (Of all speakers; those left out of the fit gave the same within half a point before _DISSENT,
# without which all words with six talkers at 10 dB give 70.4% and 6.7%.)


class WhisperPass:
    """Whisper tiny.en. Raises ModelError when the model or the libraries are not there or broken."""

    name = NAME

    def __init__(self, folder: Path | None = None) -> None:
        """With the model in that folder, or with the fetched one after checking that it is whole."""
        self._folder = folder or verified(NAME)
        self._whisper = Whisper(self._folder)
        self._background = Background.load()
        self._spelled: dict[str, Spelled] = {}

    @staticmethod
    def available(folder: Path = FOLDER / NAME) -> bool:
        """Whether there is anything to load: the model's files and the libraries."""
        from importlib.util import find_spec

        installed = all(find_spec(name) for name in ("ctranslate2", "faster_whisper", "tokenizers"))
        return installed and all((folder / name).is_file() for name in FILES)

    @cached_property
    def _fitted(self) -> Whisper:
        """The same model fitted to lessons, for one's own words: among phrases it is less sure of what is none."""
        try:
            return Whisper(self._folder, fitted=True)
        except ModelError:  # in mid-lesson: own words are still written down, only less surely
            return self._whisper

    def prepare(self) -> None:
        """Load the model for one's own words: half a second."""
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

    def open(self, samples: Samples, before: str = "", fitted: bool = True) -> Transcript:
        """What was said in the speaker's own words.

        The alternatives are other ways to write the same sound down; their confidences and that of the
        text are shares of the probability. `hearing.ExpectedAnswer.settle` chooses among them by meaning. Nothing is
        heard where little can be made out. `before` is what could have been said before; `fitted`, the model fitted to
        lessons writes it down, else Whisper as it came.
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
        return transcript.heard(written, self.name)

    def look(
        self, samples: Samples, phrases: Sequence[str]
    ) -> tuple[Weighed | None, SecondPassEvidence | None, list[Weighed]]:
        """The likeliest phrase, what speaks for it, and the other phrases. None: no sound or no phrase."""
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
        """What is seen in the sound at the height it has, and the ways to look at it that led there."""
        cleaned = cleaning.clean(near)
        sound = self._whisper.encode(cleaned)
        free = self._whisper.free(sound)
        likelihoods = _remembering(partial(self._whisper.likelihoods, sound))
        views = [free.first]
        seen = self._weighed(free, views, spelled, likelihoods, contrast)
        # Cleaning helps here and hurts there, and so does talking faster; together they are better than any.
        if confidence(seen[1]) < _CLEAR and cleaning.installed():
            views.append(self._first(near))
            seen = self._weighed(free, views, spelled, likelihoods, contrast)
        # What is said faster is looked at where its first token tells all of it.
        if confidence(seen[1]) < _CLEAR and cleaning.installed() and self._spell(seen[0].text).whole:
            views.append(self._first(at_tempo(cleaned, _TEMPO)))
            seen = self._weighed(free, views, spelled, likelihoods, contrast)
        return seen, views

    def _lowered(self, near: Samples, before: Logs, spelled: Sequence[Spelled], contrast: float) -> Seen:
        """What is seen where the sound made lower counts as much as what was seen before."""
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
        """The loud part of the sound; None where there is nothing to hear."""
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
    """The same, which looks at each way to spell a phrase once."""
    known: dict[Tokens, Sequence[float]] = {}

    def remembered(ways: Sequence[Tokens]) -> list[Sequence[float]]:
        new = [way for way in ways if way not in known]
        known.update(zip(new, likelihoods(new), strict=True))
        return [known[way] for way in ways]

    return remembered


def _contrast(samples: Samples) -> float:
    levels = measure(samples)
    return levels.speech - levels.floor


def confidence(evidence: SecondPassEvidence) -> float:
    """The chance, 0..1, that the phrase was really said."""
    constant, *weights = WEIGHTS
    amount = constant + sum(w * value for w, value in zip(weights, evidence.features(), strict=True))
    amount -= _DISSENT * evidence.dissent
    return 1 / (1 + math.exp(-max(min(amount, 50.0), -50.0)))


def _shares(weighed: Sequence[Weighed]) -> list[float]:
    whole = weighing.total([one.evidence for one in weighed])
    return [math.exp(one.evidence - whole) for one in weighed]
