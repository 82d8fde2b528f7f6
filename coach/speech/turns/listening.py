"""Listening to the learner: from blocks of sound to what was said."""

from collections import deque
from collections.abc import Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coach.speech.ears import pocketsphinx_engine
from coach.speech.ears.fusion import fuse, in_doubt
from coach.speech.ears.hearing import Answer, decide
from coach.speech.ears.recogniser import Heard, Recogniser, SecondLook, tidy
from coach.speech.signal.levels import SILENCE, Levels, dbfs, measure
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.endpoint import Endpointer, Same, Timing, VoiceActivity
from coach.speech.turns.nearness import Nearness

_PRE_ROLL = 0.32  # seconds before somebody is known to speak that belong to the utterance: soft first sounds
_GAP = 0.04  # seconds of quiet after which it may all have been said: time to look what it was
_LONG_GAP = 0.2  # the same for an answer in the learner's own words, which takes longer to look at
_MOST_LOOKS = 6  # at the gaps of an utterance: looking takes longer than the sound that comes meanwhile
# Quiet within an answer in the learner's own words: up to 0.24 s in seven synthetic descriptions, and one that was
# taken for all of it after 0.16 s led a lesson astray ("front left and front right").
_BETWEEN_WORDS = 0.3
_SURE = 0.6  # what is heard less surely, and not told by the partials either, is waited for as long
_PLAIN = 0.85  # how surely a phrase is heard where it may be the beginning of an answer in the learner's own words



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

    The noise floor is followed from one call to the next, so one Listener belongs to one microphone. `pool` is where
    the second look is at work while the sound goes on.
    """

    def __init__(
        self, recogniser: Recogniser, second: SecondLook | None = None, pool: Executor | None = None
    ) -> None:
        self._recogniser, self._second = recogniser, second
        self._activity = VoiceActivity()
        self._pool = pool or ThreadPoolExecutor(1, "second-look")
        self.nearness = Nearness()
        self._before: deque[bytes] = deque()  # the last sound, before anybody spoke
        self.signal = False  # whether anything has ever come but digital silence

    def prepare(self) -> None:
        """Have loaded meanwhile what the second look needs later."""
        if self._second:
            self._pool.submit(self._second.prepare)

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._activity.floor

    def listen(
        self,
        source: Source,
        phrases: Sequence[str],
        seconds: float,
        answer: Answer | None = None,
        same: Same | None = None,
        moment: str = "",
    ) -> Utterance | None:
        """Wait up to `seconds` for somebody to begin, then until they have finished; None for silence.

        With `answer` (what writings mean) a second look also hears answers in the
        learner's own words. They are heard out: a phrase may be their beginning. With `same` a phrase
        need not wait for a longer one that means the same. `moment` is what is listened for: how long a
        partial must stand depends on it.

        What was said is looked at as soon as it may be over; the answer is there when the silence has told
        that it is, or at once where nothing can follow.
        """
        phrases = tidy(phrases)
        self._activity.gate = self.nearness.gate(self.floor)
        own_words = answer if self._second else None
        end = Endpointer(phrases, seconds, Timing(steady=steady(self._recogniser, moment)), same)
        end.early = own_words is None or not own_words.open
        take = _Take(self._recogniser, self._second, phrases, own_words, self._pool)
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
            if decision == "early" or (end.begun and self._activity.quiet >= take.gap - 1e-9):
                take.look(early=decision == "early")
            if decision == "end" or self._answers(take, end):
                return Utterance(take.heard(), take.samples, measure(take.samples), passed)

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
        if not take.ready:
            return False
        heard, quiet = take.heard(), self._activity.quiet
        if take.early and not end.final(heard.text):
            end.early = False  # answering early was a mistake: hear the utterance out
            take.forget()
            return False
        if take.early:
            return True
        if take.own_words and heard.confidence < _PLAIN:
            return False
        plain = not take.own_words and (heard.confidence >= _SURE or heard.text == end.text)
        return quiet >= max(end.enough(heard.text), 0.0 if plain else _BETWEEN_WORDS) - 1e-9


class _Take:
    """The sound of one utterance, and what the looks make of it."""

    def __init__(
        self,
        recogniser: Recogniser,
        second: SecondLook | None,
        phrases: Sequence[str],
        answer: Answer | None,
        pool: Executor,
    ) -> None:
        self._recogniser, self._second, self._phrases = recogniser, second, phrases
        self._answer, self._pool = answer, pool
        self._sound = bytearray()
        self._looks = 0
        self._pending: Future[Heard] | None = None  # what the second look makes of the sound up to the last loud block
        self._heard: Heard | None = None  # what all the looks make of it
        self._ended = False  # whether the recogniser's utterance has ended
        self.early = False  # whether the last look was begun before it was quiet
        recogniser.limit(phrases)

    @property
    def samples(self) -> Samples:
        """All of it."""
        return np.frombuffer(bytes(self._sound), np.int16)

    @property
    def own_words(self) -> bool:
        """Whether it most likely was said in the learner's own words."""
        return self._answer is not None and self._answer.open

    @property
    def gap(self) -> float:
        """Seconds of quiet after which it is worth looking."""
        return _LONG_GAP if self.own_words else _GAP

    @property
    def ready(self) -> bool:
        """Whether what was heard can be had without waiting."""
        return self._heard is not None or (self._pending is not None and self._pending.done())

    def add(self, block: bytes, loud: bool) -> str | None:
        """More of it; the text of a changed partial. What was heard in a gap holds until it is loud again."""
        self._sound += block
        if loud and not self.early:
            self.forget()
        if self._ended and not loud:
            return None
        if self._ended:
            block, self._ended = bytes(self._sound), False
        partial = self._recogniser.feed(block)
        return partial.text if partial else None

    def forget(self) -> None:
        """What was heard does not hold: there is more."""
        if self._pending:
            self._pending.cancel()
        self._pending = self._heard = None
        self.early = False

    def look(self, *, early: bool = False) -> None:
        """Begin to look at the sound so far, unless that has been done."""
        if self._pending or self._heard or (self._looks >= _MOST_LOOKS and not early):
            return
        self._looks += 1
        self.early = early
        self._begin()

    def heard(self) -> Heard:
        """What was said so far, with all the looks there are. Waits for them."""
        if not (self._heard or self._pending):
            self._begin()
        if self._heard is None:
            self._heard = self._together()
        return self._heard

    def _begin(self) -> None:
        if self._second is None:
            self._heard = self._first()
        else:
            self._pending = self._pool.submit(decide, self._second, self.samples, self._phrases, self._answer)

    def _together(self) -> Heard:
        assert self._pending
        heard = self._pending.result()
        return fuse(self._first(), heard) if not (self.own_words or heard.meaning) and in_doubt(heard) else heard

    def _first(self) -> Heard:
        self._ended = True
        return self._recogniser.finish()
