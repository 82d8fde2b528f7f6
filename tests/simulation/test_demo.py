"""The recorded demo: a learner on tape, heard as in any lesson, who tells the truth about what they said."""

import os
import signal
import subprocess
import sys
import wave
from pathlib import Path
from random import Random

import numpy as np
import pytest

from coach.dialogue import Ask, Listen, Query, Say
from coach.simulation import Learner, demo, random_cube
from coach.simulation.demo import _Led
from coach.simulation.room import Room, RoomTime
from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.voice.synthesis import Synthesiser
from tests.conftest import ROOT
from tests.loaded import load


def tone(seconds: float) -> Samples:
    """A hum at the rate of synthesised sound."""
    return wav.to_int16(0.1 * np.sin(2 * np.pi * 220 * np.arange(round(seconds * VOICE_RATE)) / VOICE_RATE))


# The room


def test_what_is_said_in_the_room_is_at_the_ear_and_on_the_tape_at_the_same_time() -> None:
    room = Room()
    room.begin(tone(1.0))
    room.take()  # the still moment after it
    room.speak(tone(0.5), after=0.4)
    ear = np.frombuffer(b"".join(room.take() for _ in range(60)), np.int16)
    assert room.seconds == pytest.approx(1.25 + 60 * 0.02, abs=1e-4)
    assert len(room.tape) == round(room.seconds * VOICE_RATE)
    heard = resample(wav.to_float(ear), RATE, VOICE_RATE)
    assert np.abs(heard[: round(0.38 * VOICE_RATE)]).max() < 0.01
    told = wav.to_float(room.tape[round(1.25 * VOICE_RATE) :])
    assert np.abs(heard[: len(told)] - told[: len(heard)]).max() < 0.03  # but for the hum of the room


def test_whoever_is_answered_early_ends_their_word_before_the_coach_speaks() -> None:
    room = Room()
    room.speak(tone(0.5), after=0.0)
    room.take()
    room.begin(np.zeros(100, np.int16))
    assert len(room.tape) == len(tone(0.5)) + 100
    assert all(np.frombuffer(room.take(), np.int16).max() < 200 for _ in range(5))  # nothing is left of it


def test_work_in_the_room_is_ready_when_time_has_passed_there_and_not_done_when_given_up() -> None:
    room, done = Room(), []
    pool = RoomTime(room)
    kept, dropped = pool.submit(lambda: done.append("kept")), pool.submit(lambda: done.append("dropped"))
    assert not kept.done()
    dropped.cancel()
    for _ in range(25):
        room.take()
    assert kept.done()
    kept.result()
    kept.result()
    assert done == ["kept"]


# The learner


def led() -> _Led:
    learner = Learner(random_cube("top-cross", Random(2)), Random(2))
    return _Led(load(), learner)


def doubt(text: str) -> Say:
    return Ask(load().sentences.say("reply.did-you-say", text=text), Query("other", about="heard"))


@pytest.mark.parametrize(
    ("guess", "answer"), [("ready", "yes"), ("okay ready", "yes"), ("repeat that", "no"), ("no", "no"), ("xyz", "no")]
)
def test_asked_whether_they_said_it_the_learner_tells_the_truth(guess: str, answer: str) -> None:
    one = led()
    one.say(Ask("Say ready when you hold it so.", Query("ready")))
    assert "ready" in one.answer(Listen("ready", 8.0))
    one.say(doubt(guess))
    assert one.answer(Listen("claim", 8.0)) == answer


def test_the_question_before_stays_open_while_the_coach_makes_sure() -> None:
    one = led()
    one.say(Ask("Say ready when you hold it so.", Query("ready")))
    one.answer(Listen("ready", 8.0))
    one.say(doubt("repeat that"))
    one.answer(Listen("claim", 8.0))
    assert "ready" in one.answer(Listen("ready", 8.0))


# The lesson on tape


class Deaf:
    """A recogniser that hears the same in whatever is said."""

    name, steady = "deaf", 0.2
    unknown: tuple[str, ...] = ()

    def __init__(self, heard: Transcript) -> None:
        self.heard = heard

    def limit(self, phrases: object) -> None: ...

    def feed(self, block: bytes) -> None: ...

    def finish(self) -> Transcript:
        return self.heard

    def reset(self) -> None: ...

    def forget(self) -> None: ...


def only(monkeypatch: pytest.MonkeyPatch, recogniser: object) -> None:
    """Let nothing else listen."""
    monkeypatch.setattr("coach.speech.ears.engines.choose", lambda name: recogniser)
    monkeypatch.setattr("coach.speech.ears.hearing.second_pass", lambda: None)


