"""One module for each measurement of scripts/bench; here what they share."""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

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


def listener(second: object) -> object:
    """A listener as lessons have it, with this second pass or, where that is None, with the first pass alone."""
    from concurrent.futures import ThreadPoolExecutor

    from coach.speech.ears import engines
    from coach.speech.ears.two_pass import TwoPass
    from coach.speech.turns.listening import Listener

    return Listener(TwoPass(engines.choose(), second, ThreadPoolExecutor(1)))
