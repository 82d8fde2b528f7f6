"""When an utterance begins and ends. No sound and no clock: only blocks of 20 ms that are counted."""

from collections.abc import Sequence
from concurrent.futures import Executor, Future

import numpy as np
import pytest

from coach.speech.ears.recogniser import Alternative, Partial, Recogniser, Transcript
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.endpoint import Endpointer, Timing, VoiceActivity
from coach.speech.turns.listening import Expectation, Listener, Utterance
from tests.conftest import Speaker

BLOCK = RATE // 50
PHRASES = ("next", "go on", "go on please", "yes")


def feed(end: Endpointer, seconds: float, speaking: bool, text: str | None = None) -> str:
    """Blocks for so long, the text with the first; the decision that came first, else "wait"."""
    for index in range(round(seconds * RATE / BLOCK)):
        decision = end.block(BLOCK, speaking, text if index == 0 else None)
        if decision != "wait":
            return decision
    return "wait"


def test_nobody_speaks_until_patience_runs_out() -> None:
    end = Endpointer(PHRASES, patience=2.0)
    assert feed(end, 1.98, speaking=False) == "wait"
    assert feed(end, BLOCK / RATE, speaking=False) == "silence"


def test_patience_does_not_run_out_while_somebody_speaks() -> None:
    end = Endpointer(PHRASES, patience=1.0)
    feed(end, 0.9, speaking=False)
    assert feed(end, 3.0, speaking=True) == "wait"


def test_a_complete_answer_that_nothing_follows_is_acted_on_once_it_has_stood() -> None:
    end = Endpointer(PHRASES, patience=2.0, timing=Timing(steady=0.2))
    feed(end, 0.4, speaking=True)
    assert feed(end, 0.2, True, "next") == "wait"
    assert feed(end, BLOCK / RATE, True) == "early"


def test_an_answer_that_changes_has_to_stand_anew() -> None:
    end = Endpointer(PHRASES, patience=2.0, timing=Timing(steady=0.2))
    feed(end, 0.18, True, "next")
    assert feed(end, 0.2, True, "yes") == "wait"


def test_an_answer_that_may_go_on_waits_for_silence() -> None:
    timing = Timing(after_complete=0.5)
    end = Endpointer(PHRASES, patience=2.0, timing=timing)
    assert feed(end, 1.0, True, "go on") == "wait"
    assert feed(end, 0.48, speaking=False) == "wait"
    assert feed(end, BLOCK / RATE, speaking=False) == "end"


def test_an_answer_need_not_wait_for_a_longer_one_that_means_the_same() -> None:
    def same(one: str, other: str) -> bool:
        return (one, other) == ("go on", "go on please")

    end = Endpointer(PHRASES, patience=2.0, timing=Timing(steady=0.2), same=same)
    assert feed(end, 0.4, True, "go on") == "early"


def test_half_an_answer_gets_the_longest_silence() -> None:
    end = Endpointer(PHRASES, patience=2.0, timing=Timing(after_complete=0.5, after_incomplete=0.8))
    feed(end, 0.4, True, "go")
    assert feed(end, 0.78, speaking=False) == "wait"
    assert feed(end, BLOCK / RATE, speaking=False) == "end"


def test_going_on_after_a_breath_is_one_utterance() -> None:
    end = Endpointer(PHRASES, patience=2.0, timing=Timing(steady=0.2))
    feed(end, 0.4, True, "go on")
    feed(end, 0.4, speaking=False)
    assert feed(end, 0.3, True, "go on please") == "early"


def test_an_endless_talker_is_cut_off() -> None:
    assert feed(Endpointer(PHRASES, 2.0, Timing(longest=10)), 10.0, speaking=True) == "end"


@pytest.mark.parametrize("floor", [-75.0, -50.0, -35.0])
def test_speech_is_what_rises_over_the_room(floor: float) -> None:
    activity = VoiceActivity()
    noise = np.random.default_rng(3).normal(floor, 1.5, 300)
    assert not any(activity.block(BLOCK, level) for level in noise)
    assert [activity.block(BLOCK, max(floor + 20, -50.0)) for _ in range(10)][-1]
    # And when the speaker stops it is over within a quarter of a second.
    assert not [activity.block(BLOCK, level) for level in noise[:13]][-1]


def test_one_knock_is_not_speech() -> None:
    activity = VoiceActivity()
    for _ in range(100):
        activity.block(BLOCK, -60)
    assert not any(activity.block(BLOCK, level) for level in (-10, -15, -60, -60, -60))