def test_a_learner_who_is_never_understood_is_no_success_and_the_transcript_tells(
    synthesiser: Synthesiser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    only(monkeypatch, Deaf(Transcript("", 0.0, "deaf")))
    out = tmp_path / "demo.wav"
    assert demo.record(out, "top-cross", 1) == 1
    captured = capsys.readouterr()
    assert "not solved" in captured.err and "demo.txt" in captured.err and "--seed" in captured.err
    assert "[not understood]" in out.with_suffix(".txt").read_text("utf-8")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["demo.txt", "demo.wav"]


def test_a_coach_that_only_believes_the_cube_to_be_solved_is_no_success(
    synthesiser: Synthesiser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Here the learner holds another cube than the one that the coach is told of."""
    monkeypatch.setattr(demo._Recorded, "listen", demo._Led.listen)
    monkeypatch.setattr(demo, "random_cube", lambda step, random: random_cube("top-edges", random))
    monkeypatch.setattr(Learner, "_holds", lambda self: True)
    monkeypatch.setattr(Learner, "_stickers", lambda self: "green, green, green")
    assert demo.record(tmp_path / "demo.wav", "top-edges", 1) == 1
    assert "not solved" in capsys.readouterr().err


def test_a_lesson_that_does_not_end_is_given_up_in_good_order(
    synthesiser: Synthesiser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    only(monkeypatch, Deaf(Transcript("", 0.0, "deaf")))
    monkeypatch.setattr(demo, "_PATIENCE", 30.0)
    assert demo.record(tmp_path / "demo.wav", "top-cross", 1) == 1
    assert "stopped early" in capsys.readouterr().err
    assert "Let's stop here" in (tmp_path / "demo.txt").read_text("utf-8")


def test_what_was_not_heard_surely_is_asked_about_as_in_any_lesson(
    synthesiser: Synthesiser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    only(monkeypatch, Deaf(Transcript("", 0.3, "deaf", (Alternative("a cross", 0.3), Alternative("a dot", 0.28)))))
    demo.record(tmp_path / "demo.wav", "top-cross", 1)
    transcript = (tmp_path / "demo.txt").read_text("utf-8")
    assert "[heard, not surely: a cross, a dot]" in transcript
    assert "Coach: A yellow cross on top: is that it?" in transcript


def test_a_whole_lesson_by_ear_ends_with_a_solved_cube(synthesiser: Synthesiser, tmp_path: Path) -> None:
    out = tmp_path / "demo.wav"
    assert demo.record(out, "top-edges", 3, pause=1.0) == 0
    with wave.open(str(out), "rb") as recording:
        assert recording.getframerate() == VOICE_RATE
        assert recording.getnframes() > 20 * VOICE_RATE
    assert "Learner: " in out.with_suffix(".txt").read_text("utf-8")


def test_a_lesson_on_tape_is_the_same_each_time(synthesiser: Synthesiser, tmp_path: Path) -> None:
    sounds = []
    for name in ("one", "other"):
        demo.record(tmp_path / f"{name}.wav", "top-edges", 3, pause=1.0)
        sounds.append((tmp_path / f"{name}.txt").read_text("utf-8"))
    assert sounds[0] == sounds[1]


def test_an_interrupted_demo_says_that_nothing_is_kept_and_leaves_what_was_there(
    synthesiser: Synthesiser, tmp_path: Path
) -> None:
    (tmp_path / "demo.wav").write_bytes(b"of yesterday")
    command = [sys.executable, "-m", "coach", "demo", "--from", "bottom-cross", "--out", str(tmp_path / "demo.wav")]
    with subprocess.Popen(command, stderr=subprocess.PIPE, cwd=ROOT, start_new_session=True) as one:
        assert one.stderr
        told = b""
        while b"sentence" not in told:  # it has begun
            told += os.read(one.stderr.fileno(), 1000)
        os.killpg(one.pid, signal.SIGINT)  # as Ctrl-C does
        told += one.stderr.read()
    # Python ends by the signal itself if Ctrl-C came while a library ran code of its own; a shell shows 130 for both.
    assert one.returncode in (130, -signal.SIGINT)
    assert b"The demo was interrupted, and nothing of it is kept" in told
    assert b"Traceback" not in told
    assert [path.name for path in tmp_path.iterdir()] == ["demo.wav"]
    assert (tmp_path / "demo.wav").read_bytes() == b"of yesterday"
