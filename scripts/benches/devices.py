"""Devices pulled and given back during lessons, over a virtual sound card: does the lesson go on?"""

import contextlib
import io
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from pathlib import Path

from benches import ROOT, fact, head, row
from benches.talker import Led, Mouth, lesson

TIMES = 10
AWAY = 2.0  # seconds
BETWEEN = 12.0  # seconds
_MICROPHONE = ("source_name=coach_microphone", "master=learner_mouth.monitor")


class Card:
    """A sound card of which all can be pulled, or the microphone alone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def plug_in(self) -> None:
        subprocess.run([ROOT / "scripts/virtual_audio", "start", self.folder], check=True, stdout=subprocess.DEVNULL)
        for line in (self.folder / "env").read_text().splitlines():
            if line.startswith("export "):
                name, value = line.removeprefix("export ").split("=", 1)
                os.environ[name] = value

    def pull(self) -> None:
        os.kill(int((self.folder / "pid").read_text()), signal.SIGKILL)
        (self.folder / "pid").unlink()

    def pull_microphone(self) -> None:
        subprocess.run(["pactl", "unload-module", "module-virtual-source"], check=True)

    def plug_in_microphone(self) -> None:
        subprocess.run(["pactl", "load-module", "module-virtual-source", *_MICROPHONE], check=True, capture_output=True)


def devices(arguments: Sequence[str] = ()) -> None:
    """Pull them TIMES times (or so often as said), all and the microphone alone by turns."""
    times = int(arguments[0]) if arguments and arguments[0].isdigit() else TIMES
    head()
    with tempfile.TemporaryDirectory() as folder:
        card = Card(Path(folder))
        card.plug_in()
        try:
            _pull_often(card, times)
        finally:
            with contextlib.suppress(OSError):
                card.pull()


def _pull_often(card: Card, times: int) -> None:
    from coach.app.captions import Captions
    from coach.app.runtime import Runtime
    from coach.app.voice import open_voice

    runtime = Runtime()
    shell = open_voice(runtime.seat(), "coach_microphone", "coach_speaker")
    shell.captions = Captions(io.StringIO())
    mouth = Mouth()
    now: list[Led] = []
    outcomes: list[str] = []
    over = threading.Event()

    def lessons() -> None:
        while not over.is_set():
            now[:] = [Led(shell, mouth, len(outcomes))]
            outcomes.append(lesson(now[0]))

    threading.Thread(target=lessons, daemon=True).start()
    back: list[float] = []
    for number in range(times):
        time.sleep(BETWEEN)
        all_of_it = number % 2 == 0
        (card.pull if all_of_it else card.pull_microphone)()
        time.sleep(AWAY)
        (card.plug_in if all_of_it else card.plug_in_microphone)()
        since, led, before = time.monotonic(), now[0], now[0].said + now[0].heard
        while now[0] is led and led.said + led.heard < before + 2 and time.monotonic() - since < 60:
            time.sleep(0.1)
        if time.monotonic() - since < 60:
            back.append((time.monotonic() - since) * 1000)
    over.set()
    row("devices: given back until the lesson goes on", back)
    fact("devices: pulled; the lesson went on", f"{times:8d} {len(back):8d}")
    fact("devices: lessons ended meanwhile", ", ".join(outcomes) or "none")
    mouth.close()
    sys.stdout.flush()
    card.pull()
    runtime.close()
    os._exit(0)  # the lesson in the other thread has nobody left to talk to