class Tape:
    """A source that plays sound block by block, then silence for a minute."""

    def __init__(self, samples: Samples) -> None:
        self._samples, self._at = samples, 0

    def read(self) -> bytes:
        size = BLOCK
        assert self._at < 60 * RATE, "listened for ever"
        block = self._samples[self._at : self._at + size]
        self._at += size
        return np.pad(block, (0, size - len(block))).astype(np.int16).tobytes()

    def heard_by(
        self, listener: Listener, seconds: float, phrases: Sequence[str] = PHRASES, name: str = ""
    ) -> Utterance | None:
        """What the listener hears of it in that time."""
        listener.listen(Expectation(phrases, seconds, name=name))
        while (result := listener.block(self.read())) is None:
            pass
        return result if isinstance(result, Utterance) else None

    def again(self) -> "Tape":
        return Tape(self._samples)


class Scripted:
    """A recogniser that says what it is told to: a partial after so many bytes, and results in turn."""

    name, steady, unknown = "scripted", 0.2, ()

    def __init__(self, partial: str, *results: str) -> None:
        self._partial, self._results = partial, list(results)
        self.heard_bytes = 0
        self.confidence = 0.5

    def limit(self, phrases: object) -> None:
        self.heard_bytes = 0

    def feed(self, block: bytes) -> Partial | None:
        self.heard_bytes += len(block)
        return Partial(self._partial)

    def finish(self) -> Transcript:
        return Transcript(self._results.pop(0), self.confidence, self.name)

    def reset(self) -> None:
        self.heard_bytes = 0


def loud(seconds: float) -> Samples:
    return np.random.default_rng(4).normal(0, 3000, round(RATE * seconds)).astype(np.int16)


def hush(seconds: float) -> Samples:
    return np.random.default_rng(5).normal(0, 20, round(RATE * seconds)).astype(np.int16)


def test_an_idle_room_never_reaches_the_recogniser() -> None:
    scripted = Scripted("next", "next")
    assert Tape(hush(5)).heard_by(Listener(TwoPass(scripted)), 3.0) is None
    assert scripted.heard_bytes == 0


def test_an_early_answer_comes_before_the_word_has_been_silent_for_long() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Scripted("next", "next"))), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "next"
    assert utterance.seconds < 1.6


class Measured(Scripted):
    """One for which it is known how long a partial must stand in each moment."""

    name = "pocketsphinx"


def test_how_long_a_partial_must_stand_depends_on_the_moment() -> None:
    def answered(moment: str) -> float:
        tape = Tape(np.concatenate([hush(1), loud(2)]))
        utterance = tape.heard_by(Listener(TwoPass(Measured("next", "next"))), 5.0, name=moment)
        assert utterance is not None
        return utterance.seconds

    begun = answered("turn") - 0.1
    assert answered("claim") == pytest.approx(begun + 0.14, abs=0.03)
    assert answered("") == pytest.approx(begun + 0.2, abs=0.03)
    assert answered("ready") == pytest.approx(begun + 0.26, abs=0.03)


class Slow(Scripted):
    """One whose partials never stand long enough, so that only the quiet after the word tells."""

    steady = 9.0


def test_a_word_that_nothing_can_follow_is_answered_at_the_first_quiet() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Slow("next", "next"))), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "next"
    assert utterance.seconds == pytest.approx(1.5 + 0.06, abs=0.03)


@pytest.mark.parametrize(("confidence", "seconds"), [(0.5, 1.5 + 0.3), (0.7, 1.5 + 0.16)])
def test_what_the_partials_missed_is_answered_at_a_pause_where_it_is_sure(confidence: float, seconds: float) -> None:
    scripted = Slow("", "next")
    scripted.confidence = confidence
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(scripted)), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "next"
    assert utterance.seconds == pytest.approx(seconds, abs=0.05)


def test_an_answer_looked_at_in_a_pause_is_heard_anew_when_it_goes_on() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(0.2), loud(0.5), hush(3)]))
    scripted = Slow("go on", "go on", "go on please")
    utterance = tape.heard_by(Listener(TwoPass(scripted)), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "go on please"
    assert scripted.heard_bytes > 2 * len(utterance.samples), "the recogniser was given the beginning again"


def test_the_soft_beginning_of_a_word_is_kept() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Scripted("next", "next"))), 5.0)
    assert utterance is not None
    loud_from = np.flatnonzero(np.abs(utterance.samples.astype(int)) > 1000)[0]
    assert loud_from >= 0.15 * RATE


