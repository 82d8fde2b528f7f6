"""The stopwatch as it is used: by voice, where the sound tells the time, and typed, by the command line."""

from __future__ import annotations

import io
import itertools
import json
import subprocess
import sys
from io import BytesIO, StringIO
from pathlib import Path

import numpy as np
import pytest

from coach.app.captions import Captions
from coach.app.session import run
from coach.app.typed import TypedShell
from coach.app.voice import VoiceShell
from coach.cube import parse
from coach.dialogue import Act, Event, Listen, Timed
from coach.dialogue.stopwatch import Stopwatch
from coach.method import default_method
from coach.records.log import SessionLog
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.wav import RATE, Samples
from coach.speech.turns.driver import Driver
from coach.speech.turns.listening import Listener
from coach.speech.turns.ports import Played
from coach.speech.turns.turns import Turns
from tests.conftest import Speaker
from tests.loaded import load

BLOCK = RATE // 50
SPOKEN = 30  # blocks that a sentence of the coach takes


class LivingRoom:
    """A room in which time passes block by block, also while the coach speaks. What is said into it begins at a sample
    that is known."""

    lost_blocks = 0

    def __init__(self) -> None:
        self.at = 0
        self._coming: dict[int, Samples] = {}
        self._over_at = 0
        self._hum = np.random.default_rng(1)

    def speak(self, sound: Samples, after: float) -> int:
        """Somebody says this so many seconds from now; the sample at which it begins."""
        loud = np.flatnonzero(np.abs(sound.astype(int)) >= np.abs(sound.astype(int)).max() / 100)
        begins = self.at + round(after * RATE)
        self._coming[begins] = sound[loud[0] :]
        return begins

    # The blocks, and the sink

    def take(self) -> bytes:
        block = self._hum.normal(0, 20, BLOCK)
        for begins, sound in self._coming.items():
            first, last = max(self.at, begins), min(self.at + BLOCK, begins + len(sound))
            if first < last:
                block[first - self.at : last - self.at] += sound[first - begins : last - begins]
        self.at += BLOCK
        return block.astype(np.int16).tobytes()

    def waiting(self) -> None:
        pass

    def begin(self, samples: Samples) -> None:
        self._over_at = self.at + SPOKEN * BLOCK

    @property
    def played(self) -> Played:
        return Played(0, over=self.at >= self._over_at)

    def cut_off(self) -> None:
        self._over_at = self.at

    def adjust(self, steps: int) -> None:
        pass

    # The coach's voice, which need not be heard

    def synthesise(self, text: str) -> Samples:
        return np.zeros(100, np.int16)


class Speaking(VoiceShell):
    """A learner speaks when the coach listens: what is said about what, and after how many seconds."""

    def __init__(
        self, room: LivingRoom, recogniser: PocketSphinx, said: dict[str, list[tuple[Samples, float]]]
    ) -> None:
        driver = Driver(Turns(Listener(TwoPass(recogniser))), room, room)  # type: ignore[arg-type]
        super().__init__(load(), driver, room, Captions(io.StringIO()))  # type: ignore[arg-type]
        self.room, self._said = room, said
        self.begun: dict[str, list[int]] = {}

    def listen(self, listen: Listen) -> Event | None:
        about = listen.scene.about or listen.asked
        if about in self._said:
            for sound, after in self._said.pop(about):
                self.begun.setdefault(about, []).append(self.room.speak(sound, after))
        return super().listen(listen)


def _watch() -> Stopwatch:
    return Stopwatch(default_method(), load().sentences, itertools.repeat(parse("R U")))


