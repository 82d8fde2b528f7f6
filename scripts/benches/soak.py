"""Lessons by voice one after the other, over the virtual sound card: memory, lost blocks, hangs."""

import faulthandler
import io
import os
import sys
import threading
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from benches import fact, head, on_virtual_card
from benches.talker import Led, Mouth, lesson

MINUTES = 60.0
_HUNG = 90.0  # seconds in which nothing is said and nothing listened for
_TOLD = 40  # the last captions of a lesson that ended early
_PAUSE = 1.0  # seconds after a call: the shortest that lessons have


def soak(arguments: Sequence[str] = ()) -> None:
    """Hold lessons for so many minutes. Memory is that of the coach's process in MB."""
    minutes = float(next((word for word in arguments if word.replace(".", "", 1).isdigit()), MINUTES))
    if not on_virtual_card("soak", arguments):
        return
    from coach.app.captions import Captions
    from coach.app.runtime import Runtime
    from coach.app.voice import open_voice

    head()
    runtime = Runtime()
    shell = open_voice(runtime.seat(), "coach_microphone", "coach_speaker")
    mouth = Mouth()
    beat = [time.monotonic()]
    memory: list[float] = []  # one figure a minute
    threading.Thread(target=_watch, args=(beat, memory), daemon=True).start()
    outcomes: Counter[str] = Counter()
    said = answered = heard = 0
    end = time.monotonic() + 60 * minutes
    while time.monotonic() < end:
        led = Led(shell, mouth, sum(outcomes.values()), beat=beat, until=end)
        told = io.StringIO()
        shell.captions = Captions(told)
        how = lesson(led, pause=_PAUSE)
        outcomes[how] += 1
        said, answered, heard = said + led.said, answered + led.answered, heard + led.heard
        if how != "done" and time.monotonic() < end:
            print("    " + "\n    ".join(told.getvalue().splitlines()[-_TOLD:]), flush=True)
    fact("soak: minutes", f"{minutes:8.1f}")
    fact("soak: lessons by how they ended", dict(outcomes))
    fact("soak: coach's sentences, answers, heard", f"{said:8d} {answered:8d} {heard:8d}")
    samples = memory[:: max(len(memory) // 10, 1)]
    fact("soak: memory in MB as time went on", " ".join(f"{value:.0f}" for value in [*samples, memory[-1]]))
    fact("soak: lost audio blocks (microphone, loudspeaker)", "{:8d} {:8d}".format(*shell.driver.lost_blocks))
    fact("soak: hangs", f"{0:8d}")
    mouth.close()
    shell.close()
    runtime.close()


def _memory() -> float:
    lines = Path("/proc/self/status").read_text().splitlines()
    return float(next(line.split()[1] for line in lines if line.startswith("VmRSS"))) / 1024


def _watch(beat: list[float], memory: list[float]) -> None:
    """Note the memory. A lesson that does nothing for long hangs: tell where, and end."""
    begin = time.monotonic()
    while True:
        if time.monotonic() - begin >= 60 * len(memory):
            memory.append(_memory())
        time.sleep(5)
        if time.monotonic() - beat[0] > _HUNG:
            fact("soak: HUNG", f"nothing happened for {_HUNG:.0f} s")
            faulthandler.dump_traceback(file=sys.stdout)
            os._exit(1)
