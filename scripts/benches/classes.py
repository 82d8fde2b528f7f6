"""Classes of another make, led in unison: how long it takes, who is sent to their own coach, who is lost."""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from benches import fact, row

if TYPE_CHECKING:
    from tests.people.class_lesson import ClassHeld

AIM_RUNS, AIM_COUNTS, AIM_SENT = 5, 12, 0.2
A_COUNT, A_RUN, A_TURN = 12.0, 25.0, 3.0
"""Seconds that a count takes, and saying a run and getting ready for it, and a turn: estimates, no source."""


@dataclass
class Tally:
    """What is counted over the classes."""

    bound: int
    runs: list[int] = field(default_factory=list)
    all_runs: list[int] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    first_counts: list[int] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)
    sent: list[float] = field(default_factory=list)
    """The shares of the classes."""
    others: Counter[str] = field(default_factory=Counter)
    slips: Counter[tuple[str, bool]] = field(default_factory=Counter)
    """Where pupils who made one slip made it, and whether they ended with the class."""

    def add(self, held: ClassHeld) -> list[str]:
        """Count a lesson; what is to be told of it."""
        room = held.room
        unseen = [pupil for pupil in room.lost if not (room.ways.miscounted and room.miscounts)]
        self.runs.append(held.runs_to_one_colour)
        self.all_runs.append(held.runs("top-cross", "top-face", "top-corners", "top-edges"))
        self.counts.append(held.counts)
        self.first_counts.append(held.counts_to_one_colour)
        self.minutes.append((held.counts * A_COUNT + held.runs() * A_RUN + held.turns * A_TURN) / 60)
        self.sent.append(len(room.sent) / len(room.pupils))
        away = all(pupil.sent for pupil in room.pupils)
        self.others.update({
            "pupils": len(room.pupils), "solved": sum(pupil.cube.solved for pupil in room.there),
            "sent": len(room.sent), "sent though nothing was wrong": sum(not pupil.slips for pupil in room.sent),
            "LOST": len(unseen), "lost where the teacher had miscounted": len(room.lost) - len(unseen),
            "classes": 1, "sent off as a whole": away, "not done": held.end.get("outcome") != "done" and not away,
            "loops": held.loop, "miscounts": room.miscounts,
        })  # fmt: skip
        for pupil in room.pupils:
            if len(pupil.slips) == 1:
                self.slips[pupil.slipped_in, not pupil.sent] += 1
        notes = ["LOOP"] * held.loop + [f"LOST: {', '.join(pupil.slips) or 'no slip'}" for pupil in unseen]
        notes += [f"sent though nothing was wrong: {many}" for many in [
            sum(not pupil.slips for pupil in room.sent)] if many]  # fmt: skip
        return notes + [f"ended {held.end.get('outcome')} at {held.end.get('step')}"] * (
            held.end.get("outcome") != "done"
        )

    def tell(self) -> None:
        """The figures."""
        row("runs until all tops are one colour", self.runs, "", f"aim {AIM_RUNS}")
        row("runs for the whole last layer", self.all_runs, "", f"proven bound {self.bound}")
        row("counts until all tops are one colour", self.first_counts, "", f"aim {AIM_COUNTS}")
        row("counts in all", self.counts, "")
        row("minutes, as estimated", self.minutes, "min")
        share = [100 * each for each in self.sent]
        row("of the class sent to their own coach", share, "%", f"aim {100 * AIM_SENT:.0f}")
        fact("", f"more than a fifth in {np.mean([each > AIM_SENT for each in self.sent]):.0%} of the classes, "
             f"{self.others['sent'] / self.others['pupils']:.1%} of all pupils")  # fmt: skip
        fact("", ", ".join(f"{what}: {many}" for what, many in self.others.items() if many or what == "LOST"))
        for step in dict.fromkeys(step for step, _ in self.slips):
            kept, gone = self.slips[step, True], self.slips[step, False]
            fact(f"  one slip, in the {step}", f"{kept} of {kept + gone} ended with the class")


def classes(arguments: Sequence[str] = ()) -> None:
    """Lead so many classes."""
    from coach.method import default_method
    from coach.method.unison import unison
    from tests.people.class_lesson import class_of, lead
    from tests.people.class_of import Ways

    parser = argparse.ArgumentParser(prog="scripts/bench class", description=__doc__)
    parser.add_argument("count", nargs="?", type=int, default=200, metavar="COUNT", help="so many (default 200)")
    parser.add_argument("--scramble", action="store_true", help="from solved cubes on")
    parser.add_argument("--pupils", type=int, default=25, help="in a class (default 25)")
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="the first seed")
    parser.add_argument("--slips", type=float, default=0.0, help="the chance that a turn goes wrong (default 0)")
    parser.add_argument("--misheld", type=float, default=0.0, help="that a run is begun in another hold (default 0)")
    parser.add_argument("--unseen", type=float, default=0.0, help="that a hand is wrong (default 0)")
    parser.add_argument("--notices", type=float, default=0.0, help="that a wrong turn is noticed (default 0)")
    parser.add_argument("--miscounted", type=float, default=0.02, help="that a count is one off (default 0.02)")
    parser.add_argument("--come", type=int, default=0, help="so many come late")
    parser.add_argument("--leave", type=int, default=0, help="so many leave early")
    parser.add_argument("--resting", choices=("up", "down"), default="up", help="do those who rest raise a hand?")
    parser.add_argument("--sent", choices=("up", "down"), default="down", help="do those sent to their own coach?")
    parser.add_argument("--late", choices=("up", "down"), default="down", help="do those who have just come in?")
    parser.add_argument("--transcripts", type=Path, metavar="FOLDER", help="write every lesson there")
    args = parser.parse_args(arguments)
    ways = Ways(
        args.slips, args.misheld, args.unseen, args.notices, args.miscounted, args.come, args.leave,
        args.resting == "up", args.sent == "up", args.late == "down",
    )  # fmt: skip
    method = default_method()
    steps = [unison(method, step) for step in method.top_steps]
    tally, began = Tally(sum(step.most + len(step.last_turns) for step in steps)), time.perf_counter()
    for seed in range(args.seed, args.seed + args.count):
        held = lead(class_of(args.pupils, seed, ways, args.scramble), seed if args.scramble else None)
        notes = tally.add(held)
        if args.transcripts:
            args.transcripts.mkdir(parents=True, exist_ok=True)
            text = "\n".join((*notes, *held.transcript()))
            (args.transcripts / f"class-{seed}.txt").write_text(text, "utf-8")
        if notes:
            print(f"    {seed}: {held.counts} counts; " + " | ".join(notes), flush=True)
    tally.tell()
    fact("", f"{(time.perf_counter() - began) / args.count:.1f} s a class")