def test_by_voice_the_time_is_that_between_the_beginnings_of_the_two_words(
    speak: Speaker, recogniser: PocketSphinx
) -> None:
    noise = np.random.default_rng(5).normal(0, 1, RATE // 2) * np.hanning(RATE // 2)
    sneeze = np.asarray(noise * 8000, np.int16)
    room = LivingRoom()
    shell = Speaking(room, recogniser, {
        "scramble": [(speak("i have scrambled it"), 1.0)],
        "ready": [(speak("i am ready"), 1.0)],
        "inspection": [(speak("start"), 5.0)],
        "solve": [(sneeze, 6.0), (speak("stop"), 12.3)],
        "stopped": [(speak("yes it is"), 1.0)],  # where "stop" was not surely heard
        "another": [(speak("no thank you"), 1.0)],
    })  # fmt: skip
    noted: list[Act] = []
    end = run(_watch(), shell, SessionLog(None), noted=noted.append)
    assert end.outcome == "done"
    (timed,) = [act for act in noted if isinstance(act, Timed)]
    start, stop = shell.begun["inspection"][0], shell.begun["solve"][1]
    assert abs(timed.centiseconds / 100 - (stop - start) / RATE) < 0.05
    assert timed.penalty == ""


def test_by_voice_the_inspection_runs_on_while_the_coach_says_eight_and_twelve(
    speak: Speaker, recogniser: PocketSphinx
) -> None:
    room = LivingRoom()
    shell = Speaking(room, recogniser, {
        "scramble": [(speak("i have scrambled it"), 1.0)],
        "ready": [(speak("i am ready"), 1.0)],
        "inspection": [(speak("start"), 15.5)],
        "solve": [(speak("stop"), 3.0)],
        "stopped": [(speak("yes it is"), 1.0)],
        "another": [(speak("no thank you"), 1.0)],
    })  # fmt: skip
    noted: list[Act] = []
    run(_watch(), shell, SessionLog(None), noted=noted.append)
    (timed,) = [act for act in noted if isinstance(act, Timed)]
    assert timed.penalty == "+2"  # A4d1


def test_typed_the_clock_is_that_of_the_lines() -> None:
    ticks = itertools.count()  # two answers need no time
    clock = iter([10.0, 13.0, 13.0, 54.326])  # the inspection, then the solve: when it listened and when a line came
    shell = TypedShell(
        load(), BytesIO(b"i have scrambled it\nready\nstart\nstop\nno\n"), StringIO(),
        lambda: next(clock) if 2 <= next(ticks) < 6 else 0.0,
    )  # fmt: skip
    noted: list[Act] = []
    run(_watch(), shell, SessionLog(None), noted=noted.append)
    assert [act for act in noted if isinstance(act, Timed)] == [Timed(4132, "", "")]


# The command


@pytest.fixture(autouse=True)
def _own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("CONFIG", "DATA"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))


def _run(*arguments: str, said: str = "") -> tuple[int, str, str]:
    command = [sys.executable, "-m", "coach", *arguments]
    done = subprocess.run(command, input=said.encode(), capture_output=True, timeout=60, check=False)
    out, errors = done.stdout.decode(), done.stderr.decode()
    assert "Traceback" not in errors, errors
    return done.returncode, out, errors


SOLVE = "i have scrambled it\nready\nstart\nstop\n"


def test_the_times_of_a_learner_are_kept_and_shown(tmp_path: Path) -> None:
    log = tmp_path / "log.jsonl"
    solves = f"{SOLVE}yes\n{SOLVE}it is not solved\nno\n"
    code, out, errors = _run("stopwatch", "--typed", "--learner", "Ada", "--log", str(log), said=solves)
    assert code == 0 and not errors and out.count("Another one?") == 3
    events = [json.loads(line) for line in log.read_text("utf-8").splitlines()]
    attempts = [event for event in events if event["event"] == "attempt"]
    assert [(each["penalty"], each["judged"]) for each in attempts] == [("", False), ("", False), ("DNF", True)]
    code, out, _ = _run("progress", "--learner", "ada")
    assert code == 0 and "2 timed solves, the best 0." in out
    code, out, _ = _run("stopwatch", "--typed", "--learner", "ada", said=f"{SOLVE}how am I doing\nno\n")
    assert "Your best is 0." in out and "For an average I need five." in out


def test_without_a_nickname_nothing_is_kept_and_that_is_told(tmp_path: Path) -> None:
    code, out, errors = _run("stopwatch", "--typed", said=f"{SOLVE}no\n")
    assert code == 0 and "not kept" in errors and "That's it for today." in out
    assert not (tmp_path / "data" / "turncaller").exists()


def test_input_that_ends_in_a_solve_ends_the_session_in_good_order() -> None:
    code, out, _ = _run("stopwatch", "--typed", "--learner", "Ada", said="i have scrambled it\nready\nstart\n")
    assert code == 0 and out.splitlines()[-1] == "Let's stop here."
    assert _run("progress", "--learner", "Ada")[0] == 1, "nothing was finished, so nothing is kept"
