"""What becomes of lessons with people unlike the package's own learner: typed, by the real command line."""

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import mean, median

from benches import fact


def made(kind: str, number: int, seed: int, chosen: str | None) -> Iterator[tuple[str, object]]:
    """People of a kind, each with what there is to know about them. Whole solves; newcomers, and
    those who say anything, begin anywhere."""
    from tests.people import words
    from tests.people.kinds import KINDS
    from tests.people.starts import STEPS, start

    arrangements = list(words.ARRANGEMENTS)
    for at in range(seed, seed + number):
        random = Random(f"{kind} {at}")
        step = chosen or (STEPS[at % len(STEPS)] if kind in ("anything", "newcomer") else STEPS[0])
        own, called = words.USUAL, "usual colours"
        if kind == "marks" or (kind == "naming" and at % 2 == 0):
            own = words.arranged(words.MARKS, random)
            called = words.option(own)
        elif kind != "anything" and (kind == "colours" or at % 2):
            called = arrangements[at % len(arrangements)]
            own = words.ARRANGEMENTS[called]
        yield f"{kind} {at} ({called})", KINDS[kind](start(step, random), own, random, step)


@dataclass
class Tally:
    """What is counted over the lessons with people of one kind."""

    number: int = 0
    solved: int = 0
    alarms: int = 0
    questions: list[int] = field(default_factory=list)
    colours: list[tuple[int, int]] = field(default_factory=list)
    """Read, and confirmed, where a person offers to read."""
    others: Counter[str] = field(default_factory=Counter)

    def add(self, person, held: Sequence) -> list[str]:
        """Count a lesson (of one day or two); what is to be told of it."""
        last, notes = held[-1], []
        self.number += 1
        self.questions.append(sum(one.questions for one in held))
        if person.blameless:
            notes += [alarm for one in held for alarm in one.alarms]
            self.alarms += bool(notes)
        stopped = getattr(person, "stops", False) and last.end.get("outcome") == "stopped"
        self.solved += last.solved
        if not (last.solved or stopped) and (person.blameless or last.loop):
            notes.append(f"NOT SOLVED: {last.end.get('outcome', 'no end')} at {last.end.get('step')}")
        if person.may_read:
            self.colours.append((last.colours_read, last.colours_confirmed))
        self.others.update({
            "loops": any(one.loop for one in held),
            "tracebacks": any("Traceback" in one.error for one in held),
            "without an end": any(not one.end for one in held),
            "stopped for pain": stopped,
            "called on in pain": bool(getattr(person, "turned_in_pain", 0)),
            "doubts taken for yes or no": len(last.doubts_taken),
            "asked more than once where they are": getattr(person, "told", 1) > 1,
            "read twice": any(one.readings > 1 for one in held),
        })  # fmt: skip
        notes += ["LOOP"] * any(one.loop for one in held) + [one.error.strip()[-300:] for one in held if one.error]
        return notes + last.doubts_taken

    def tell(self, kind: str) -> None:
        """All that was counted, as a few lines."""
        fact(kind, f"{self.number} lessons: {self.solved} solved, {self.alarms} with a false alarm; "
             f"questions {median(self.questions):g} median, {max(self.questions)} most")  # fmt: skip
        if self.colours:
            said, both = [read for read, _ in self.colours], [sum(one) for one in self.colours]
            fact("", f"colours read {mean(said):.1f} mean, {max(said)} most; "
                 f"with those confirmed {mean(both):.1f}, {max(both)}")  # fmt: skip
        if any(self.others.values()):
            fact("", ", ".join(f"{what}: {many}" for what, many in self.others.items() if many))


def lessons(kind: str, number: int, seed: int, step: str | None, folder: Path | None) -> None:
    """Hold them, and tell of them."""
    from tests.people import holding

    tally, ways = Tally(), holding.returns()
    for count, (name, person) in enumerate(made(kind, number, seed, step)):
        if kind == "stopping":
            way = ways[count % len(ways)]
            name, held = f"{name}, {way}", [one for one in holding.hold_two_days(person, way) if one]
        else:
            held = [holding.hold(person, holding.arguments(person, told=count % 2 == 0))]
        notes = tally.add(person, held)
        if folder:
            folder.mkdir(parents=True, exist_ok=True)
            text = "\n".join(line for one in held for line in (*one.transcript(), ""))
            (folder / f"{kind}-{seed + count}.txt").write_text(f"{name}\n{notes}\n{text}", "utf-8")
        if notes:
            print(f"    {name}: {tally.questions[-1]} questions; " + " | ".join(dict.fromkeys(notes)), flush=True)
    tally.tell(kind)


def people(arguments: Sequence[str] = ()) -> None:
    """Lessons with people of one kind, or of all."""
    from tests.people.kinds import KINDS
    from tests.people.starts import STEPS

    parser = argparse.ArgumentParser(prog="scripts/bench people", description=__doc__)
    parser.add_argument("kind", nargs="?", choices=(*KINDS, "all"), default="all", metavar="KIND",
                        help=f"one of {', '.join(KINDS)} (default: all)")  # fmt: skip
    parser.add_argument("count", nargs="?", type=int, default=10, metavar="COUNT", help="so many lessons (default 10)")
    parser.add_argument("--step", choices=STEPS, help="from this step on")
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="the first seed")
    parser.add_argument("--transcripts", type=Path, metavar="FOLDER", help="write every lesson there")
    args = parser.parse_args(arguments)
    for kind in KINDS if args.kind == "all" else (args.kind,):
        lessons(kind, args.count, args.seed, args.step, args.transcripts)
