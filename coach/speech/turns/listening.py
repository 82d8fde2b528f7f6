"""Listens to the learner: blocks of sound go in, and after an utterance what was said comes out."""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from coach.speech.ears import pocketsphinx_engine
from coach.speech.ears.hearing import ExpectedAnswer
from coach.speech.ears.recogniser import Recogniser, Transcript, tidy
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.levels import SILENCE, Levels, dbfs, measure
from coach.speech.signal.onset import onset
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.endpoint import Endpointer, Same, Timing, VoiceActivity, in_samples
from coach.speech.turns.nearness import Nearness
from coach.speech.turns.take import Take

_ROOM = in_samples(0.8)  # as much sound before that tells what the noise is like
_PRE_ROLL = in_samples(0.32)  # sound before speech is detected that belongs to the utterance: soft first sounds
# Quiet within an answer in the learner's own words: up to 0.24 s in seven synthetic descriptions. One that was taken
# for complete after 0.16 s led a lesson astray ("front left and front right").
_BETWEEN_WORDS = in_samples(0.3)
_SURE = 0.6  # without this confidence or support from the partials, wait as long
_PLAIN = 0.85  # a phrase that may begin an answer in the learner's own words needs this confidence

# Seconds that a complete partial must stand, by engine and moment: the shortest time beyond which no more of them were
# right. 78 phrases and recorded words in each moment, 25 November 2026: in "turn" 25 of 35 were right after 0.1 s and
# after 0.4 s, in "ready" 35 of 47 after 0.14 s, 38 of 46 after 0.26 s. (The passes sort out the wrong ones.)
_STEADY = {
    (pocketsphinx_engine.NAME, "claim"): 0.14,
    (pocketsphinx_engine.NAME, "turn"): 0.1,
    (pocketsphinx_engine.NAME, "continue"): 0.14,
    (pocketsphinx_engine.NAME, "ready"): 0.26,
}


def steady(look: Recogniser, moment: str) -> float:
    """Seconds that a complete partial of this engine must stand in that moment before it is acted on."""
    return _STEADY.get((look.name, moment), look.steady)


@dataclass(frozen=True)
class Expectation:
    """What to listen for."""

    phrases: Sequence[str]
    """The phrases that may be said."""

    seconds: float
    """How long to wait for somebody to begin."""

    answer: ExpectedAnswer | None = None
    """Interprets writings: with it, a second pass also hears answers in the learner's own words. These are heard to the
    end, since a phrase may be their beginning."""

    same: Same | None = None
    """Whether two phrases mean the same; if so, the shorter need not wait for the longer."""

    name: str = ""
    """The name of the moment, on which depends how long a partial must stand."""


@dataclass(frozen=True)
class Utterance:
    """One utterance: what was heard, and its sound."""

    heard: Transcript
    samples: Samples
    levels: Levels
    seconds: float  # from the start of listening to the decision
    noise: Samples = field(default_factory=lambda: np.zeros(0, np.int16))  # what was there before it

    @property
    def ago(self) -> float:
        """The seconds from the beginning of its loudest word to the decision: a clock stops at that beginning, not when
        it was understood."""
        return (len(self.samples) - onset(self.samples, self.noise)) / RATE


@dataclass(frozen=True)
class Unanswered:
    """Nobody began to speak in time."""


class Listener:
    """Hears one utterance after the other.

    The noise floor carries over between them, so one Listener belongs to one microphone.
    """

    def __init__(self, recognition: TwoPass) -> None:
        assert recognition.first, "the first pass tells when an utterance is over"
        self._recognition, self._first_pass = recognition, recognition.first
        self._activity = VoiceActivity()
        self.nearness = Nearness()
        self._before: deque[bytes] = deque()  # recent sound from before anybody spoke
        self._room: deque[bytes] = deque()  # the sound before that
        self.signal = False  # whether anything but digital silence has ever come
        self._take: Take | None = None
        self._end = Endpointer((), 0.0)
        self._passed = 0  # samples since listening started

    @property
    def floor(self) -> float:
        """The room's noise floor in dBFS."""
        return self._activity.floor

    @property
    def speaking(self) -> bool:
        """Whether somebody is speaking now."""
        return self._activity.speaking

    def prepare(self) -> None:
        """Load in the background what the second pass will need."""
        self._recognition.prepare()

    def listen(self, moment: Expectation) -> None:
        """From now on wait for somebody to begin, then until they have finished.

        The passes look at the sound as soon as it may be over; the answer is available once silence confirms the
        endpoint, or at once if nothing can follow.
        """
        phrases = tidy(moment.phrases)
        self._activity.gate = self.nearness.gate(self.floor)
        answer = moment.answer if self._recognition.second else None
        timing = Timing(steady=steady(self._first_pass, moment.name))
        self._end = Endpointer(phrases, moment.seconds, timing, moment.same)
        self._end.early = answer is None or not answer.open
        self._take = Take(self._recognition, self._first_pass, phrases, answer)
        self._passed = 0

    def block(self, block: bytes) -> Utterance | Unanswered | None:
        """Take one more block; returns the result, or None while listening goes on."""
        take, end = self._take, self._end
        assert take, "it has not been told what to listen for"
        length = len(block) // 2
        self._passed += length
        speaking = self.watch(block)
        text = None
        if speaking or end.begun:
            # Only speech goes to the recogniser, so that an idle coach uses little of a core.
            text = take.add(b"".join(self._before), self._activity.quiet == 0)
            self._before.clear()
        decision = end.block(length, speaking, text)
        if decision == "silence":
            return Unanswered()
        if decision == "early" or (end.begun and self._activity.quiet >= take.gap):
            take.look(early=decision == "early")
        if decision == "end" or self._answers(take, end):
            noise = np.frombuffer(b"".join(self._room), np.int16)
            return Utterance(take.heard(), take.samples, measure(take.samples), self._passed / RATE, noise)
        return None

    def watch(self, block: bytes) -> bool:
        """Whether somebody is speaking, after one more block. A following `listen` hears them from their beginning."""
        self._before.append(block)
        while sum(map(len, self._before)) > 2 * _PRE_ROLL:
            self._room.append(self._before.popleft())
        while sum(map(len, self._room)) > 2 * _ROOM:
            self._room.popleft()
        level = dbfs(np.frombuffer(block, np.int16))
        self.signal = self.signal or level > SILENCE
        return self._activity.block(len(block) // 2, level)

    def forget(self) -> None:
        """Drop the earlier sound: it was the coach's own, or from another time."""
        self._before.clear()
        self._activity.rest()

    def _answers(self, take: Take, end: Endpointer) -> bool:
        """Whether the utterance can be answered before silence confirms the endpoint."""
        if not take.ready:
            return False
        heard, quiet = take.heard(), self._activity.quiet
        if take.early and not end.final(heard.text):
            end.early = False  # answering early was a mistake; hear the utterance to its end
            take.forget()
            return False
        if take.early:
            return True
        if take.own_words and heard.confidence < _PLAIN:
            return False
        plain = not take.own_words and (heard.confidence >= _SURE or heard.text == end.text)
        return quiet >= max(end.enough(heard.text), 0 if plain else _BETWEEN_WORDS)
