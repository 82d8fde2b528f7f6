"""Whose turn it is, the coach's or the learner's: blocks of sound and the sink's reports go in, the results of turns
come out. No device, clock or thread: time is counted in blocks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.endpoint import in_samples
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.ports import Played

_TAIL = in_samples(0.25)  # do not listen to the echo of the last word for this long after a turn
BREATH = round(0.3 * VOICE_RATE)  # samples between two sentences of the coach
_SHORTEST = 0.3  # do not listen for fewer seconds than this
# After each false barge-in, speech must last this much longer to interrupt, up to this many times.
_EACH_IN_VAIN, _MOST_IN_VAIN = in_samples(0.1), 4
_ECHOES_IN_VAIN = 2  # the residue of an echo canceller counts as this many false barge-ins


@dataclass(frozen=True)
class BargeIn:
    """The learner has barged in: cut the sink off."""


@dataclass(frozen=True)
class Said:
    """The coach's turn is over."""

    sentences: int
    """The number of sentences said to their end."""

    cut_off: bool
    """Whether there were more."""


def joined(sentences: Sequence[Samples], pause: int = 0) -> tuple[Samples, list[int]]:
    """The sound of all these sentences, with a breath between them and `pause` samples before; and where each ends."""
    parts: list[Samples] = [np.zeros(0, np.int16)]
    ends: list[int] = []
    for sentence in sentences:
        parts += [np.zeros(pause, np.int16), sentence]
        ends.append(sum(map(len, parts)))
        pause = BREATH
    return np.concatenate(parts), ends


class Turns:
    """Gives the turn to the coach (`say`) and to the learner (`listen`); `played` and `block` report the results.

    While the coach speaks, and for a moment after each turn, the microphone is ignored. With `duplex` it never is, and
    the learner may barge in: with headphones, or if the microphone does not pick up the coach.
    """

    def __init__(self, listener: Listener) -> None:
        self._listener = listener
        self.duplex = False
        self.echoes = False  # whether an echo canceller leaves some of the coach's voice
        self._now = 0  # samples since the beginning
        self._over = 0  # when the last turn was over
        self._deaf_until = 0
        self._coach_spoke = False  # whether the coach had the last turn
        self._ends: list[int] | None = None  # where each sentence being said ends, in samples of their sound
        self._barging = 0  # samples of the learner's speech during it; negative while that does not count
        self._in_vain = 0  # false barge-ins in a row
        self._expected: Expectation | None = None  # what to listen for in the rest of the learner's turn
        self._listening = False

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._listener.floor

    @property
    def now(self) -> float:
        """Seconds since the beginning, counted in sound."""
        return self._now / RATE

    @property
    def signal(self) -> bool:
        """Whether anything but digital silence has ever come."""
        return self._listener.signal

    @property
    def speaking(self) -> bool:
        """Whether the learner is speaking now."""
        return self._listener.speaking

    def say(self, sentences: Sequence[Samples]) -> Samples:
        """Start the coach's turn; returns the sound to play, with a breath before a sentence that follows another."""
        passed = (self._now - self._over) * VOICE_RATE // RATE
        pause = max(BREATH - passed, 0) if self._coach_spoke else 0
        sound, self._ends = joined(sentences, pause)
        self._barging = -1 if self._listener.speaking else 0
        self._listening = False
        return sound

    def played(self, played: Played) -> Said | None:
        """Take the sink's progress; at the end of the sound, return how many sentences were said."""
        if self._ends is None or not played.over:
            return None
        ends, self._ends = self._ends, None
        said = sum(end <= played.samples for end in ends) if played.cut_off else len(ends)
        self._end_turn()
        self._coach_spoke = True
        return Said(said, said < len(ends))

    def listen(self, expected: Expectation) -> None:
        """Start the learner's turn."""
        self._coach_spoke = False  # an answer needs no breath before it
        self._expected, self._listening = expected, True
        self._listener.listen(expected)

    def go_on(self) -> bool:
        """Continue the learner's turn after a noise; False if too little of it is left."""
        assert self._expected, "nobody has listened before"
        if self._expected.seconds <= _SHORTEST:
            return False
        self.listen(self._expected)
        self._deaf_until = self._now
        return True

    def block(self, block: bytes) -> BargeIn | Utterance | Unanswered | None:
        """Take one more block of sound; returns what the turn has come to, if anything."""
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
        """Drop the earlier sound: it is from another time."""
        self._listener.forget()

    def answered(self, utterance: Utterance) -> None:
        """Note that this answered the question: a voice this loud is the learner's."""
        self._listener.nearness.answered(utterance.levels.speech)

    def missed(self) -> None:
        """An expected answer did not come."""
        self._listener.nearness.missed()

    def interrupted(self, *, in_vain: bool) -> None:
        """Report whether the last barge-in meant anything."""
        self._in_vain = self._in_vain + 1 if in_vain else 0

    def _end_turn(self) -> None:
        self._listening = False
        self._over, self._deaf_until = self._now, self._now + _TAIL

    def _barged_in(self, block: bytes) -> BargeIn | None:
        """A barge-in, unless the learner is only ending their last word, or the speech is too short."""
        if not self._listener.watch(block):
            self._barging = 0
        elif self._barging >= 0:
            self._barging += len(block) // 2
        doubt = max(self._in_vain, _ECHOES_IN_VAIN if self.echoes else 0)
        return BargeIn() if self._barging > min(doubt, _MOST_IN_VAIN) * _EACH_IN_VAIN else None
