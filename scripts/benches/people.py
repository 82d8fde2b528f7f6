"""What becomes of lessons with people unlike the package's own learner: typed, by the real command line."""

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from statistics import mean, median

from benches import fact


def made(kind: str, number: int, seed: int, chosen: str | None) -> Iterator[tuple[str, object]]:
    """People of a kind, each with what there is to know about them. Whole solves; those who say anything begin
    anywhere."""
    from tests.people import words
    from tests.people.kinds import KINDS
    from tests.people.starts import STEPS, start

    arrangements = list(words.ARRANGEMENTS)
    for at in range(seed, seed + number):
        random = Random(f"{kind} {at}")
        step = chosen or (STEPS[at % len(STEPS)] if kind == "anything" else STEPS[0])
        own, called = words.USUAL, "usual colours"
        if kind == "marks" or (kind == "naming" and at % 2 == 0):
            own = words.arranged(words.MARKS, random)
            called = words.option(own)
        elif kind != "anything" and (kind == "colours" or at % 2):
            called = arrangements[at % len(arrangements)]
            own = words.ARRANGEMENTS[called]
        yield f"{kind} {at} ({called})", KINDS[kind](start(step, random), own, random, step)


def lessons(kind: str, number: int, seed: int, step: str | None, folder: Path | None) -> None:
    """Hold them, and tell of them."""
    from tests.people import holding

    solved, alarms, asked, faults = 0, 0, [], Counter()
    seconds_days, colours, ways = [], [], holding.returns()
    for count, (name, person) in enumerate(made(kind, number, seed, step)):
        if kind == "stopping":
            way = ways[count % len(ways)]
            name = f"{name}, {way}"
            held = [one for one in holding.hold_two_days(person, way) if one]
        else:
            held = [holding.hold(person, holding.arguments(person, told=count % 2 == 0))]
        last, questions = held[-1], sum(one.questions for one in held)
        asked.append(questions)
        wrong = [alarm for one in held for alarm in one.alarms] if person.blameless else []
        alarms += bool(wrong)
        notes = list(wrong)
        stopped = kind == "pain" and person.stops and last.end.get("outcome") == "stopped"
        if last.solved or stopped or kind == "anything":
            solved += last.solved
        else:
            notes.append(f"NOT SOLVED: {last.end.get('outcome', 'no end')} at {last.end.get('step')}")
        faults["loops"] += any(one.loop for one in held)
        faults["tracebacks"] += any("Traceback" in one.error for one in held)
        faults["no end"] += any(not one.end for one in held)
        faults["stopped for pain"] += stopped
        faults["turned on in pain"] += bool(getattr(person, "turned_in_pain", 0))
        faults["doubts taken for yes or no"] += len(last.doubts_taken)
        faults["read twice"] += any(one.readings > 1 for one in held)
        notes += ["LOOP"] * any(one.loop for one in held) + [one.error.strip()[-300:] for one in held if one.error]
        notes += last.doubts_taken
        if kind == "stopping":
            seconds_days.append(questions)
        if person.may_read:
            colours.append((last.colours_read, last.colours_confirmed))
        if folder:
            folder.mkdir(parents=True, exist_ok=True)
            text = "\n".join(line for one in held for line in (*one.transcript(), ""))
            (folder / f"{kind}-{seed + count}.txt").write_text(f"{name}\n{notes}\n{text}", "utf-8")
        if notes:
            print(f"    {name}: {questions} questions; " + " | ".join(dict.fromkeys(notes)), flush=True)
    fact(kind, f"{number} lessons: {solved} solved, {alarms} with a false alarm; questions {median(asked):g} median, "
         f"{max(asked)} most" + (", both days" if seconds_days else ""))  # fmt: skip
    if colours:
        said, both = [read for read, _ in colours], [sum(one) for one in colours]
        fact("", f"colours read {mean(said):.1f} mean, {max(said)} most; "
             f"with those confirmed {mean(both):.1f}, {max(both)}")  # fmt: skip
    if any(faults.values()):
        fact("", ", ".join(f"{what}: {many}" for what, many in faults.items() if many))


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
