"""Turns driven from a source that pushes: in a few lines each, and with a source that vanishes."""

import threading

import numpy as np
import pytest

from coach.speech.ears.two_pass import TwoPass
from coach.speech.errors import DeviceError
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.driver import Driver, Typed
from coach.speech.turns.inbox import Inbox
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.ports import Played, Push
from coach.speech.turns.turns import Said, Turns
from tests.speech.turns.test_listening import BLOCK, PHRASES, Scripted, hush, loud

SENTENCE = np.full(VOICE_RATE, 1000, np.int16)


class Recording:
    """A source that pushes a recording from a thread of its own, and is lost at its end."""

    lost_blocks = 0

    def __init__(self, samples: Samples) -> None:
        self._samples = samples

    def start(self, push: Push) -> None:
        def run() -> None:
            for at in range(0, len(self._samples), BLOCK):
                push(self._samples[at : at + BLOCK].tobytes())

        self.thread = threading.Thread(target=run)
        self.thread.start()

    def check(self) -> None:
        raise DeviceError("The recording is over.")


class Speaker:
    """A sink that plays 20 ms whenever it is asked, and loses its voice where it is told to."""

    lost_blocks = 0

    def __init__(self, fails: int = 0) -> None:
        self._fails = fails
        self.begun = 0
        self._whole = self._at = 0
        self.was_cut = False

    def begin(self, samples: Samples) -> None:
        self.begun += 1
        self._whole, self._at, self.was_cut = len(samples), 0, False

    def cut_off(self) -> None:
        self.was_cut = True

    @property
    def played(self) -> Played:
        if self._fails and self._at > VOICE_RATE // 2:
            self._fails -= 1
            raise DeviceError("The loudspeaker is gone.")
        self._at += VOICE_RATE // 50
        return Played(self._at, self.was_cut or self._at >= self._whole, self.was_cut)

    def adjust(self, steps: int) -> None: ...


def driver(sound: Samples, *results: str) -> Driver:
    source = Recording(sound)
    inbox = Inbox(source)
    source.thread.join()
    turns = Turns(Listener(TwoPass(Scripted("next", *results))))
    return Driver(turns, inbox, Speaker())


def test_what_a_source_pushes_is_heard() -> None:
    heard = driver(np.concatenate([hush(1), loud(0.5), hush(2)]), "next")
    heard.hear_room(0.5)
    heard.turns.listen(Expectation(PHRASES, 2.0))
    assert isinstance(result := heard.go_on(), Utterance)
    assert result.heard.text == "next"


def test_what_came_before_the_learners_turn_takes_nothing_of_its_time() -> None:
    one = driver(hush(3))
    with pytest.raises(DeviceError):  # three seconds had come already: two more are waited for
        one.listen(Expectation(PHRASES, 2.0))


def test_a_source_that_is_lost_and_not_mended_is_told() -> None:
    with pytest.raises(DeviceError, match="recording is over"):
        driver(hush(0.1)).hear_room(1.0)


def test_what_was_being_said_when_a_device_vanished_is_said_again_once_it_is_back() -> None:
    def speaking(sink: Speaker, mended: bool) -> Driver:
        return Driver(Turns(Listener(TwoPass(Scripted("next")))), Silent(), sink, lambda problem: mended)

    with pytest.raises(DeviceError, match="loudspeaker is gone"):
        speaking(Speaker(fails=1), mended=False).say([SENTENCE])
    sink = Speaker(fails=1)
    assert speaking(sink, mended=True).say([SENTENCE]) == Said(1, cut_off=False)
    assert sink.begun == 2


class Silent:
    """Blocks of a quiet room for ever."""

    lost_blocks = 0

    def take(self) -> bytes:
        return hush(BLOCK / RATE).tobytes()

    def waiting(self) -> None: ...


class Talking(Silent):
    """A quiet room for a second, and then somebody talks."""

    def __init__(self) -> None:
        self._left = 50

    def take(self) -> bytes:
        self._left -= 1
        return (hush if self._left > 0 else loud)(BLOCK / RATE).tobytes()


def test_the_sink_is_cut_off_when_somebody_barges_in() -> None:
    sink = Speaker()
    turns = Turns(Listener(TwoPass(Scripted("next"))))
    turns.duplex = True
    said = Driver(turns, Talking(), sink).say([SENTENCE, SENTENCE, SENTENCE])
    assert said == Said(1, cut_off=True)
    assert sink.was_cut


def test_silence_is_told_after_the_time_that_was_given() -> None:
    assert isinstance(Driver(Turns(Listener(TwoPass(Scripted("next")))), Silent(), Speaker()).listen(
        Expectation(PHRASES, 1.0)), Unanswered)  # fmt: skip


def test_what_nobody_takes_for_long_is_forgotten_from_its_beginning() -> None:
    source = Recording(np.arange(600 * BLOCK, dtype=np.int16))
    inbox = Inbox(source)
    source.thread.join()
    assert np.frombuffer(inbox.take(), np.int16)[0] == np.arange(600 * BLOCK, dtype=np.int16)[100 * BLOCK]


def test_what_is_typed_cuts_the_coach_off_and_is_the_answer() -> None:
    sink = Speaker()
    one = Driver(Turns(Listener(TwoPass(Scripted("next")))), Silent(), sink)
    one.typed.append("yes")
    assert one.say([SENTENCE, SENTENCE]) == Said(0, cut_off=True) and sink.was_cut
    assert one.listen(Expectation(PHRASES, 1.0)) == Typed("yes")
    assert isinstance(one.listen(Expectation(PHRASES, 1.0)), Unanswered)
