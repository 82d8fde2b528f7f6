"""When somebody speaks, when they have finished, and what was heard.

`Endpointer` and `VoiceActivity` are pure: they know no clock, only the blocks that they are fed.
"""

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np

from coach.audio.hearing import decide
from coach.audio.levels import Levels, dbfs, measure
from coach.audio.recogniser import Heard, Recogniser, SecondLook, tidy
from coach.audio.wav import RATE, Samples

Same = Callable[[str, str], bool]  # whether two phrases mean the same at this moment
Decision = Literal["wait", "early", "end", "silence"]

_ABOVE_FLOOR = 9.0  # dB over the noise floor that count as speech
_STILL_ABOVE = 6.0  # dB that keep it speech once it has begun
_FAINTEST = -60.0  # dBFS; nothing below is speech, however quiet the room
_FLOOR_SECONDS = 4.0  # the floor is followed over this long
_BEGIN_SECONDS = 0.06  # loud for this long out of twice as long: a knock is shorter
_PRE_ROLL = 0.3  # seconds before the beginning that belong to the utterance: soft first sounds


@dataclass(frozen=True)
class Timing:
    """How long silence must last, in seconds, before an utterance counts as finished."""

    steady: float = 0.2  # a complete answer that nothing can follow must have stood so long
    after_complete: float = 0.4  # a complete answer that may go on
    after_incomplete: float = 0.8  # part of an answer, or nothing recognised yet
    longest: float = 10.0  # an utterance is cut off here


class VoiceActivity:
    """Tells speech from background by its level over the noise floor, which it follows."""

    def __init__(self) -> None:
        self._levels: deque[tuple[float, float]] = deque()  # (seconds, dBFS) of the last seconds
        self._total = 0.0
        self._recent: deque[tuple[float, bool]] = deque()
        self.speaking = False

    @property
    def floor(self) -> float:
        """The noise floor in dBFS."""
        return float(np.percentile([level for _, level in self._levels], 20)) if self._levels else _FAINTEST

    def block(self, seconds: float, level: float) -> bool:
        """Whether somebody speaks, after one more block of that length and level (dBFS)."""
        threshold = max(self.floor + (_STILL_ABOVE if self.speaking else _ABOVE_FLOOR), _FAINTEST)
        self._levels.append((seconds, level))
        self._total += seconds
        while self._total > _FLOOR_SECONDS:
            self._total -= self._levels.popleft()[0]
        self._recent.append((seconds, level > threshold))
        while sum(length for length, _ in self._recent) > 2 * _BEGIN_SECONDS + 1e-9:
            self._recent.popleft()
        loud = sum(length for length, is_loud in self._recent if is_loud)
        self.speaking = loud > 0 if self.speaking else loud >= _BEGIN_SECONDS - 1e-9
        return self.speaking


class Endpointer:
    """Decides, block by block, whether to go on listening, to answer at once, or that it is over."""

    def __init__(
        self, phrases: Sequence[str], patience: float, timing: Timing | None = None, same: Same | None = None
    ) -> None:
        self._timing = timing or Timing()
        self._complete = frozenset(phrases)
        # What another phrase continues with another meaning: "next" need not wait for "next please", but
        # "go" has to wait for "go back".
        self._open = frozenset(
            phrase
            for phrase in phrases
            for longer in phrases
            if longer.startswith(f"{phrase} ") and not (same and same(phrase, longer))
        )
        self._patience = patience
        self._waited = self._spoken = self._still = self._stood = 0.0
        self._text = ""
        self.early = True  # whether to answer before the silence has told that it is over

    @property
    def begun(self) -> bool:
        """Whether an utterance is going on."""
        return self._spoken > 0

    def block(self, seconds: float, speaking: bool, text: str | None = None) -> Decision:
        """After one more block: `speaking` from the voice activity, `text` when a partial has changed."""
        if not self.begun and not speaking:
            self._waited += seconds
            return "silence" if self._waited >= self._patience - 1e-9 else "wait"
        self._spoken += seconds
        self._still = 0.0 if speaking else self._still + seconds
        if text is not None and text != self._text:
            self._text, self._stood = text, 0.0
        else:
            self._stood += seconds
        return self._decide()

    def _decide(self) -> Decision:
        timing, complete = self._timing, self._text in self._complete
        final = complete and self._text not in self._open
        if self.early and final and self._stood >= timing.steady - 1e-9:
            return "early"
        enough = timing.after_complete if complete else timing.after_incomplete
        if self._still >= enough - 1e-9 or self._spoken >= timing.longest - 1e-9:
            return "end"
        return "wait"


class Source(Protocol):
    """Where sound comes from, block by block."""

    def read(self) -> bytes: ...


@dataclass(frozen=True)
class Utterance:
    """Something that was said: what was heard of it, and its sound."""

    heard: Heard
    samples: Samples
    levels: Levels
    seconds: float  # from the beginning of listening to the decision


class Listener:
    """Listens with a first look, and a second one where there is one.

    The noise floor is followed from one call to the next, so one Listener belongs to one microphone.
    """

    def __init__(self, recogniser: Recogniser, second: SecondLook | None = None) -> None:
        self._recogniser, self._second = recogniser, second
        self._activity = VoiceActivity()

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._activity.floor

    def listen(
        self,
        source: Source,
        phrases: Sequence[str],
        seconds: float,
        meaning: Callable[[str], str | None] | None = None,
        same: Same | None = None,
    ) -> Utterance | None:
        """Wait up to `seconds` for somebody to begin, then until they have finished; None for silence.

        With `meaning` (what a text means, None: nothing) a second look also hears answers in the
        learner's own words. They are heard out: a phrase may be their beginning. With `same` a phrase
        need not wait for a longer one that means the same.
        """
        phrases = tidy(phrases)
        self._recogniser.limit(phrases)
        end = Endpointer(phrases, seconds, Timing(steady=self._recogniser.steady), same)
        end.early = self._second is None or meaning is None
        before: deque[bytes] = deque()
        sound = bytearray()
        passed = 0.0
        while True:
            block = source.read()
            length = len(block) / 2 / RATE
            passed += length
            speaking = self._activity.block(length, dbfs(np.frombuffer(block, np.int16)))
            text = None
            if speaking or end.begun:
                # Only speech goes to the recogniser: an idle coach uses little of a core.
                begin = b"".join(before) + block
                before.clear()
                sound += begin
                partial = self._recogniser.feed(begin)
                text = partial.text if partial else None
            else:
                before.append(block)
                while sum(map(len, before)) > 2 * RATE * _PRE_ROLL:
                    before.popleft()
            decision = end.block(length, speaking, text)
            if decision == "silence":
                return None
            if decision == "wait":
                continue
            heard = self._decide(sound, phrases, meaning)
            if decision == "early" and not heard.text:
                # Answering early was a mistake: hear the utterance out.
                end.early = False
                self._recogniser.feed(bytes(sound))
                continue
            samples = np.frombuffer(bytes(sound), np.int16)
            return Utterance(heard, samples, measure(samples), passed)

    def _decide(self, sound: bytearray, phrases: Sequence[str], meaning: Callable[[str], str | None] | None) -> Heard:
        first = self._recogniser.finish()
        if self._second is None:
            return first
        return decide(self._second, np.frombuffer(bytes(sound), np.int16), phrases, first, meaning)
