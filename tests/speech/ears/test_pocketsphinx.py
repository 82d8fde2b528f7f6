"""The embedded recogniser on real sound: synthesised phrases, silence, noise, recorded speech."""

from itertools import pairwise

import numpy as np
import pytest

from coach.app.hearing import Hearing
from coach.speech.ears.grammar import jsgf
from coach.speech.ears.hearing import hear
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.ears.recogniser import tidy
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal import wav
from coach.speech.signal.wav import RATE, Samples
from tests.loaded import load

PHRASES = (
    "a line from left to right",
    "the dot",
    "a corner at the back",
    "repeat that",
    "go on please",
    "yes",
    "no",
)


@pytest.mark.parametrize("phrase", PHRASES[:5])
def test_a_clearly_spoken_phrase_is_heard(recogniser, speak, phrase: str) -> None:
    heard = hear(recogniser, speak(phrase), PHRASES)
    assert heard.text == phrase
    assert 0 < heard.confidence <= 1
    assert heard.engine == "pocketsphinx"


@pytest.mark.parametrize(("gain", "loudness"), [(0.02, "very soft"), (1.0, "loud")])
def test_loudness_does_not_matter(recogniser, speak, gain: float, loudness: str) -> None:
    samples = (speak("a line from left to right") * gain).astype(np.int16)
    assert hear(recogniser, samples, PHRASES).text == "a line from left to right", loudness


def test_what_can_be_heard_changes_with_the_moment(recogniser, speak) -> None:
    assert hear(recogniser, speak("repeat that"), ("repeat that", "the dot")).text == "repeat that"
    assert hear(recogniser, speak("repeat that"), ("the dot", "a corner at the back")).text != "repeat that"


def noise(seconds: float, level: float) -> Samples:
    return np.random.default_rng(6).normal(0, level, round(seconds * RATE)).astype(np.int16)


@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(0, np.int16),
        np.zeros(1, np.int16),
        np.zeros(2 * RATE, np.int16),
        noise(2, 10),
        noise(2, 3000),
        np.full(RATE, 32767, np.int16),
        np.tile(np.array([32767, -32768], np.int16), RATE // 2),
    ],
    ids=["empty", "one sample", "zeros", "soft noise", "loud noise", "constant", "full-scale square"],
)
def test_what_is_no_speech_is_nothing_useful(recogniser, samples: Samples) -> None:
    assert hear(recogniser, samples, PHRASES).text == ""


def test_nothing_can_be_heard_when_nothing_may_be_said(recogniser, speak) -> None:
    assert hear(recogniser, speak("yes"), ()).text == ""


def test_words_without_a_pronunciation_are_left_out_and_named(recogniser, speak) -> None:
    heard = hear(recogniser, speak("a line from left to right"), (*PHRASES, "say xyzzyq now"))
    assert recogniser.unknown == ("say xyzzyq now",)
    assert heard.text == "a line from left to right"


def test_compounds_are_pronounced_by_their_parts(recogniser, speak) -> None:
    recogniser.limit(("front anticlockwise", "back clockwise", "the dot"))
    assert recogniser.unknown == ()
    (best, _), _ = recogniser.examine(speak("front anti clockwise"))
    assert best == "front anticlockwise"


def test_partials_come_while_the_words_are_spoken(recogniser, speak) -> None:
    samples = speak("a line from left to right")
    recogniser.limit(PHRASES)
    partials = [recogniser.feed(samples[at : at + 320].tobytes()) for at in range(0, len(samples), 320)]
    texts = [partial.text for partial in partials if partial]
    assert "a line from left to right" in texts
    assert all(one != two for one, two in pairwise(texts))


def test_a_forgotten_utterance_leaves_no_trace(recogniser, speak) -> None:
    recogniser.limit(PHRASES)
    recogniser.feed(speak("the dot").tobytes())
    recogniser.reset()
    assert recogniser.finish().text == ""


def test_phrases_that_could_mean_something_else_in_a_grammar_are_left_out() -> None:
    wanted = ("Yes", " go  on ", "a;b", "<x>", "no", "yes", "", "that\u2019s it", "{tag}", "'", "r2")
    assert tidy(wanted) == ("yes", "go on", "no", "that's it")


def test_the_grammar_shares_beginnings_and_marks_where_a_phrase_may_end() -> None:
    assert jsgf(("go", "go on", "stop")).endswith("public <phrase> = (go [on] | stop);")


def test_hundreds_of_moments_do_not_pile_up(recogniser, speak) -> None:
    for number in range(230):
        recogniser.limit(("yes", "no") + ("the dot",) * (number % 2) + tuple(["left", "right"][: number % 3]))
        recogniser.feed(noise(0.05, 500).tobytes())
    assert hear(recogniser, speak("repeat that"), PHRASES).text == "repeat that"


def test_recorded_commands_are_mostly_right_and_rarely_wrong(recogniser: PocketSphinx, recordings) -> None:
    # Real people on ordinary devices. The bounds are loose: scripts/calibrate measures properly.
    phrases = ("left", "right", "up", "down", "go", "stop")
    right = wrong = total = 0
    for word in phrases:
        for path in sorted((recordings / "words").glob(f"{word}_*.wav"))[:8]:
            text = hear(recogniser, wav.read(path), phrases).text
            total += 1
            right += text == word
            wrong += text not in ("", word)
    assert total >= 40
    assert right >= 0.75 * total
    assert wrong <= 0.15 * total


@pytest.mark.parametrize(("folder", "share"), [("sentences", 0.1), ("quiet", 0.1)])
def test_talk_and_background_are_not_commands(recogniser, recordings, folder: str, share: float) -> None:
    paths = sorted((recordings / folder).glob("*.wav"))[:20]
    taken = sum(
        hear(recogniser, wav.read(path), ("yes", "no", "next", "repeat", "stop")).text != "" for path in paths
    )
    assert taken <= share * len(paths)


def test_hearing_a_file_is_repeatable(speak, tmp_path) -> None:
    wav.write(tmp_path / "a.wav", speak("a corner at the back"))
    first, second = (Hearing(TwoPass(PocketSphinx()), load()).file(tmp_path / "a.wav", PHRASES) for _ in range(2))
    assert first == second
    assert first.text == "a corner at the back"
