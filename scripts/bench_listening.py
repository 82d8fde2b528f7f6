#!/usr/bin/env python3
"""How well recorded people are heard, as a table: right, wrong and not understood, in quiet and in noise.

scripts/bench_listening.py [FOLDER] [--engine NAME] [--every N]

FOLDER holds MANIFEST.tsv and recordings (default: ../shared/speech). Noise is added so that the recording
is so many dB louder than it, both taken as a whole. NAME: one recogniser alone (default: all that are
here). N: only every Nth recording. In full it takes about half an hour of one core.

The weights of the second look were fitted to recordings of this folder, so on them the table flatters by
about half a point (coach/audio/second_look.py tells what speakers left out of the fit give).
"""

import argparse
import csv
import random
import sys
import time
import zlib
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402

from coach.audio import wav  # noqa: E402
from coach.audio.hearing import Hearing  # noqa: E402
from coach.audio.wav import RATE, Samples  # noqa: E402

TEN = ("yes", "no", "stop", "go", "left", "right", "up", "down", "on", "off")
MOMENT = 12
CONDITIONS = (("clean", "", 0), ("kitchen", "kitchen", 20), ("kitchen", "kitchen", 10),
              ("six talkers", "babble", 20), ("six talkers", "babble", 10))  # fmt: skip


def mixed(sound: Samples, noise: Samples, decibels: float, seed: str) -> Samples:
    """The sound with a piece of the noise, always the same piece for the same seed."""
    at = zlib.crc32(seed.encode()) % max(len(noise) - len(sound), 1)
    signal, other = wav.to_float(sound), wav.to_float(noise[at : at + len(sound)])
    power = np.mean(signal**2) / max(float(np.mean(other**2)), 1e-12)
    return wav.to_int16(signal + other * np.sqrt(power / 10 ** (decibels / 10)))


def moments(words: Sequence[str], said: str, seed: str) -> dict[str, tuple[str, ...]]:
    """Which phrases are open: all, the ten commands, and up to twelve drawn ones."""
    draw = random.Random(seed)
    drawn = draw.sample(list(words), draw.choice((2, 4, 6, 8, 10, MOMENT)))
    if said in words and said not in drawn:
        drawn[0] = said
    return {f"all {len(words)}": tuple(words), "ten commands": TEN, "up to twelve": tuple(drawn)}


def measure(
    rows: Sequence[dict[str, str]], words: Sequence[str], hear: Callable[[dict[str, str], Sequence[str]], str]
) -> str:
    """A line of the table."""
    said: dict[str, list[tuple[bool, bool]]] = {}
    taken: dict[str, list[bool]] = {}
    for row in rows:
        kind = row["path"].split("/")[0]
        for name, phrases in moments(words, row["transcript"], row["path"]).items():
            if kind != "words" or row["transcript"] not in phrases:
                if name == "up to twelve":
                    taken.setdefault("other" if kind == "words" else kind, []).append(bool(hear(row, phrases)))
                continue
            text = hear(row, phrases)
            said.setdefault(name, []).append((text == row["transcript"], text not in ("", row["transcript"])))
    cells = [
        f"{name} {100 * np.mean([r for r, _ in results]):.1f}/{100 * np.mean([w for _, w in results]):.1f}"
        for name, results in said.items()
    ]
    return "  ".join([*cells, *(f"{kind} {sum(results)} of {len(results)}" for kind, results in taken.items())])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT.parent / "shared" / "speech")
    parser.add_argument("--engine")
    parser.add_argument("--every", type=int, default=1)
    options = parser.parse_args()
    if not (options.folder / "MANIFEST.tsv").exists():
        print(f"There are no recordings in {options.folder}: nothing measured.")
        return
    with (options.folder / "MANIFEST.tsv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    words = sorted({row["transcript"] for row in rows if row["path"].startswith("words/")})
    kinds = ("words", "other", "sentences", "quiet")
    rows = [row for row in rows if row["path"].split("/")[0] in kinds][:: options.every]
    hearing = Hearing(options.engine)
    print("right/wrong in %; other speech and background taken for a command")
    for name, noise, decibels in CONDITIONS:
        room = wav.read(options.folder / "noise" / f"{noise}.wav") if noise else None
        times: list[float] = []

        def hear(row: dict[str, str], phrases: Sequence[str], room=room, decibels=decibels, times=times) -> str:
            sound = wav.read(options.folder / row["path"])
            if room is not None and row["path"].startswith("words/"):
                sound = mixed(sound, room, decibels, row["path"])
            begin = time.perf_counter()
            text = hearing.sound(sound, phrases).text
            times.append((time.perf_counter() - begin) * min(1.0, 2 * RATE / len(sound)))
            return text

        line = measure(rows, words, hear)
        label = f"{name} {decibels} dB" if noise else name
        print(f"{label:<18} {line}  {1000 * np.median(times):.0f} ms", flush=True)


if __name__ == "__main__":
    main()
