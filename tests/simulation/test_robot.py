"""The robot in the room: what its ears and mouth do, and a whole lesson by ear over a virtual sound card."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from coach.simulation.mouth import LEVEL, Mouth
from coach.simulation.sentences import SentenceRecogniser
from coach.speech.ears.grammar import END, START, network
from coach.speech.errors import AudioError
from coach.speech.signal import wav
from coach.speech.signal.levels import dbfs, loud_span
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE
from tests.conftest import ROOT, SoundCard, Speaker

SENTENCES = ("right side up", "right side down", "top to the left", "say ready when you hold it so")


def demo(*arguments: str, env: dict[str, str] | None = None, timeout: float = 60) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "coach", "demo", "--live", *arguments]
    return subprocess.run(command, env=env, capture_output=True, text=True, timeout=timeout, check=False, cwd=ROOT)


def test_known_sentences_are_heard_one_after_the_other(speak: Speaker) -> None:
    recogniser = SentenceRecogniser(SENTENCES, gain=0.3)
    spoken = np.concatenate([speak("Top to the left. Say ready when you hold it so."), speak("Right side down.")])
    for _ in range(2):  # nothing stays behind from what was heard before
        for at in range(0, len(spoken), 320):
            recogniser.feed(spoken[at : at + 320].tobytes())
        assert recogniser.finish() == "top to the left say ready when you hold it so right side down"


def test_without_sound_nothing_is_heard() -> None:
    recogniser = SentenceRecogniser(SENTENCES)
    assert recogniser.finish() == ""
    recogniser.feed(bytes(RATE))
    assert recogniser.finish() == ""


@pytest.mark.parametrize("flite", [True, False])
def test_all_that_the_robot_says_is_equally_loud(flite: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where its own synthesiser is not installed and it borrows the coach's, with another voice."""
    if not flite:
        monkeypatch.setattr(shutil, "which", lambda name: None)
    mouth = Mouth()
    try:
        sounds = [mouth.sound(text) for text in ("no", "a corner shape at the front and left")]
    except AudioError as error:
        pytest.skip(f"no synthesiser here: {error}")
    finally:
        mouth.close()
    for sound in sounds:
        loud = dbfs(loud_span(wav.to_int16(resample(wav.to_float(sound), VOICE_RATE, RATE)), 0.0))
        assert loud == pytest.approx(LEVEL, abs=1.0)


def test_the_robot_is_led_by_ear_to_a_top_of_one_colour(sound_card: SoundCard) -> None:
    """The coach is the command itself; all that the two have in common is the sound card."""
    done = demo("--from", "top-face", "--seed", "13", timeout=400)
    assert done.returncode == 0, done.stdout + done.stderr
    lines = done.stdout.splitlines()
    assert lines[-1] == "Learner: The top is one colour."
    assert sum(line.startswith("Coach: ") for line in lines) > 15
    assert any("the coach heard" in line for line in lines)


def test_where_there_is_no_sound_server_it_is_told_what_to_install(tmp_path: Path) -> None:
    if not shutil.which("bash"):
        pytest.skip("no bash here")
    for name in ("bash", "env", "mktemp", "rm", "mkdir", "chmod", "cat"):
        (tmp_path / name).symlink_to(str(shutil.which(name)))
    env = {name: value for name, value in os.environ.items() if not name.startswith(("PULSE", "ALSA"))}
    done = demo(env={**env, "PATH": str(tmp_path)})
    assert done.returncode == 1
    assert "pulseaudio is not installed" in done.stderr
    assert "Traceback" not in done.stderr


def test_noise_that_is_not_there_is_told_before_anybody_speaks(sound_card: SoundCard) -> None:
    done = demo("--noise", "no-such-file.wav")
    assert done.returncode == 1
    assert "There is no file no-such-file.wav" in done.stderr
    assert done.stdout == ""


def test_a_network_shares_endings_and_holds_nothing_but_the_sentences() -> None:
    arcs = network(["right side up", "left side up", "top to the left", "stop", "stop now"])
    said = set()

    def follow(state: int, words: tuple[str, ...]) -> None:
        if state == END:
            said.add(" ".join(words))
            return
        for begin, end, _, *word in arcs:
            if begin == state:
                follow(end, (*words, *map(str, word)))

    follow(START, ())
    assert said == {"right side up", "left side up", "top to the left", "stop", "stop now"}
    assert (END, START, 1.0) in arcs  # another one may follow
    assert len([arc for arc in arcs if "side" in arc]) == 1
