"""Voice activity and endpoint detection. Time is counted in samples of the blocks that are fed."""

import math
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.speech.signal.wav import RATE

Same = Callable[[str, str], bool]  # whether two phrases mean the same in this moment
Decision = Literal["wait", "early", "end", "silence"]

_ABOVE_FLOOR = 9.0  # speech begins this many dB above the noise floor
_STILL_ABOVE = 6.0  # speech goes on down to this many dB above the noise floor
_BELOW_PEAK = 25.0  # a block this many dB below the loudest of an utterance is its end, or a gap in it
_DIP = 6.0  # once the learner speaks, their voice may drop this many dB below the gate
_FAINTEST = -60.0  # dBFS; nothing softer is speech, however quiet the room
_FLOOR_SPAN = 4 * RATE  # follow the noise floor over this many samples
_BEGIN = round(0.06 * RATE)  # speech begins when this many samples out of twice as many are loud; a knock is shorter


def in_samples(seconds: float) -> int:
    """Convert seconds to samples."""
    return round(seconds * RATE)


@dataclass(frozen=True)
class Timing:
    """How much silence, in seconds, ends an utterance."""

    steady: float = 0.2  # a complete answer that nothing can follow ends it after standing this long
    hushed: float = 0.06  # or after this much quiet: as long as the gap before a final t or p
    pause: float = 0.16  # or after this much if the partials have shown something else
    after_complete: float = 0.4  # a complete answer that may go on ends it after this much quiet
    after_incomplete: float = 0.8  # part of an answer, or nothing recognised yet, after this much
    longest: float = 10.0  # an utterance is cut off after this long


class VoiceActivity:
    """Tells speech from background by its level over the noise floor, which it follows."""

    def __init__(self) -> None:
        self._levels: deque[tuple[int, float]] = deque()  # (samples, dBFS) of the last seconds
        self._total = 0
        self._recent: deque[tuple[int, bool]] = deque()
        self._peak = _FAINTEST  # dBFS of the loudest block of this utterance
        self.speaking = False
        self.quiet: float = math.inf  # samples since the voice was last heard
        self.gate: float | None = None  # near-field gate in dBFS; a voice that begins softer is not the learner's

    @property
    def floor(self) -> float:
        """The noise floor in dBFS."""
        return float(np.percentile([level for _, level in self._levels], 20)) if self._levels else _FAINTEST

    def rest(self) -> None:
        """Forget the speaker; the noise floor is kept."""
        self._recent.clear()
        self.speaking, self.quiet = False, math.inf

    def block(self, samples: int, level: float) -> bool:
        """Whether somebody is speaking, after one more block of this many samples and this level (dBFS)."""
        threshold = max(self.floor + (_STILL_ABOVE if self.speaking else _ABOVE_FLOOR), _FAINTEST)
        if self.gate is not None:
            threshold = max(threshold, self.gate - (_DIP if self.speaking else 0.0))
        self._levels.append((samples, level))
        self._total += samples
        while self._total > _FLOOR_SPAN:
            self._total -= self._levels.popleft()[0]
        loud = level > threshold
        self._recent.append((samples, loud))
        while sum(length for length, _ in self._recent) > 2 * _BEGIN:
            self._recent.popleft()
        lasted = sum(length for length, is_loud in self._recent if is_loud)
        before = self.speaking
        self.speaking = lasted > 0 if before else lasted >= _BEGIN
        if self.speaking and not before:
            self._peak = _FAINTEST
        self._peak = max(self._peak, level)
        self.quiet = 0 if loud and level > self._peak - _BELOW_PEAK else self.quiet + samples
        return self.speaking


class Endpointer:
    """Decides, block by block, whether to go on listening, to answer at once, or that the utterance is over."""

    def __init__(
        self, phrases: Sequence[str], patience: float, timing: Timing | None = None, same: Same | None = None
    ) -> None:
        self._timing = timing or Timing()
        self._complete = frozenset(phrases)
        # Phrases that another phrase continues with another meaning: "next" need not wait for "next please", but "go"
        # has to wait for "go back".
        self._open = frozenset(
            phrase
            for phrase in phrases
            for longer in phrases
            if longer.startswith(f"{phrase} ") and not (same and same(phrase, longer))
        )
        self._patience = in_samples(patience)
        self._waited = self._spoken = self._still = self._stood = 0  # samples
        self.text = ""  # the last partial
        self.early = True  # whether to answer before silence confirms the endpoint

    @property
    def begun(self) -> bool:
        """Whether an utterance is going on."""
        return self._spoken > 0

    def block(self, samples: int, speaking: bool, text: str | None = None) -> Decision:
        """Decide after one more block: `speaking` from the voice activity, `text` if a partial has changed."""
        if not self.begun and not speaking:
            self._waited += samples
            return "silence" if self._waited >= self._patience else "wait"
        self._spoken += samples
        self._still = 0 if speaking else self._still + samples
        if text is not None and text != self.text:
            self.text, self._stood = text, 0
        else:
            self._stood += samples
        return self._decide()

    def enough(self, text: str) -> float:
        """Samples of quiet after which to act on what has been heard; before that it may go on."""
        if text not in self._complete:
            return math.inf
        if not self.final(text):
            return in_samples(self._timing.after_complete)
        return in_samples(self._timing.hushed if text == self.text else self._timing.pause)

    def final(self, text: str) -> bool:
        """Whether it is a complete answer that nothing can follow."""
        return text in self._complete and text not in self._open

    def _decide(self) -> Decision:
        timing = self._timing
        enough = timing.after_complete if self.text in self._complete else timing.after_incomplete
        if self._still >= in_samples(enough) or self._spoken >= in_samples(timing.longest):
            return "end"
        if self.early and self.final(self.text) and self._stood >= in_samples(timing.steady):
            return "early"
        return "wait"
