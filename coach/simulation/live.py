"""A lesson between the coach and the robot in the room, as separate processes, over a virtual sound card.

They share nothing but the sound: the coach is the command that learners use. This starts both and shows what they
print.
"""

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from random import Random

import numpy as np

from coach.simulation import robot
from coach.simulation.mouth import LEVEL
from coach.sound import devices
from coach.sound.loudspeaker import Loudspeaker
from coach.speech.errors import AudioError, DeviceError
from coach.speech.signal import wav
from coach.speech.signal.levels import dbfs
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import VOICE_RATE

_CARD = Path(__file__).with_name("virtual_audio")
_COACH = {"TURNCALLER_MICROPHONE": "coach_microphone", "TURNCALLER_LOUDSPEAKER": "coach_speaker"}
_INSIDE = "TURNCALLER_VIRTUAL_CARD"  # set if this runs on a virtual card that it started itself
_PARTING = 20.0  # once one has ended, give the other this many seconds


def hold(step: str, seed: int, pause: float, noise: Path | None = None, snr: float = 15.0) -> int:
    """Hold the lesson and show it; the exit code is 0 if the top of the robot's cube ends up in one colour.

    `pause`: seconds between the calls. `noise`: a recording played continuously at the coach's microphone, `snr` dB
    softer than the robot. Raises AudioError if that fails.
    """
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # so that nobody is left talking
    if not _card_is_there():
        return _on_a_card()
    with _sounding(noise, snr, seed):
        return _both(step, seed, pause)


def _card_is_there() -> bool:
    try:
        ends = (devices.find("input", robot.EARS), devices.find("output", robot.MOUTH))
        return [device.name for device in ends] == [robot.EARS, robot.MOUTH]
    except DeviceError:
        return False


def _on_a_card() -> int:
    """Run the same command again, on a virtual sound card that ends with it."""
    if _INSIDE in os.environ:
        raise DeviceError("The virtual sound card has been started, but its devices are not found.")
    if shutil.which("bash") is None:
        raise DeviceError("The virtual sound card needs bash and PulseAudio, as Linux has them.")
    command = ["bash", str(_CARD), "run", sys.executable, "-m", "coach", *sys.argv[1:]]
    # A process group of its own, so that whatever ends this one early can end all of it.
    card = subprocess.Popen(command, env={**os.environ, _INSIDE: "1"}, process_group=0)
    try:
        return card.wait()
    finally:
        with suppress(ProcessLookupError):
            os.killpg(card.pid, signal.SIGTERM)
        card.wait()


@contextmanager
def _sounding(noise: Path | None, snr: float, seed: int) -> Iterator[None]:
    """Play the noise at the coach's microphone, from a point in the recording that depends on `seed`."""
    if noise is None:
        yield
        return
    rate, samples = wav.read_native(noise)
    sound = resample(wav.to_float(samples), rate, VOICE_RATE) * 10 ** ((LEVEL - snr - dbfs(samples)) / 20)
    sound = np.roll(sound, Random(seed).randrange(len(sound)))
    over = threading.Event()
    with Loudspeaker(robot.MOUTH) as speaker:
        assert isinstance(speaker, Loudspeaker)

        def play() -> None:
            with suppress(AudioError):
                while not over.is_set():
                    speaker.play(wav.to_int16(sound))

        player = threading.Thread(target=play, name="noise", daemon=True)
        player.start()
        try:
            yield
        finally:
            over.set()
            with suppress(AudioError):
                speaker.cut_off()
            player.join(1.0)


def _both(step: str, seed: int, pause: float) -> int:
    with (
        tempfile.TemporaryDirectory() as nobodys,  # keep the user's own settings out: the robot knows only the defaults
        _running(["-m", "coach.simulation.robot", "--seed", str(seed), "--from", step], {}) as learner,
    ):
        assert learner.stdout is not None
        if robot.LISTENING not in map(str.strip, learner.stdout):  # reads on up to that line
            return learner.wait() or 1
        lesson = ["-m", "coach", "lesson", "--from", step, "--pause", str(pause), "--headphones", "no"]
        with _running(lesson, {**_COACH, "XDG_CONFIG_HOME": nobodys}) as coach:
            captions = [_show("Coach", coach), _show("Learner", learner)]
            code = _ended(coach, learner)
        for caption in captions:
            caption.join(1.0)
    return code


@contextmanager
def _running(arguments: Sequence[str], environment: dict[str, str]) -> Iterator[subprocess.Popen[str]]:
    process = subprocess.Popen(
        [sys.executable, *arguments], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=sys.stderr,
        text=True, encoding="utf-8", env={**os.environ, **environment},
    )  # fmt: skip
    try:
        yield process
    finally:
        process.terminate()
        with suppress(subprocess.TimeoutExpired):
            process.wait(5.0)
        process.kill()


def _show(name: str, process: subprocess.Popen[str]) -> threading.Thread:
    """Print its output, each line prefixed with its name."""

    def show() -> None:
        assert process.stdout is not None
        for line in process.stdout:
            text = line.strip()
            if name == "Coach" and text.startswith(">"):
                print(f"  (the coach heard: {text[1:].strip()})", flush=True)
            else:
                print(f"{name}: {text}", flush=True)

    thread = threading.Thread(target=show, name=f"captions of the {name.lower()}", daemon=True)
    thread.start()
    return thread


def _ended(coach: subprocess.Popen[str], learner: subprocess.Popen[str]) -> int:
    """Wait for both; return the learner's exit code, or 1 if the coach has failed."""
    told = coach.wait()
    try:
        code = learner.wait(_PARTING)
    except subprocess.TimeoutExpired:
        print("The learner has not heard the coach take its leave.", file=sys.stderr)
        return 1
    if told:
        print(f"The coach has ended with exit code {told}.", file=sys.stderr)
    return code or told
