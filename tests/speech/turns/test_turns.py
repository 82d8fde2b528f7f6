"""Whose turn it is, told by blocks of sound and by how much the sink has played. Nothing here takes time."""

from collections.abc import Iterator

import numpy as np
import pytest

from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.ports import Played
from coach.speech.turns.turns import BargeIn, Said, Turns
from tests.speech.turns.test_listening import BLOCK, PHRASES, Scripted, hush, loud

SENTENCE = np.full(VOICE_RATE, 1000, np.int16)  # a second
BREATH = round(0.3 * VOICE_RATE)


def new(*results: str, duplex: bool = False) -> Turns:
    turns = Turns(Listener(TwoPass(Scripted("next", *results))))
    turns.duplex = duplex
    return turns


def blocks(sound: Samples) -> Iterator[bytes]:
    for at in range(0, len(sound) - BLOCK + 1, BLOCK):
        yield sound[at : at + BLOCK].tobytes()


def pass_through(turns: Turns, sound: Samples) -> object:
    """The first result that comes of it."""
    results = (turns.block(block) for block in blocks(sound))
    return next((result for result in results if result is not None), None)


def spoken(turns: Turns, sentences: int = 1) -> Samples:
    """The coach says so many sentences to their end."""
    sound = turns.say([SENTENCE] * sentences)
    assert turns.played(Played(0, over=False)) is None
    assert turns.played(Played(len(sound), over=True)) == Said(sentences, cut_off=False)
    return sound


def test_the_coach_takes_a_breath_between_its_sentences_and_not_before_an_answer() -> None:
    turns = new()
    assert len(spoken(turns, 3)) == 3 * len(SENTENCE) + 2 * BREATH
    turns.listen(Expectation(PHRASES, 1.0))
    assert isinstance(pass_through(turns, hush(2)), Unanswered)
    assert len(spoken(turns)) == len(SENTENCE)


@pytest.mark.parametrize(("passed", "breath"), [(0.0, 0.3), (0.2, 0.1), (1.0, 0.0)])
def test_the_time_since_the_last_word_counts_as_breath(passed: float, breath: float) -> None:
    turns = new()
    spoken(turns)
    pass_through(turns, hush(passed))
    assert len(spoken(turns)) == len(SENTENCE) + round(breath * VOICE_RATE)


def test_half_duplex_hears_neither_the_coach_nor_the_echo_of_its_last_word() -> None:
    turns = new("next")
    turns.say([SENTENCE])
    assert pass_through(turns, loud(1)) is None
    turns.played(Played(VOICE_RATE, over=True))
    turns.listen(Expectation(PHRASES, 1.0))
    assert isinstance(pass_through(turns, np.concatenate([loud(0.24), hush(3)])), Unanswered)


def test_the_learners_time_begins_when_the_echo_has_passed() -> None:
    turns = new("next")
    spoken(turns)
    turns.listen(Expectation(PHRASES, 1.0))
    assert pass_through(turns, hush(1.2)) is None
    assert isinstance(pass_through(turns, hush(0.1)), Unanswered)


def test_who_barges_in_is_heard_from_the_first_sound_and_the_sentences_said_are_counted() -> None:
    turns = new("next", duplex=True)
    pass_through(turns, hush(1))
    turns.say([SENTENCE, SENTENCE, SENTENCE])
    assert pass_through(turns, hush(1)) is None
    word = loud(0.5)
    assert isinstance(pass_through(turns, word[: RATE // 5]), BargeIn)
    in_the_second = len(SENTENCE) + BREATH + 1000
    assert turns.played(Played(in_the_second, over=True, cut_off=True)) == Said(1, cut_off=True)
    turns.listen(Expectation(PHRASES, 1.0))
    heard = pass_through(turns, np.concatenate([word[RATE // 5 :], hush(2)]))
    assert isinstance(heard, Utterance)
    assert len(heard.samples) > 0.5 * RATE


def test_a_sound_that_was_cut_off_after_its_last_sentence_has_been_said() -> None:
    turns = new(duplex=True)
    sound = turns.say([SENTENCE])
    assert turns.played(Played(len(sound), over=True, cut_off=True)) == Said(1, cut_off=False)


@pytest.mark.parametrize(
    ("in_vain", "echoes", "seconds"), [(0, False, 0.0), (1, False, 0.1), (9, False, 0.4), (0, True, 0.2)]
)
def test_who_interrupted_in_vain_must_speak_for_longer(in_vain: int, echoes: bool, seconds: float) -> None:
    def samples_to_barge_in(turns: Turns) -> int:
        pass_through(turns, hush(1))
        turns.say([SENTENCE])
        fed = 0
        for block in blocks(loud(1)):
            fed += BLOCK
            if isinstance(turns.block(block), BargeIn):
                return fed
        raise AssertionError("it was not interrupted")

    turns = new(duplex=True)
    turns.echoes = echoes
    for _ in range(in_vain):
        turns.interrupted(in_vain=True)
    assert samples_to_barge_in(turns) - samples_to_barge_in(new(duplex=True)) == round(seconds * RATE)


def test_who_still_ends_their_last_word_does_not_interrupt() -> None:
    turns = new(duplex=True)
    pass_through(turns, hush(1))
    pass_through(turns, loud(0.3))
    turns.say([SENTENCE])
    assert pass_through(turns, loud(0.5)) is None
    assert pass_through(turns, hush(0.5)) is None
    assert isinstance(pass_through(turns, loud(0.5)), BargeIn)


def test_what_is_left_of_a_turn_goes_on_without_a_moment_of_deafness() -> None:
    turns = new("next", "next")
    turns.listen(Expectation(PHRASES, 2.0))
    assert isinstance(pass_through(turns, np.concatenate([hush(0.5), loud(0.5)])), Utterance)
    assert turns.go_on()
    assert isinstance(pass_through(turns, loud(0.5)), Utterance)


def test_of_a_turn_that_goes_on_the_time_that_has_passed_is_gone() -> None:
    turns = new("next")
    turns.listen(Expectation(PHRASES, 2.0))
    first = pass_through(turns, np.concatenate([hush(0.5), loud(0.5)]))
    assert isinstance(first, Utterance)
    pass_through(turns, hush(0.1))
    assert turns.go_on()
    left = 2.0 - first.seconds
    assert pass_through(turns, hush(left - 0.04)) is None
    assert isinstance(pass_through(turns, hush(0.06)), Unanswered)


def test_a_moment_that_is_nearly_over_is_not_listened_to_again() -> None:
    turns = new("next")
    turns.listen(Expectation(PHRASES, 1.0))
    assert isinstance(pass_through(turns, np.concatenate([hush(0.7), loud(0.5)])), Utterance)
    assert not turns.go_on()
