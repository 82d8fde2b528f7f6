"""How soon simulated learners know the last layer by heart, by how they practise. All of it is simulated."""

import argparse
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from random import Random
from statistics import mean
from typing import Protocol

import numpy as np

from benches import fact
from coach.learning import schedule
from coach.learning.exercise import MOST_HELP, Exercise, Item
from coach.learning.levels import level
from coach.learning.schedule import Fsrs
from coach.method import default_method
from coach.method.model import Case, Step
from coach.simulation.cubes import random_cube
from coach.simulation.memory.mind import Link, Maker, Mind, links
from coach.simulation.memory.population import CHOSEN_ON, JUDGED_ON
from coach.simulation.memory.trying import Tried, attempt

BEGIN = date(2026, 1, 5)
MOST_DAYS = 90
AFTER = 14
"""Days without practice, after which it is asked what is still there."""
SETUP, CHECK, THINK, HINT, FAILED, LOOK = 25.0, 8.0, 3.0, 6.0, 12.0, 15.0
"""Seconds to bring a cube into a case, to check it, to recall a link, to ask, to put a failure right, and, in a lesson,
to look, to be told the case and to hold the cube."""
CALLED, IN_GROUPS, ALONE = 3.5, 2.2, 1.5
"""Seconds for a turn: called by itself, called in a group, done alone. All of these are guesses."""


@dataclass(frozen=True, eq=False)
class Thing:
    """A sequence in its case: what is to be known."""

    item: Item
    step: Step
    case: Case
    links: tuple[Link, ...]


def things() -> Sequence[Thing]:
    """Those of the last layer, in the order of the method."""
    method = default_method()
    return [
        Thing(Item(step.id, case.id, "do", method.name), step, case, links(step.id, case.id, case.named))
        for step in method.top_steps for case in step.cases if case.named
    ]  # fmt: skip


THINGS = things()


@dataclass
class Pupil:
    """A simulated learner with what has been recorded of them, and with what a hidden test would show day by day."""

    mind: Mind
    exercises: list[Exercise] = field(default_factory=list)
    hidden: list[Exercise] = field(default_factory=list)
    minutes: float = 0.0
    counts: dict[int, list[float]] = field(default_factory=lambda: defaultdict(list))
    """The seconds of exercises by their level of help."""

    @property
    def today(self) -> date:
        """The local day."""
        return BEGIN + timedelta(days=self.mind.day)

    def of(self, thing: Thing) -> list[Exercise]:
        """What is recorded of a thing."""
        return [each for each in self.exercises if each.item == thing.item]

    def try_at(self, thing: Thing, help: int, lesson: bool = False) -> None:
        """An exercise, or a run in a lesson; with what it takes of the day."""
        assert thing.case.named
        tried = attempt(self.mind, thing.step.id, thing.case.id, thing.case.named, help)
        taken = seconds(thing, tried, help, lesson)
        self.mind.second += taken
        self.counts[help].append(taken)
        self.exercises.append(self._exercise(thing, help, tried.result))

    def hidden_test(self) -> None:
        """Note what they would do alone, without their learning by it."""
        for thing in THINGS:
            right = self.mind.random.random() < self.mind.chance(thing.links)
            self.hidden.append(self._exercise(thing, 0, "unaided" if right else "failed"))

    def _exercise(self, thing: Thing, help: int, result) -> Exercise:
        return Exercise(thing.item, datetime.combine(self.today, time(17)), help, result, "practice")


def seconds(thing: Thing, tried: Tried, help: int, lesson: bool) -> float:
    """How long it takes."""
    each = IN_GROUPS if help == MOST_HELP - 1 else CALLED
    untold = max(0, len(thing.links) - (5 - help if help < 3 else 99)) if help < 3 else 0
    wrong = FAILED if tried.result == "failed" else 0.0
    spent = (LOOK if lesson else SETUP) + CHECK + wrong + HINT * tried.hints
    return spent + each * tried.called + ALONE * tried.alone + THINK * untold


class Design(Protocol):
    """A way to practise."""

    def day(self, pupil: Pupil, limit: float) -> None:
        """Practise for so many seconds at most."""


