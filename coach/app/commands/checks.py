"""`turncaller soundcheck` and `turncaller method`: whether all is ready for a lesson."""

from __future__ import annotations

from argparse import Namespace

from coach.app.commands.common import chosen_method
from coach.language import QUESTIONS, load
from coach.method.report import report


def soundcheck(args: Namespace) -> int:
    """Devices, level, noise, models, voices; the exit code is 1 where no lesson by voice is possible."""
    from coach.sound.soundcheck import report as sound_report

    possible = True
    language = load()
    for line in sound_report([language.phrases(asked) for asked in QUESTIONS]):
        print(line, flush=True)
        possible = possible and not line.prevents
    if not possible:
        print("So no lesson by voice is possible yet. Without sound: turncaller lesson --typed")
    return 0 if possible else 1


def method(args: Namespace) -> int:
    """Prove a method and show its cases."""
    chosen = chosen_method(args.file)
    if chosen is None:
        return 1
    print(report(chosen))
    return 0
