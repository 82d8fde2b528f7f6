#!/usr/bin/env python3
"""How often the coach leads the robot in the room to a top of one colour: lessons over the virtual sound card.

scripts/bench_robot.py [N] [--first SEED] [--noise babble] [--snr 15] [--captions FOLDER]

N: so many lessons with random last layers (default 20), one after the other in real time, 3 to 4 minutes each.
--noise: a recording in ../shared/speech/noise (by its name) or any other (by its path), so many dB softer than
the robot. --captions: what was said in each lesson goes there.
"""

import argparse
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NOISES = Path(os.environ.get("TURNCALLER_SHARED", ROOT.parent / "shared")) / "speech" / "noise"
LONGEST = 15 * 60  # seconds


def lesson(seed: int, arguments: list[str]) -> tuple[bool, str]:
    """Whether the top was of one colour in the end, and all that was said."""
    command = [sys.executable, "-m", "coach", "demo", "--live", "--seed", str(seed), *arguments]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    try:
        said, _ = process.communicate(timeout=LONGEST)
    except subprocess.TimeoutExpired:
        process.terminate()
        said, _ = process.communicate()
        said += "It took too long.\n"
    finally:
        process.terminate()  # where this one is being ended itself
    return process.returncode == 0, said


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("lessons", nargs="?", type=int, default=20, metavar="N")
    parser.add_argument("--first", type=int, default=1, metavar="SEED")
    parser.add_argument("--noise", metavar="NAME")
    parser.add_argument("--snr", type=float, default=15.0, metavar="DB")
    parser.add_argument("--captions", type=Path, metavar="FOLDER")
    args = parser.parse_args()
    arguments: list[str] = []
    if args.noise:
        named = NOISES / f"{args.noise}.wav"
        arguments = ["--noise", str(named if named.exists() else Path(args.noise).resolve()), "--snr", str(args.snr)]
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    led = 0
    for seed in range(args.first, args.first + args.lessons):
        begin = time.monotonic()
        good, said = lesson(seed, arguments)
        led += good
        lines = said.splitlines()
        asked, answers = _count(lines, "Coach: "), _count(lines, "Learner: ")
        print(f"seed {seed:3d}: {'led to the end' if good else 'NOT LED'}, {time.monotonic() - begin:.0f} s, "
              f"{asked} sentences of the coach, {answers} of the robot, "
              f"{said.count('did not get that')} not understood by the coach, "
              f"{said.count('(not understood')} by the robot", flush=True)  # fmt: skip
        if args.captions:
            args.captions.mkdir(parents=True, exist_ok=True)
            (args.captions / f"{seed}.txt").write_text(said, "utf-8")
    where = f"with {args.noise} at {args.snr:g} dB" if args.noise else "in quiet"
    print(f"{led} of {args.lessons} random last layers led by ear to a top of one colour, {where}")
    return int(led < args.lessons)


def _count(lines: list[str], begin: str) -> int:
    return sum(line.startswith(begin) for line in lines)


if __name__ == "__main__":
    sys.exit(main())