def test_an_early_answer_that_proves_wrong_is_heard_out() -> None:
    tape = Tape(np.concatenate([hush(1), loud(1.0), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Scripted("next", "", "yes"))), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "yes"
    assert utterance.seconds >= 2.3  # the end of the sound and the silence after it


class Late(Scripted):
    """One whose partials tell of a word only when it has been asked six times."""

    def feed(self, block: bytes) -> Partial | None:
        return Partial(self._partial) if len(self._results) < 5 else None


def test_an_utterance_full_of_gaps_ends_though_in_the_end_it_seems_to_be_a_word() -> None:
    stretches = [part for _ in range(10) for part in (loud(0.1), hush(0.1))]
    tape = Tape(np.concatenate([hush(1), *stretches, loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Late("next", *[""] * 10))), 5.0)
    assert utterance is not None
    assert utterance.heard.text == ""


def test_a_second_pass_gets_the_sound_and_has_the_last_word() -> None:
    class Second:
        name = "second"

        def closed(self, samples: Samples, phrases: object) -> Transcript:
            assert len(samples) > 0.5 * RATE
            return Transcript("yes", 0.9, self.name, (Alternative("next", 0.1),))

        def open(
            self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
        ) -> Transcript:
            raise AssertionError("not asked for")

    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Scripted("next", "next"), Second())), 5.0)
    assert utterance is not None
    assert (utterance.heard.text, utterance.heard.engine) == ("yes", "second")


class Deciding:
    """A second pass that hears what it is told to, one after the other, and the last one again."""

    name = "second"

    def __init__(self, *results: Transcript) -> None:
        self._results = list(results)

    def closed(self, samples: Samples, phrases: object) -> Transcript:
        return self._results.pop(0) if len(self._results) > 1 else self._results[0]

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        raise AssertionError("not asked for")


class AtOnce(Executor):
    """Work that is done as soon as it is given: as if no time passed."""

    def submit(self, work, /, *args, **named):  # type: ignore[no-untyped-def]
        done: Future[Transcript] = Future()
        done.set_result(work(*args, **named))
        return done


class Never(Executor):
    """Work that is not done before somebody waits for it."""

    def submit(self, work, /, *args, **named):  # type: ignore[no-untyped-def]
        class Waiting(Future[Transcript]):
            def result(self, timeout: float | None = None) -> Transcript:
                return work(*args, **named)

        return Waiting()


@pytest.mark.parametrize(("sure", "engine"), [(0.95, "second"), (0.5, "both"), (0.1, "second")])
def test_the_first_look_is_asked_where_the_second_is_in_doubt(sure: float, engine: str) -> None:
    scripted = Slow("", "next")
    scripted.confidence = 0.9
    second = Deciding(Transcript("next", sure, "second"))
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(scripted, second, AtOnce())), 5.0)
    assert utterance is not None
    assert utterance.heard.confidence == (pytest.approx(0.73, abs=0.01) if engine == "both" else sure)


def test_the_second_pass_works_while_it_is_still_quiet() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    heard = Transcript("yes", 0.95, "second")
    seconds = []
    for pool in (AtOnce(), Never()):
        utterance = tape.again().heard_by(Listener(TwoPass(Slow("yes"), Deciding(heard), pool)), 5.0)
        assert utterance is not None
        assert utterance.heard == heard
        seconds.append(utterance.seconds)
    assert seconds == [pytest.approx(1.56, abs=0.03), pytest.approx(2.0, abs=0.1)]


def test_what_the_second_pass_heard_in_a_gap_is_forgotten_when_the_word_goes_on() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.3), hush(0.08), loud(0.3), hush(3)]))
    second = Deciding(Transcript("go on", 0.95, "second"), Transcript("yes", 0.95, "second"))
    utterance = tape.heard_by(Listener(TwoPass(Slow(""), second, AtOnce())), 5.0)
    assert utterance is not None
    assert utterance.heard.text == "yes"


def test_what_may_go_on_is_waited_for_though_only_the_second_pass_heard_it() -> None:
    tape = Tape(np.concatenate([hush(1), loud(0.5), hush(3)]))
    utterance = tape.heard_by(Listener(TwoPass(Slow(""), Deciding(Transcript("go on", 0.95, "second")), AtOnce())), 5.0)
    assert utterance is not None
    assert utterance.seconds == pytest.approx(1.5 + Timing().after_complete, abs=0.05)


@pytest.mark.parametrize("decibels", [0, -12, -24])
def test_a_soft_voice_is_heard_like_a_loud_one(recogniser: Recogniser, speak: Speaker, decibels: int) -> None:
    # Each recogniser brings what it hears to its own level: PocketSphinx up to fifty times louder.
    phrases = ("slow down", "repeat that", "ready")
    room = np.random.default_rng(6).normal(0, 4, 3 * RATE)
    for said in phrases:
        word = speak(said) * 10 ** (decibels / 20)
        sound = room.copy()
        sound[RATE : RATE + len(word)] += word[: 2 * RATE]
        utterance = Tape(sound.astype(np.int16)).heard_by(Listener(TwoPass(recogniser)), 4.0, phrases)
        assert utterance is not None
        assert utterance.heard.text == said


def test_a_microphone_that_gives_nothing_at_all_is_noticed() -> None:
    listener = Listener(TwoPass(Scripted("next", "next")))
    Tape(np.zeros(RATE, np.int16)).heard_by(listener, 1.0)
    assert not listener.signal
    Tape(hush(1)).heard_by(listener, 1.0)
    assert listener.signal
