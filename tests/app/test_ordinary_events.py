"""A dead microphone, a missing model, a full disk, a killed process are ordinary events: each is told in words,
what can go on goes on, and nobody sees a traceback.

The command runs in a copy of the package, so that models can be taken away and damaged.
"""

from __future__ import annotations

import errno
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from coach.speech.errors import AudioError, SynthesisError
from coach.speech.signal import wav
from coach.speech.signal.wav import VOICE_RATE
from coach.speech.voice.synthesis import Synthesiser

ROOT = Path(__file__).resolve().parents[2]
Run = subprocess.CompletedProcess[str]


class Installed:
    """A copy of the package outside any checkout, without any model, and a recording of silence."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.models = folder, folder / "data" / "turncaller" / "models"
        shutil.copytree(ROOT / "coach", folder / "coach", ignore=shutil.ignore_patterns("__pycache__"))
        wav.write(folder / "a.wav", np.zeros(wav.RATE, np.int16))
        self.environment = os.environ | {
            # Whatever devices this machine has, the lesson does not find its own.
            "TURNCALLER_MICROPHONE": "unplugged",
            "TURNCALLER_LOUDSPEAKER": "unplugged",
            "XDG_CACHE_HOME": str(folder / "cache"),
            "XDG_CONFIG_HOME": str(folder / "config"),
            "XDG_DATA_HOME": str(folder / "data"),
            "PYTHONPATH": str(folder),
        }

    def command(self, *arguments: str) -> list[str]:
        return [sys.executable, "-m", "coach", *arguments]

    def run(self, *arguments: str, typed: str = "", before: Callable[[], None] | None = None) -> Run:
        done = subprocess.run(
            self.command(*arguments), cwd=self.folder, env=self.environment, input=typed, text=True,
            capture_output=True, timeout=120, check=False, preexec_fn=before,
        )  # fmt: skip
        assert "Traceback" not in done.stderr, done.stderr
        return done

    def heard_by(self, *arguments: str) -> str:
        """The engine that listened to the recording."""
        done = self.run("hear", *arguments, "a.wav")
        assert done.returncode == 0, done.stderr
        return str(json.loads(done.stdout)["engine"])


@pytest.fixture
def installed(tmp_path: Path) -> Installed:
    return Installed(tmp_path / "installed")


@pytest.fixture(scope="module")
def a_voice() -> None:
    with Synthesiser() as voice:
        try:
            voice.synthesise("ready")
        except SynthesisError as error:
            pytest.skip(f"no synthesiser here: {error}")


needs_voice = pytest.mark.usefixtures("a_voice")
needs_proc = pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="no /proc on this system")


def no_room() -> None:
    """From now on no file can be written: as on a full disk, except for what is written into pipes."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


# A dead microphone


def test_without_any_device_the_lesson_goes_on_typed(installed: Installed) -> None:
    done = installed.run("lesson", "--from", "top-cross", typed="stop\n")
    assert done.returncode == 0
    assert "No loudspeaker was found" in done.stderr or 'no loudspeaker named "unplugged"' in done.stderr
    assert "typed" in done.stderr
    assert "Let's stop here" in done.stdout


def test_the_soundcheck_says_what_is_not_there_and_what_to_do(installed: Installed) -> None:
    done = installed.run("soundcheck")
    lines = {line[6:18].strip(): line for line in done.stdout.splitlines()}
    if lines["microphones"].startswith("ok") or lines["loudspeakers"].startswith("ok"):
        pytest.skip("this machine has sound devices")
    for about in ("microphones", "loudspeakers", "microphone", "loudspeaker"):
        assert lines[about].startswith("look")
        assert "Plug one in" in lines[about]
    assert done.returncode == 1
    assert done.stdout.endswith("Without sound: turncaller lesson --typed\n")


def test_with_a_broken_configuration_of_sound_the_lesson_goes_on_typed(installed: Installed) -> None:
    broken = installed.folder / "alsa.conf"
    broken.write_text("pcm.default { type hw card {{{\n")
    installed.environment["ALSA_CONFIG_PATH"] = str(broken)
    done = installed.run("lesson", "--from", "top-cross", typed="stop\n")
    assert done.returncode == 0
    assert "typed" in done.stderr
    assert "Let's stop here" in done.stdout


# A missing model


def test_without_any_model_the_embedded_one_listens(installed: Installed) -> None:
    assert installed.heard_by() == "pocketsphinx"


def test_a_phrase_that_no_recogniser_here_can_hear_is_told(installed: Installed) -> None:
    (installed.folder / "phrases.txt").write_text("stop\nfrobnicate it\n", "utf-8")
    done = installed.run("hear", "--phrases", "phrases.txt", "a.wav", "a.wav")
    assert done.stderr.count("frobnicate it") == 1
    assert len(done.stdout.splitlines()) == 2


@pytest.mark.parametrize("engine", ["vosk", "whisper-tiny.en"])
def test_who_asks_for_a_model_that_is_not_there_is_told_how_to_get_it(installed: Installed, engine: str) -> None:
    done = installed.run("hear", "--engine", engine, "a.wav")
    assert done.returncode == 1
    assert "python -m coach.app.fetch_models" in done.stderr
    assert done.stdout == ""


def test_damaged_models_are_not_used_and_the_embedded_one_listens(installed: Installed) -> None:
    for name in ("whisper-tiny.en", "vosk-model-small-en-us-0.15"):
        for file in ("model.bin", "config.json", "tokenizer.json", "vocabulary.txt", "am/final.mdl"):
            path = installed.models / name / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(b"damaged")
    assert installed.heard_by() == "pocketsphinx"
    done = installed.run("hear", "--engine", "whisper-tiny.en", "a.wav")
    assert done.returncode == 1
    assert "SHA-256" in done.stderr
    assert "python -m coach.app.fetch_models whisper-tiny.en" in done.stderr


