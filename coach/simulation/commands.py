"""`turncaller demo`: a lesson between the coach and a simulated learner."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path
from typing import Final

from coach.app.commands.common import tell

_DEMO: Final = Path("demo.wav")


def demo(args: Namespace) -> int:
    """A whole lesson between the coach and a simulated learner, as a recording and a transcript; or live."""
    if problem := _unfit_for_demo(args):
        tell(problem)
        return 2
    try:
        return _demo(args)
    except KeyboardInterrupt:
        tell("The demo was interrupted, and nothing of it is kept. Run it again to have the whole.")
        return 130


def _demo(args: Namespace) -> int:
    from coach.simulation import live
    from coach.simulation.demo import record
    from coach.speech.errors import AudioError

    try:
        if args.live:
            snr = 15.0 if args.snr is None else args.snr
            return live.hold(args.step, args.seed, args.pause or 1.0, args.noise, snr)
        return record(args.out or _DEMO, args.step, args.seed, args.pause)
    except (AudioError, OSError) as error:
        tell(error)
        return 1


def _unfit_for_demo(args: Namespace) -> str | None:
    """What is wrong with the arguments, and what to do; None if they are fine."""
    if args.live:
        return "A demo in real time is not recorded: leave out --out or --live." if args.out else None
    for name in ("noise", "snr"):
        if getattr(args, name) is not None:
            return f"--{name} is for a demo in real time: add --live, or leave --{name} out."
    out: Path = args.out or _DEMO
    if out.is_dir():
        return f"{out} is a folder. Name a file in it: --out {out / _DEMO}"
    if out.suffix.lower() != ".wav":
        return f"The recording is a WAV file, and {out} does not end in .wav. Say --out {out.with_suffix('.wav')}"
    if not out.parent.is_dir():
        return f"There is no folder {out.parent}. Make it first (mkdir -p {out.parent}), or name another."
    if not os.access(out.parent, os.W_OK):
        return f"Nothing can be written into the folder {out.parent}. Name another: --out FOLDER/{out.name}"
    return None