class Called:
    """Ordinary lessons, in which every turn is called: from the top cross on, so that no time goes to lower layers."""

    def day(self, pupil: Pupil, limit: float) -> None:
        """Lessons with random cubes, until time is up."""
        while pupil.mind.second < limit:
            for thing in solve(pupil.mind.random):
                if pupil.mind.second < limit:
                    pupil.try_at(thing, MOST_HELP, lesson=True)


def solve(random: Random) -> Iterator[Thing]:
    """What has to be done on a random last layer."""
    cube = random_cube("top-cross", random)
    for step in default_method().top_steps:
        while not step.done(cube.faces):
            case = step.case_of(cube.faces)
            cube = cube.do(case.holds(cube.faces)[0]).do(case.sequence)
            yield next(thing for thing in THINGS if (thing.step, thing.case) == (step, case))


class Fixed:
    """The same exercises at the same levels, one after the other and over again."""

    def __init__(self) -> None:
        self._next = 0

    def day(self, pupil: Pupil, limit: float) -> None:
        """Where it stopped yesterday it goes on."""
        while pupil.mind.second < limit:
            thing = THINGS[self._next % len(THINGS)]
            pupil.try_at(thing, level(pupil.of(thing)))
            self._next += 1


class Scheduled:
    """A stand-in for the sessions of `practise`: what is due, then what is being learned, then something new."""

    def __init__(self) -> None:
        self._planner, self._plans, self._day = Fsrs(), dict[Thing, schedule.Review](), date.min

    def day(self, pupil: Pupil, limit: float) -> None:
        """Practise until time is up or nothing is left to do."""
        while pupil.mind.second < limit and (thing := self._choose(pupil)):
            pupil.try_at(thing, level(pupil.of(thing)))

    def _choose(self, pupil: Pupil) -> Thing | None:
        """Due and not yet done alone today; else begun and still led, the least recently tried first; else new."""
        begun = {thing: tries for thing in THINGS if (tries := pupil.of(thing))}
        if self._day != pupil.today:
            plans = {thing: self._planner.review(tries, pupil.today) for thing, tries in begun.items()}
            self._day, self._plans = pupil.today, {thing: plan for thing, plan in plans.items() if plan}
        today = {thing: [each for each in tries if each.day == pupil.today] for thing, tries in begun.items()}
        due = [t for t in begun if not any(each.alone for each in today[t])
               and (t not in self._plans or self._plans[t].day <= pupil.today)]  # fmt: skip
        if due:
            return min(due, key=lambda t: (len(today[t]), self._plans[t].recall if t in self._plans else 1))
        return next((thing for thing in THINGS if thing not in begun), None)


DESIGNS: Mapping[str, Callable[[], Design]] = {"practise": Scheduled, "called lessons": Called, "fixed order": Fixed}


@dataclass
class Course:
    """How it went with one learner by one design: minutes and days until all was known (None: not within `MOST_DAYS`),
    as recorded and by the hidden test; and the share still there two weeks after the hidden test was passed."""

    recorded: float | None = None
    hidden: float | None = None
    days: int = MOST_DAYS
    kept: float = 0.0
    minutes: float = 0.0
    counts: Mapping[int, Sequence[float]] = field(default_factory=dict)


def all_known(exercises: Sequence[Exercise]) -> bool:
    """Whether every thing is known, in the schedule's sense."""
    by_item = schedule_by_item(exercises)
    return all(thing.item in by_item and schedule.known(by_item[thing.item]) for thing in THINGS)


def schedule_by_item(exercises: Sequence[Exercise]) -> Mapping[Item, Sequence[Exercise]]:
    """The exercises of each item."""
    found: dict[Item, list[Exercise]] = defaultdict(list)
    for each in exercises:
        found[each.item].append(each)
    return found