def test_without_a_list_of_models_the_embedded_one_listens(installed: Installed) -> None:
    (installed.folder / "coach" / "speech" / "models.toml").unlink()
    assert installed.heard_by() == "pocketsphinx"


def test_where_even_the_embedded_model_is_gone_it_says_what_to_do(installed: Installed) -> None:
    installed.environment["POCKETSPHINX_PATH"] = str(installed.folder / "nowhere")
    done = installed.run("hear", "a.wav")
    assert done.returncode == 1
    assert "scripts/setup" in done.stderr


# A full disk


def test_a_demo_on_a_full_disk_says_so(installed: Installed) -> None:
    done = installed.run("demo", "--out", "demo.wav", before=no_room)
    assert done.returncode == 1
    assert "Free some space" in done.stderr


@needs_voice
def test_a_disk_that_is_full_in_the_middle_of_a_lesson_is_told_and_not_taken_for_a_missing_voice(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def full(path: Path, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    with Synthesiser() as voice:
        voice.synthesise("ready")
        voice._worker = lambda _: Killed()  # type: ignore[method-assign, assignment, return-value]
        monkeypatch.setattr(Path, "write_bytes", full)
        with pytest.raises(SynthesisError, match=r"No space left on device.*Free some space"):
            voice.synthesise("a line from left to right")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full on this system")
def test_a_recording_that_has_no_room_is_named(tmp_path: Path) -> None:
    (tmp_path / "demo.wav").symlink_to("/dev/full")
    with pytest.raises(AudioError, match=r"demo\.wav cannot be written: No space left"):
        wav.write(tmp_path / "demo.wav", np.zeros(wav.RATE, np.int16))


def test_a_lesson_on_a_full_disk_goes_on_typed_and_without_its_log(installed: Installed) -> None:
    done = installed.run("lesson", "--from", "top-cross", "--log", "log", typed="stop\n", before=no_room)
    assert done.returncode == 0
    assert "log cannot be written" in done.stderr
    assert "Let's stop here" in done.stdout


def test_recordings_are_heard_on_a_full_disk(installed: Installed) -> None:
    done = installed.run("hear", "a.wav", before=no_room)
    assert done.returncode == 0
    assert json.loads(done.stdout)["text"] == ""


# A killed process


def children(process: int) -> list[int]:
    """The processes that it has started and that still run."""
    try:
        return [int(one) for one in Path(f"/proc/{process}/task/{process}/children").read_text().split()]
    except OSError:
        return []


def wait_for_child(process: int, besides: set[int]) -> int:
    """Its next child; 0 when it ends without one."""
    until = time.monotonic() + 30
    while time.monotonic() < until and Path(f"/proc/{process}").exists():
        if found := [child for child in children(process) if child not in besides]:
            return found[0]
        time.sleep(0.02)
    return 0


@needs_voice
def test_a_voice_that_is_killed_while_it_speaks_says_the_sentence_all_the_same() -> None:
    with Synthesiser() as voice:
        for number in range(3):
            voice.synthesise(f"number {number}")  # its process runs
            (worker,) = voice._workers.values()
            killer = threading.Timer(0.003, worker._process.kill)
            killer.start()
            sound = voice.synthesise(f"number {number}, " + "and turn the right side up, " * 20)
            killer.join()
            assert len(sound) > VOICE_RATE  # the whole of it, not a second of it
            assert worker._process.wait() == -signal.SIGKILL


@needs_voice
def test_a_voice_that_is_killed_at_every_try_is_told_in_words() -> None:
    with Synthesiser() as voice:
        voice.synthesise("ready")
        voice._worker = lambda _: Killed()  # type: ignore[method-assign, assignment, return-value]
        with pytest.raises(SynthesisError, match="The coach cannot speak: the speech process has ended"):
            voice.synthesise("a line from left to right")


class Killed:
    """A speech process that somebody kills at every request."""

    def ask(self, request: dict[str, object]) -> dict[str, object]:
        from coach.speech.voice.synthesis import _WorkerLostError

        raise _WorkerLostError("the speech process has ended")

    def stop(self) -> None:
        pass


@needs_proc
@needs_voice
def test_when_the_coach_is_killed_its_voice_ends_too(installed: Installed) -> None:
    with subprocess.Popen(
        installed.command("demo", "--out", "demo.wav"), cwd=installed.folder, env=installed.environment,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    ) as demo:  # fmt: skip
        voice = wait_for_child(demo.pid, set())
        demo.kill()
    until = time.monotonic() + 10
    while Path(f"/proc/{voice}").exists() and time.monotonic() < until:
        time.sleep(0.05)
    assert voice
    assert not Path(f"/proc/{voice}").exists()


@needs_proc
def test_the_log_of_a_killed_lesson_tells_where_it_was(installed: Installed) -> None:
    with subprocess.Popen(
        installed.command("lesson", "--typed", "--from", "top-cross", "--log", "log"), cwd=installed.folder,
        env=installed.environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as lesson:  # fmt: skip
        assert lesson.stdin
        assert lesson.stdout
        while "edges on top" not in lesson.stdout.readline():
            pass
        lesson.kill()
    events = [json.loads(line) for line in (installed.folder / "log").read_text("utf-8").splitlines()]
    assert events[0]["step"] == "top-cross"
    assert any(event.get("asks") == "look-top-edges" for event in events)
    again = installed.run("lesson", "--typed", "--from", events[0]["step"], typed="stop\n")
    assert again.returncode == 0
