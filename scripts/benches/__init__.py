"""One module for each measurement of scripts/bench; here what they share."""

import io
import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from coach.app.runtime import Seat
    from coach.app.voice import VoiceShell
    from coach.sound.local import LocalSound
    from coach.speech.ears.two_pass import TwoPass

ROOT = Path(__file__).resolve().parents[2]
SHARED = Path(os.environ.get("TURNCALLER_SHARED", ROOT.parent / "shared"))


def head() -> None:
    """The first lines of a table: what the machine is doing, and what the columns are."""
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    print(f"{os.cpu_count()} cores, load {load:.1f}")
    print(f"{'':<46} {'median':>8} {'95%':>8} {'worst':>8}      (number)", flush=True)


def row(what: str, values: Sequence[float], unit: str = "ms", aim: str = "") -> None:
    """A line of the table: median, 95th percentile, worst."""
    if not values:
        print(f"{what:<46} nothing measured", flush=True)
        return
    middle, high = np.percentile(values, [50, 95])
    print(f"{what:<46} {middle:8.1f} {high:8.1f} {max(values):8.1f} {unit:<4} ({len(values):3d}) {aim}", flush=True)


def fact(what: str, text: object) -> None:
    """A line of the table that is no distribution."""
    print(f"{what:<46} {text}", flush=True)


def timed(work: Callable[[], object]) -> float:
    """Milliseconds that the work takes."""
    begin = time.perf_counter()
    work()
    return (time.perf_counter() - begin) * 1000


def on_virtual_card(name: str, arguments: Sequence[str]) -> bool:
    """Whether this runs inside a virtual sound card; if not, it has been run once more inside one."""
    if "ALSA_CONFIG_PATH" in os.environ:
        return True
    command = [ROOT / "scripts/virtual_audio", "run", sys.executable, ROOT / "scripts/bench", name, *arguments]
    subprocess.run([*map(str, command)], check=False, stderr=None if "--errors" in arguments else subprocess.DEVNULL)
    return False


def lesson_by_voice(seat: "Seat", sound: "LocalSound", recognition: "TwoPass") -> "VoiceShell":
    """A lesson's shell on these devices, whose captions nobody sees."""
    from coach.app.captions import Captions
    from coach.app.voice import VoiceShell
    from coach.speech.turns.driver import Driver
    from coach.speech.turns.listening import Listener
    from coach.speech.turns.turns import Turns
    from coach.speech.voice.synthesis import Voice

    driver = Driver(Turns(Listener(recognition)), sound.blocks, sound.sink, sound.mend)
    return VoiceShell(seat.language, driver, seat.narrator(Voice()), Captions(io.StringIO()))