def course(maker: Maker, design: Design, seed: str, minutes: float) -> Course:
    """A learner who practises every day until all is known by the hidden test and, where there are any, the records."""
    random = Random(seed)
    pupil = Pupil(Mind(*maker(random), random))
    told = Course()
    led = isinstance(design, Called)
    for day in range(MOST_DAYS):
        pupil.mind.day, pupil.mind.second = day, 0.0
        pupil.hidden_test()
        if told.hidden is None and all_known(pupil.hidden):
            told.hidden, told.days, told.kept = pupil.minutes, day, still_there(pupil)
        if told.recorded is None and not led and all_known(pupil.exercises):
            told.recorded = pupil.minutes
        if told.hidden is not None and (led or told.recorded is not None):
            break
        design.day(pupil, minutes * 60)
        pupil.minutes += pupil.mind.second / 60
    told.minutes, told.counts = pupil.minutes, pupil.counts
    if told.hidden is None:
        told.kept = still_there(pupil)
    return told


def still_there(pupil: Pupil) -> float:
    """The share of things that would be done alone after `AFTER` days without practice."""
    return mean(pupil.mind.chance(thing.links, AFTER) for thing in THINGS)


def interval(values: Sequence[float], of: Callable[[np.ndarray], float] = np.mean) -> tuple[float, float, float]:
    """A statistic with its 95% interval, by bootstrap over the learners."""
    given, random = np.asarray(values, float), np.random.default_rng(0)
    again = [of(given[random.integers(0, len(given), len(given))]) for _ in range(2000)]
    low, high = np.percentile(again, [2.5, 97.5])
    return float(of(given)), float(low), float(high)


def shown(values: Sequence[float], form: str = ".0f") -> str:
    """A mean with its interval."""
    return "{:{f}} [{:{f}}, {:{f}}]".format(*interval(values), f=form)


def ratio(ours: Sequence[float], theirs: Sequence[float]) -> str:
    """The ratio of two means over the same learners, with its interval."""
    pairs, random = np.array([ours, theirs], float), np.random.default_rng(0)
    again = [np.divide(*pairs[:, random.integers(0, pairs.shape[1], pairs.shape[1])].mean(axis=1)) for _ in range(2000)]
    low, high = np.percentile(again, [2.5, 97.5])
    return f"{np.divide(*pairs.mean(axis=1)):.2f} [{low:.2f}, {high:.2f}]"


def tell(name: str, found: Mapping[str, Sequence[Course]], minutes: float) -> None:
    """What became of a population by each design."""
    most = MOST_DAYS * minutes
    print(f"\n{name} (simulated, {len(found['practise'])} learners, {minutes:g} minutes a day)")
    until = {}
    for design, courses in found.items():
        until[design] = [most if each.hidden is None else each.hidden for each in courses]
        there = sum(each.hidden is not None for each in courses)
        kept = shown([100 * each.kept for each in courses])
        fact(f"  {design}", f"known {there}/{len(courses)}; minutes {shown(until[design])}; days "
             f"{shown([each.days for each in courses])}; there after {AFTER} days {kept}%")  # fmt: skip
        if any(each.recorded is not None for each in courses):
            recorded = [most if each.recorded is None else each.recorded for each in courses]
            fact("", f"by its own records: minutes {shown(recorded)}")
    for other in list(found)[1:]:
        fact(f"  minutes of practise / {other}", ratio(until["practise"], until[other]))


def learning(arguments: Sequence[str] = ()) -> None:
    """Simulated learners, by each design."""
    parser = argparse.ArgumentParser(prog="scripts/bench learning", description=__doc__)
    parser.add_argument("count", nargs="?", type=int, default=100, metavar="COUNT", help="learners (default 100)")
    parser.add_argument("--minutes", type=float, default=10, help="of practice a day (default 10)")
    parser.add_argument("--chosen", action="store_true", help="those on whom designs may be tuned, not the judges")
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="the first seed")
    args = parser.parse_args(arguments)
    for name, maker in (CHOSEN_ON if args.chosen else JUDGED_ON).items():
        seeds = [f"{name} {seed}" for seed in range(args.seed, args.seed + args.count)]
        found = {
            design: [course(maker, made(), seed, args.minutes) for seed in seeds] for design, made in DESIGNS.items()
        }
        tell(name, found, args.minutes)
