"""Whose turn it is to speak, the coach's or the learner's: blocks of sound and the sink's reports go in, what has come
of a turn comes out. No device, no clock, no thread: time is what the blocks amount to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.endpoint import in_samples
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.ports import Played

_TAIL = in_samples(0.25)  # after a turn, in which the echo of the last word is not listened to
_BREATH = round(0.3 * VOICE_RATE)  # samples between two sentences of the coach
_SHORTEST = 0.3  # seconds; less time than this is not worth listening for
# Speech must last so much longer to interrupt after each interruption by nothing, up to so many of these.
_EACH_IN_VAIN, _MOST_IN_VAIN = in_samples(0.1), 4
_ECHOES_IN_VAIN = 2  # what an echo canceller leaves of the coach's voice counts as if there had been so many


@dataclass(frozen=True)
class BargeIn:
    """The learner speaks while the coach does: the sink is to be cut off."""


@dataclass(frozen=True)
class Said:
    """The coach's turn is over."""

    sentences: int
    """So many were said to their end."""

    cut_off: bool
    """Whether there were more."""


class Turns:
    """Gives the turn to the coach (`say`) and to the learner (`listen`); `played` and `block` tell what came of it.

    While the coach speaks, and for a moment after each turn, it is deaf. With `duplex` it always hears, and the learner
    may interrupt: with headphones, or where the microphone is free of the coach's own voice.
    """

    def __init__(self, listener: Listener) -> None:
        self._listener = listener
        self.duplex = False
        self.echoes = False  # an echo canceller leaves some of the coach's own voice
        self._now = 0  # samples since the beginning
        self._over = 0  # when the last turn was over
        self._deaf_until = 0
        self._coach_spoke = False  # whether the last turn was the coach's
        self._ends: list[int] | None = None  # of the sentences being said, in samples of their sound
        self._barging = 0  # samples that the learner has spoken into them; negative while that does not count
        self._in_vain = 0  # interruptions in a row that were nothing
        self._expected: Expectation | None = None  # what is listened for in what is left of the learner's turn
        self._listening = False

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._listener.floor

    @property
    def signal(self) -> bool:
        """Whether anything has ever come but digital silence."""
        return self._listener.signal

    @property
    def speaking(self) -> bool:
        """Whether the learner speaks now."""
        return self._listener.speaking

    def say(self, sentences: Sequence[Samples]) -> Samples:
        """The coach's turn: the sound to play, with a breath between the sentences and after what was said before."""
        passed = (self._now - self._over) * VOICE_RATE // RATE
        pause = max(_BREATH - passed, 0) if self._coach_spoke else 0
        parts: list[Samples] = []
        self._ends = []
        for sentence in sentences:
            parts += [np.zeros(pause, np.int16), sentence]
            self._ends.append(sum(map(len, parts)))
            pause = _BREATH
        self._barging = -1 if self._listener.speaking else 0
        self._listening = False
        return np.concatenate(parts) if parts else np.zeros(0, np.int16)

    def played(self, played: Played) -> Said | None:
        """How far the sink has come with it; once that is the end, how many sentences were said."""
        if self._ends is None or not played.over:
            return None
        ends, self._ends = self._ends, None
        said = sum(end <= played.samples for end in ends) if played.cut_off else len(ends)
        self._end_turn()
        self._coach_spoke = True
        return Said(said, said < len(ends))

    def listen(self, expected: Expectation) -> None:
        """The learner's turn."""
        self._coach_spoke = False  # an answer needs no breath before it
        self._expected, self._listening = expected, True
        self._listener.listen(expected)

    def go_on(self) -> bool:
        """Still the learner's turn, since what came was nothing; False where too little is left of it."""
        assert self._expected, "nobody has listened before"
        if self._expected.seconds <= _SHORTEST:
            return False
        self.listen(self._expected)
        self._deaf_until = self._now
        return True

    def block(self, block: bytes) -> BargeIn | Utterance | Unanswered | None:
        """What has come of the turn with one more block of sound."""
        self._now += len(block) // 2
        if not self.duplex and (self._ends is not None or self._now <= self._deaf_until):
            self._listener.forget()
            return None
        if self._ends is not None:
            return self._barged_in(block)
        if not self._listening:
            self._listener.watch(block)
            return None
        result = self._listener.block(block)
        if result is not None:
            self._end_turn()
        if isinstance(result, Utterance) and self._expected:
            self._expected = replace(self._expected, seconds=self._expected.seconds - result.seconds)
        return result

    def forget(self) -> None:
        """Let go of the sound before: it is from another time."""
        self._listener.forget()

    def answered(self, utterance: Utterance) -> None:
        """That was an answer to what was asked: whoever speaks like that is the learner."""
        self._listener.nearness.answered(utterance.levels.speech)

    def missed(self) -> None:
        """An answer was waited for in vain."""
        self._listener.nearness.missed()

    def interrupted(self, *, in_vain: bool) -> None:
        """What the last interruption was: something, or nothing that means anything."""
        self._in_vain = self._in_vain + 1 if in_vain else 0

    def _end_turn(self) -> None:
        self._listening = False
        self._over, self._deaf_until = self._now, self._now + _TAIL

    def _barged_in(self, block: bytes) -> BargeIn | None:
        """Whoever still ends their last word does not interrupt, nor does what is too short."""
        if not self._listener.watch(block):
            self._barging = 0
        elif self._barging >= 0:
            self._barging += len(block) // 2
        doubt = max(self._in_vain, _ECHOES_IN_VAIN if self.echoes else 0)
        return BargeIn() if self._barging > min(doubt, _MOST_IN_VAIN) * _EACH_IN_VAIN else None
