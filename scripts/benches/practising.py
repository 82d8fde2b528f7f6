"""What is recorded of people who practise, against what their own cubes show: typed, by the real command line."""

from __future__ import annotations

import argparse
import tempfile
from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from benches import fact

if TYPE_CHECKING:
    from tests.people.practising import Ways
    from tests.people.tries import Count

COMMANDS = ("practise", "lesson")
FIRST = ("top-cross", "top-cross", "top-face", "middle-edges")
"""Where lessons begin, one after the other."""


def levels(home: Path, random: Random) -> None:
    """Give the learner some practice, mostly of the last layer, a week ago, so that each level of help comes up."""
    from coach.learning.exercise import Exercise, Item
    from coach.method import default_method
    from coach.records.store import Store
    from tests.people import heart

    store, now = Store(home / "turncaller" / "records.sqlite"), datetime.now()
    for step, case in heart.SEQUENCES:
        for number in range(random.randrange(5 if step.startswith("top") else 3)):
            item = Item(step, case, "do", default_method().name)
            store.add("Robin", Exercise(item, now - timedelta(days=9 - number), 4 - number, "unaided", "practice"))
    store.close()


def session(command: str, seed: int, ways: Ways, folder: Path | None) -> tuple[Count, Counter[str], list[str]]:
    """Somebody practises, or has a lesson; the count, how much else there was, and what there is to say of it."""
    from tests.people import words
    from tests.people.cube import Cube
    from tests.people.holding import hold
    from tests.people.practising import Practising
    from tests.people.starts import start

    random = Random(f"{command} {seed}")
    first = FIRST[seed % len(FIRST)]
    cube = start(first, random) if command == "lesson" else Cube()
    person = Practising(cube, words.USUAL, random, first, ways)
    chosen = ["--from", first] if command == "lesson" else ["--minutes", "30"]
    with tempfile.TemporaryDirectory() as home:
        levels(Path(home), random)
        held = hold(person, ["--learner", "Robin", *chosen], Path(home), command=command)
    count = person.count()
    notes = [f"CRASHED {held.error.strip()[-300:]}"] if held.error else []
    notes += ["LOOP"] * held.loop + ["no end"] * (not held.end)
    besides = Counter(sessions=1, answers=person.answers, misheard=person.misheard, crashed=bool(notes))
    notes += [f"FAILED THOUGH RIGHT {what}" for what in count.failed_though_right]
    notes += [f"SUCCESS THOUGH WRONG {what}" for what in count.success_though_wrong]
    notes += [f"never tried: {what}" for what in count.unknown]
    if folder:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / f"{command}-{seed}.txt").write_text("\n".join((*notes, *held.transcript())), "utf-8")
    return count, besides, notes


def practising(arguments: Sequence[str] = ()) -> None:
    """Sessions until so many exercises are recorded."""
    from tests.people.practising import Ways
    from tests.people.tries import Count

    parser = argparse.ArgumentParser(prog="scripts/bench practising", description=__doc__)
    parser.add_argument("command", nargs="?", choices=COMMANDS, default="practise")
    parser.add_argument("count", nargs="?", type=int, default=500, metavar="COUNT", help="exercises (default 500)")
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="the first seed")
    parser.add_argument("--slips", type=float, default=0.25, help="the chance of a slip in a try (default 0.25)")
    parser.add_argument("--notices", type=float, default=0.4, help="the chance to notice it (default 0.4)")
    parser.add_argument("--misheard", type=float, default=0.05, help="the share of answers misheard (default 0.05)")
    parser.add_argument("--transcripts", type=Path, metavar="FOLDER", help="write every session there")
    args = parser.parse_args(arguments)
    ways = Ways(args.slips, args.notices, misheard=args.misheard, lesson=args.command == "lesson")
    total, besides, seed = Count(), Counter[str](), args.seed
    while total.tries < args.count:
        count, also, notes = session(args.command, seed, ways, args.transcripts)
        total, besides = total + count, besides + also
        for note in notes:
            print(f"    {args.command} {seed}: {note}", flush=True)
        seed += 1
    heard = f"{besides['misheard']} of {besides['answers']} answers misheard"
    fact(args.command, f"{total.tries} exercises of {besides['sessions']} sessions, {heard}")
    fact("", f"right, but recorded as failed: {len(total.failed_though_right)} of {total.tries - total.wrong}")
    fact("", f"wrong, but recorded as a success: {len(total.success_though_wrong)} of {total.wrong}")
    fact("", f"of which try a record is decides whether it is right: {total.doubtful}")
    fact("", f"recorded as unclear: {total.unclear}; recorded without a try: {len(total.unknown)}")
    fact("", f"sessions that crashed or did not end: {besides['crashed']}")
