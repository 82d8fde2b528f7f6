"""The coach's voice: the sound of any text, from a child process that may die, hang or be missing."""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

from coach.speech.errors import SynthesisError
from coach.speech.signal.wav import VOICE_RATE
from coach.speech.voice import synthesis
from coach.speech.voice.synthesis import Narrator, Synthesiser, Voice, trim


def test_words_make_sound_of_a_fitting_length(synthesiser: Synthesiser) -> None:
    short, long = (
        synthesiser.synthesise(text)
        for text in ("right", "turn the whole cube so that the right side comes to the front")
    )
    assert short.dtype == np.int16
    assert np.abs(short.astype(int)).max() > 3000
    assert 0.2 < len(short) / VOICE_RATE < 1.5
    assert len(long) > 3 * len(short)


def test_twelve_words_take_about_as_long_as_the_rate_says(synthesiser: Synthesiser) -> None:
    text = "the line on top has to run from the left to the right"
    seconds = len(synthesiser.synthesise(text, Voice(rate=135))) / VOICE_RATE
    assert 12 / 135 * 60 * 0.5 < seconds < 13 / 135 * 60 * 1.5
    assert len(synthesiser.synthesise(text, Voice(rate=260))) < 0.7 * seconds * VOICE_RATE


def test_every_process_speaks_at_the_rate_it_was_told_also_when_many_start_at_once() -> None:
    def spoken(_: int) -> int:
        with Synthesiser(Voice(rate=110)) as one:
            return len(one.synthesise("turn the right layer up"))

    with ThreadPoolExecutor(8) as pool:
        assert len(set(pool.map(spoken, range(60)))) == 1


@pytest.mark.parametrize("text", ["", "   ", "...", "?!", "\n"])
def test_nothing_to_pronounce_is_no_sound(synthesiser: Synthesiser, text: str) -> None:
    assert len(synthesiser.synthesise(text)) == 0


@pytest.mark.parametrize(
    "text",
    [
        "caf\u00e9 \u2014 \u201cna\u00efve\u201d",
        "<speak>tag & more</speak>",
        "R' U2 \U0001f642",
        "a" * 300,
        "5 %s {0}",
    ],
)
def test_odd_characters_are_spoken_or_skipped(synthesiser: Synthesiser, text: str) -> None:
    assert len(synthesiser.synthesise(text)) > 0


def test_a_long_text_and_a_short_one_after_it_are_not_mixed_up(synthesiser: Synthesiser) -> None:
    lengths = {}
    for number in range(6):
        for text in ("dot", f"look at the four edges on top, what do they show, number {number}"):
            lengths.setdefault(text[:3], []).append(
                len(synthesiser.synthesise(text, Voice(pitch=40 + number)))
            )
    assert max(lengths["dot"]) < min(lengths["loo"])


def test_voices_differ_and_an_unknown_one_is_named(synthesiser: Synthesiser) -> None:
    low, high = (synthesiser.synthesise("left side down", Voice(name)) for name in ("en-us", "en-us+f3"))
    assert len(low) != len(high) or (low != high).any()
    with pytest.raises(SynthesisError, match="nobody-at-all"):
        synthesiser.synthesise("hello", Voice("nobody-at-all"))
    assert len(synthesiser.synthesise("and on it goes")) > 0


@pytest.mark.parametrize(
    "wrong", [{"rate": 20}, {"rate": 900}, {"pitch": 101}, {"volume": 0}, {"volume": 1.5}]
)
def test_a_voice_that_cannot_be_made_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(SynthesisError, match="cannot be made"):
        Voice(**wrong)  # type: ignore[arg-type]


def test_the_same_words_are_made_once(synthesiser: Synthesiser) -> None:
    assert synthesiser.synthesise("top to the left") is synthesiser.synthesise(" top to  the left ")


def test_a_dead_speech_process_is_replaced(synthesiser: Synthesiser) -> None:
    synthesiser.synthesise("before")
    for worker in synthesiser._workers.values():
        worker._process.kill()
    assert len(synthesiser.synthesise("after the end of it")) > 0


def test_what_is_made_ahead_is_there_when_it_is_needed(synthesiser: Synthesiser, monkeypatch) -> None:
    made = []
    speak = synthesiser._speak
    monkeypatch.setattr(synthesiser, "_speak", lambda voice, text: made.append(text) or speak(voice, text))
    with ThreadPoolExecutor(1) as work:
        narrator = Narrator(synthesiser, synthesiser.voice, work)
        narrator.prefetch(["made ahead one", "made ahead two"])
        assert len(narrator.synthesise("made ahead two")) > 0
    assert len(synthesiser.synthesise("made ahead one")) > 0
    assert sorted(made) == ["made ahead one", "made ahead two"]


def worker_that(monkeypatch: pytest.MonkeyPatch, tmp_path, code: str) -> None:
    """Put another program in the place of the speech process."""
    program = tmp_path / "worker"
    program.write_text(f"#!/bin/sh\n{code}\n")
    program.chmod(0o755)
    monkeypatch.setattr(synthesis.sys, "executable", str(program))


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ('echo \'{"error": "no speech synthesiser (libespeak-ng.so.1)"}\'', "Install espeak-ng"),
        ("exit 1", "has ended"),
        ("echo '{\"ok\": true}'; read x; exit 0", "has ended"),
        ("echo '{\"ok\": true}'; sleep 60", "does not answer"),
        ("sleep 60", "does not answer"),
    ],
    ids=["no synthesiser", "ends at once", "ends when asked", "hangs when asked", "hangs at once"],
)
def test_without_a_working_synthesiser_the_reason_is_told(
    monkeypatch, tmp_path, code: str, says: str
) -> None:
    monkeypatch.setattr(synthesis, "_START_SECONDS", 0.5)
    monkeypatch.setattr(synthesis, "_PHRASE_SECONDS", 0.3)
    worker_that(monkeypatch, tmp_path, code)
    with Synthesiser() as voice, pytest.raises(SynthesisError, match=says):
        voice.synthesise("hello")


def test_nothing_is_left_behind(tmp_path, monkeypatch) -> None:
    monkeypatch.setattr(synthesis.tempfile, "tempdir", str(tmp_path))
    with Synthesiser() as voice:
        voice.synthesise("hello")
        processes = [worker._process for worker in voice._workers.values()]
    assert list(tmp_path.iterdir()) == []
    assert len(processes) == 1
    assert processes[0].poll() is not None


def test_no_silence_keeps_the_learner_from_answering(synthesiser: Synthesiser) -> None:
    sound = np.abs(synthesiser.synthesise("right side up").astype(int))
    loud = np.flatnonzero(sound > 0.02 * sound.max())
    assert loud[0] < 0.05 * VOICE_RATE
    assert len(sound) - loud[-1] < 0.1 * VOICE_RATE


def test_only_the_silence_around_the_words_is_cut() -> None:
    word = np.full(2000, 3000, np.int16)
    gap = np.zeros(8000, np.int16)
    cut = trim(np.concatenate([gap, word, gap, word, gap]))
    assert len(cut) == pytest.approx(12_000, abs=1000)
    assert np.count_nonzero(cut) == 4000
    assert len(trim(gap)) == 0
