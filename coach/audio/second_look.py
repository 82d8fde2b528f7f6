"""The second look: Whisper over the finished utterance, closed to the phrases of the moment or open."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from coach.audio import cleaning, weighing
from coach.audio.levels import dbfs, loud_span
from coach.audio.models import FOLDER
from coach.audio.recogniser import Alternative, Heard, tidy
from coach.audio.wav import RATE, Samples
from coach.audio.weighing import Background, Spelled, Weighed
from coach.audio.whisper import FILES, LONGEST, NAME, WINDOW, Free, Sound, Whisper

_FAINTEST = -65.0  # dBFS; below nothing can be speech
_SHORTEST = RATE // 10
_WORTH_CUTTING = WINDOW - RATE  # samples; shorter sound is taken whole: cutting costs soft first sounds


@dataclass(frozen=True)
class Evidence:
    """Signs of a right or wrong closed look, in nats where not said otherwise."""

    share: float  # log of the phrase's share among all that could have been said
    evidence: float  # log of that share over the one it has where nothing can be made out
    margin: float  # by which the next phrase of the moment has less evidence
    rival: float  # by which the best word outside the moment has less (negative: more)
    no_speech: float  # probability, 0..1
    agrees: bool  # the free text is the phrase
    extra: int  # words that the free text has more than the phrase

    def features(self) -> tuple[float, ...]:
        """The same as numbers for the logistic model, each bounded."""
        return (
            max(self.share, -10.0),
            min(max(self.evidence, -4.0), 9.0),
            math.tanh(self.margin / 3),
            min(max(self.rival, -8.0), 6.0),
            self.no_speech,
            float(self.agrees),
            float(min(max(self.extra, 0), 3)),
        )


WEIGHTS: tuple[float, ...] = (1.0, 0.3, 0.3, 2.0, 0.2, -1.0, 1.0, -1.0)
THRESHOLD = 0.5


class SecondLook:
    """Whisper tiny.en. Raises ModelError when the model or the libraries are not there or broken."""

    name = NAME

    def __init__(self, folder: Path = FOLDER / NAME) -> None:
        self._whisper = Whisper(folder)
        self._background = Background.load()
        self._spelled: dict[str, Spelled] = {}

    @staticmethod
    def available(folder: Path = FOLDER / NAME) -> bool:
        """Whether there is anything to load: the model's files and the libraries."""
        from importlib.util import find_spec

        installed = all(find_spec(name) for name in ("ctranslate2", "faster_whisper", "tokenizers"))
        return installed and all((folder / name).is_file() for name in FILES)

    def closed(self, samples: Samples, phrases: Sequence[str], first: Heard | None = None) -> Heard:
        """Which of the phrases was said, if any."""
        best, evidence, others = self.look(samples, phrases)
        if best is None or evidence is None:
            return Heard("", 0.0, self.name)
        sure = confidence(evidence)
        shares = _shares([best, *others])
        rest = tuple(Alternative(other.text, sure * shares[i + 1]) for i, other in enumerate(others[:3]))
        if sure < THRESHOLD:
            return Heard("", sure, self.name, (Alternative(best.text, sure), *rest))
        return Heard(best.text, sure, self.name, rest)

    def look(
        self, samples: Samples, phrases: Sequence[str]
    ) -> tuple[Weighed | None, Evidence | None, list[Weighed]]:
        """The likeliest phrase, what speaks for it, and the other phrases."""
        spelled = [self._spell(phrase) for phrase in tidy(phrases)]
        sound = self._listen(samples)
        if sound is None or not spelled:
            return None, None, []
        free = self._whisper.free(sound)
        best, *others = weighing.weigh(
            spelled, free, self._background, lambda ways: self._whisper.likelihoods(sound, ways)
        )
        return best, self._evidence(best, others, free, spelled), others

    def _listen(self, samples: Samples) -> Sound | None:
        if len(samples) < _SHORTEST or dbfs(samples) < _FAINTEST:
            return None
        near = loud_span(samples) if len(samples) > _WORTH_CUTTING else samples
        return self._whisper.encode(cleaning.clean(near[:LONGEST]))

    def _spell(self, phrase: str) -> Spelled:
        if phrase not in self._spelled:
            self._spelled[phrase] = weighing.spell(phrase, self._whisper.tokens)
        return self._spelled[phrase]

    def _evidence(
        self, best: Weighed, others: Sequence[Weighed], free: Free, phrases: Sequence[Spelled]
    ) -> Evidence:
        tokens, usual = self._background.table
        mine = {token for phrase in phrases for token in phrase.firsts}
        outside = ~np.isin(tokens, list(mine))
        rival = float((free.first[tokens[outside]] - usual[outside]).max())
        said, heard = tuple(best.text.split()), weighing.words(free.text)
        return Evidence(
            share=best.share,
            evidence=best.evidence,
            margin=best.evidence - others[0].evidence if others else 9.0,
            rival=best.evidence - rival,
            no_speech=free.no_speech,
            agrees=heard == said,
            extra=len(heard) - len(said),
        )


def confidence(evidence: Evidence) -> float:
    """The chance, 0..1, that the phrase was really said."""
    constant, *weights = WEIGHTS
    amount = constant + sum(w * value for w, value in zip(weights, evidence.features(), strict=True))
    return 1 / (1 + math.exp(-max(min(amount, 50.0), -50.0)))


def _shares(weighed: Sequence[Weighed]) -> list[float]:
    whole = weighing.total([one.evidence for one in weighed])
    return [math.exp(one.evidence - whole) for one in weighed]
