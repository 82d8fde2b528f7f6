"""Listening to the learner: from blocks of sound to what was said."""

from collections import deque
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coach.audio import pocketsphinx_engine
from coach.audio.endpoint import Endpointer, Same, Timing, VoiceActivity
from coach.audio.fusion import fuse
from coach.audio.hearing import decide
from coach.audio.levels import SILENCE, Levels, dbfs, measure
from coach.audio.nearness import Nearness
from coach.audio.recogniser import Heard, Recogniser, SecondLook, tidy
from coach.audio.wav import RATE, Samples

_PRE_ROLL = 0.32  # seconds before somebody is known to speak that belong to the utterance: soft first sounds
_MOST_LOOKS = 3  # at an utterance before it is over: looking takes longer than the sound that comes meanwhile
_SURE = 0.6  # what the partials did not tell has to be heard so surely to be answered at once
# Quiet within an answer in the learner's own words: up to 0.24 s in seven synthetic descriptions, and one that was
# taken for all of it after 0.16 s led a lesson astray ("front left and front right").
_BETWEEN_WORDS = 0.3
_PLAIN = 0.85  # and so surely where it may be the beginning of an answer in the learner's own words

Meaning = Callable[[str], str | None]  # what a text means, None: nothing
Stands = Callable[[Heard], bool]  # whether what the first look heard is sure enough without a second


class Source(Protocol):
    """Where sound comes from, block by block."""

    def read(self) -> bytes: ...


# Seconds that a complete partial must stand, by engine and moment: the shortest after which waiting made no more of
# them right. 78 phrases and recorded words in each moment, 25 November 2026: in "turn" 25 of 35 were right after 0.1 s
# and after 0.4 s, in "ready" 35 of 47 after 0.14 s, 38 of 46 after 0.26 s. (The wrong ones are for the looks to tell.)
_STEADY = {
    (pocketsphinx_engine.NAME, "claim"): 0.14,
    (pocketsphinx_engine.NAME, "turn"): 0.1,
    (pocketsphinx_engine.NAME, "continue"): 0.14,
    (pocketsphinx_engine.NAME, "ready"): 0.26,
}


def steady(look: Recogniser, moment: str) -> float:
    """Seconds that a complete partial of this engine must stand in that moment to be acted on."""
    return _STEADY.get((look.name, moment), look.steady)


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
        self._pool = ThreadPoolExecutor(1, "second-look")
        self.nearness = Nearness()
        self._before: deque[bytes] = deque()  # the last sound, before anybody spoke
        self.signal = False  # whether anything has ever come but digital silence

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._activity.floor

    def listen(
        self,
        source: Source,
        phrases: Sequence[str],
        seconds: float,
        meaning: Meaning | None = None,
        same: Same | None = None,
        stands: Stands | None = None,
        moment: str = "",
    ) -> Utterance | None:
        """Wait up to `seconds` for somebody to begin, then until they have finished; None for silence.

        With `meaning` (what a text means, None: nothing) a second look also hears answers in the
        learner's own words. They are heard out: a phrase may be their beginning. With `same` a phrase
        need not wait for a longer one that means the same. `stands` tells whether what the first look heard
        needs no second one. `moment` is what is listened for: how long a partial must stand depends on it.

        What was said is looked at as soon as it may be over; the answer is there when the silence has told
        that it is, or at once where nothing can follow. The microphone keeps what comes meanwhile.
        """
        phrases = tidy(phrases)
        self._activity.gate = self.nearness.gate(self.floor)
        own_words = meaning if self._second else None
        end = Endpointer(phrases, seconds, Timing(steady=steady(self._recogniser, moment)), same)
        end.early = own_words is None
        take = _Take(self._recogniser, self._second, phrases, own_words, stands, self._pool)
        passed = 0.0
        while True:
            block = source.read()
            length = len(block) / 2 / RATE
            passed += length
            speaking = self.watch(block)
            text = None
            if speaking or end.begun:
                # Only speech goes to the recogniser: an idle coach uses little of a core.
                text = take.add(b"".join(self._before), self._activity.quiet == 0)
                self._before.clear()
            decision = end.block(length, speaking, text)
            if decision == "silence":
                return None
            if decision == "wait" and not self._answers(take, end):
                continue
            heard = take.look()
            if decision == "early" and not end.final(heard.text):
                end.early = False  # answering early was a mistake: hear the utterance out
                continue
            return Utterance(heard, take.samples, measure(take.samples), passed)

    def watch(self, block: bytes) -> bool:
        """Whether somebody speaks, after one more block. `listen` then hears them from the beginning on."""
        self._before.append(block)
        while sum(map(len, self._before)) > 2 * RATE * _PRE_ROLL:
            self._before.popleft()
        level = dbfs(np.frombuffer(block, np.int16))
        self.signal = self.signal or level > SILENCE
        return self._activity.block(len(block) / 2 / RATE, level)

    def forget(self) -> None:
        """Let go of the sound before: it was the coach's own, or from another time."""
        self._before.clear()
        self._activity.rest()

    @property
    def speaking(self) -> bool:
        """Whether somebody speaks now."""
        return self._activity.speaking

    def _answers(self, take: "_Take", end: Endpointer) -> bool:
        """Whether what was said can be answered before the silence has told that it is over."""
        quiet = self._activity.quiet
        if not end.worth_looking(quiet) or not take.may_look:
            return False
        if not end.early and quiet < _BETWEEN_WORDS:
            return False
        heard = take.look()
        sure = _PLAIN if not end.early else 0.0 if heard.text == end.text else _SURE
        return end.final(heard.text) and heard.confidence >= sure and end.hushed(quiet)


class _Take:
    """The sound of one utterance, and what the looks make of it."""

    def __init__(
        self,
        recogniser: Recogniser,
        second: SecondLook | None,
        phrases: Sequence[str],
        meaning: Meaning | None,
        stands: Stands | None,
        pool: ThreadPoolExecutor,
    ) -> None:
        self._recogniser, self._second, self._phrases = recogniser, second, phrases
        self._pool = pool
        self._meaning, self._stands = meaning, stands
        self._sound = bytearray()
        self._heard: Heard | None = None  # what was heard up to the last loud block
        self._looks = 0
        recogniser.limit(phrases)

    @property
    def samples(self) -> Samples:
        """All of it."""
        return np.frombuffer(bytes(self._sound), np.int16)

    @property
    def may_look(self) -> bool:
        """Whether a look before the end is there or may still be taken."""
        return self._heard is not None or self._looks < _MOST_LOOKS

    def add(self, block: bytes, loud: bool) -> str | None:
        """More of it; the text of a changed partial. What was heard holds until it is loud again."""
        self._sound += block
        if self._heard is not None:
            if not loud:
                return None
            self._heard = None
            block = bytes(self._sound)  # the look has ended the recogniser's utterance
        partial = self._recogniser.feed(block)
        return partial.text if partial else None

    def look(self) -> Heard:
        """What was said so far, with all the looks there are."""
        if self._heard is None:
            self._looks += 1
            self._heard = self._look()
        return self._heard

    def _look(self) -> Heard:
        if self._second is None:
            return self._recogniser.finish()
        if self._meaning is not None:
            return decide(self._second, self.samples, self._phrases, self._recogniser.finish(), self._meaning)
        # Both look at the same time: the learner waits for the slower of them, not for one after the other.
        second = self._pool.submit(self._second.closed, self.samples, self._phrases)
        first = self._recogniser.finish()
        if first.text and self._stands and self._stands(first):
            return first
        return fuse(first, second.result())
