"""How soon simulated learners know the last layer by heart, by how they practise. All of it is simulated."""

import argparse
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cache
from random import Random
from statistics import mean
from typing import Protocol

import numpy as np

from benches import fact
from coach.cube import Cube, Turn
from coach.cube.last_layer_plan import as_held
from coach.dialogue.acts import Silence
from coach.dialogue.pace import Pace
from coach.dialogue.practice.choosing import all_items, choose
from coach.dialogue.practice.lasting import estimated
from coach.dialogue.practice.setups import Setups
from coach.dialogue.solving.breaths import in_one_breath, pauses
from coach.learning import schedule
from coach.learning.exercise import MOST_HELP, Exercise, Item, Result
from coach.learning.learned import Learned
from coach.learning.levels import level_of
from coach.learning.schedule import Fsrs, Review
from coach.method import Case, Step, default_method
from coach.simulation.cubes import random_cube
from coach.simulation.memory import trying
from coach.simulation.memory.mind import Maker, Mind, links
from coach.simulation.memory.population import CHOSEN_ON, JUDGED_ON

BEGIN = date(2026, 1, 5)
MOST_DAYS = 90
AFTER = 14
"""Days without practice, after which it is asked what is still there."""
PACE = Pace()
TURN, SAID, TOLD = 4.7, 1.6, 2.2
"""Seconds for a turn: called and done, said by the learner, told by the coach. In a breath of set-up turns, only the
pause is shorter."""
LOOK, SETUP, CASE, ALONE, CHECK, HINT, FAILED, TELL = 57.0, 5.0, 16.0, 21.0, 9.0, 12.0, 80.0, 18.0
"""Seconds, beside called turns: in a lesson, to look, to be told the case and all else; to announce a set-up; to be
told the case, its hold and the sequence; to do it alone and say that it is right; to check it; for a hint; to find out
what went wrong; to ask and to say what a case is. Means of what `dialogue/practice/lasting` estimates for the coach's
own words, in twelve lessons and some sessions (29 November 2026)."""


@dataclass(frozen=True)
class Thing:
    """A sequence of the last layer in its case, and its exercise."""

    step: Step
    case: Case

    def __hash__(self) -> int:
        return id(self.case)

    @property
    def links(self):
        """What is to be recalled."""
        return links(self.step.id, self.case.id, self.case.named)


METHOD = default_method()
THINGS = {(step.id, case.id): Thing(step, case) for step in METHOD.top_steps for case in step.cases if case.named}
ITEMS = [item for item in all_items(METHOD) if (item.step, item.case) in THINGS]
"""All exercises with the last layer, in the order of teaching."""
SEQUENCES = METHOD.sequence_of
TO_KNOW = [item for item in ITEMS if item.kind == "do"]


@dataclass
class Pupil:
    """A simulated learner with what has been recorded of them, and with what a hidden test shows day by day."""

    mind: Mind
    cube: Cube = field(default_factory=Cube)
    exercises: list[Exercise] = field(default_factory=list)
    hidden: list[Exercise] = field(default_factory=list)
    session: list[Item] = field(default_factory=list)
    minutes: float = 0.0
    taken: dict[tuple[str, int], list[float]] = field(default_factory=lambda: defaultdict(list))
    """The seconds of exercises, by kind and level of help."""

    @property
    def today(self) -> date:
        """The local day."""
        return BEGIN + timedelta(days=self.mind.day)

    def practise(self, item: Item, lesson: bool = False) -> None:
        """An exercise, or a run of a lesson, in which all is called; with the time that it takes."""
        help = MOST_HELP if lesson else level_of(item, self.exercises, SEQUENCES)
        thing = THINGS[item.step, item.case]
        what = (self.mind, item.step, item.case, thing.case.named)
        if item.kind == "do":
            spent = LOOK if lesson else self._set_up(thing) + (CASE if help else 7.0)
            tried = trying.do(*what, help)
            spent += CHECK + TURN * tried.called + ALONE * (tried.alone > 0) + FAILED * (tried.result == "failed")
        elif item.kind == "recite":
            tried = trying.recite(*what)
            spent = 7.0 + (SAID + TOLD * (help >= 3)) * tried.alone
        else:
            tried = trying.tell_hold(*what)
            spent = TELL + 8.0 * (help >= 3)
        spent += HINT * tried.losses
        self.mind.second += spent
        self.taken[item.kind, help].append(spent)
        self.exercises.append(self._exercise(item, help, tried.result))
        self.session.append(item)

    def _set_up(self, thing: Thing) -> float:
        """Bring the cube into the case, and take the sequence to be done in the end; the seconds for the set-up."""
        turns = into(self.cube, thing)
        held = as_held(self.cube.do(turns))
        self.cube = as_held(held.do(thing.case.holds(held.faces)[0]).do(thing.case.sequence))
        left = sum(not turn.whole for turn in turns)
        spent = SETUP * bool(turns) + (TURN - PACE.pause) * left
        used = Learned(METHOD.name, self.exercises, self.today).used_to_it
        while left:
            called = in_one_breath(left) if used else 1
            spent += estimated(Silence(PACE.pause * pauses(called)), PACE)
            left -= called
        return spent

    def hidden_test(self) -> None:
        """Note what they would do alone; nothing is learned by it."""
        for item in TO_KNOW:
            right = self.mind.random.random() < self.mind.chance(THINGS[item.step, item.case].links)
            self.hidden.append(self._exercise(item, 0, "unaided" if right else "failed"))

    def still_there(self) -> float:
        """The share of the sequences that would be done alone after `AFTER` days without practice."""
        return mean(self.mind.chance(thing.links, AFTER) for thing in THINGS.values())

    def _exercise(self, item: Item, help: int, result: Result) -> Exercise:
        return Exercise(item, datetime.combine(self.today, time(17)), help, result, "practice")


SETUPS = Setups(METHOD)


@cache
def into(cube: Cube, thing: Thing) -> tuple[Turn, ...]:
    """The turns into a case."""
    turns = SETUPS.turns(cube, thing.step.id, thing.case)
    assert turns is not None, "every case can be reached"
    return turns


class Design(Protocol):
    """A way to practise."""

    def day(self, pupil: Pupil, limit: float) -> None:
        """Practise for so many seconds."""


class Called:
    """Ordinary lessons, in which every turn is called: from the top cross on, so that no time goes to lower layers."""

    def day(self, pupil: Pupil, limit: float) -> None:
        """Lessons with random cubes, until time is up."""
        while pupil.mind.second < limit:
            for item in solve(pupil.mind.random):
                if pupil.mind.second < limit:
                    pupil.practise(item, lesson=True)


def solve(random: Random) -> Iterator[Item]:
    """What has to be done on a random last layer."""
    cube = random_cube("top-cross", random)
    for step in METHOD.top_steps:
        while not step.done(cube.faces):
            case = step.case_of(cube.faces)
            if not case.named:
                break  # only the last turn is left
            cube = cube.do(case.holds(cube.faces)[0]).do(case.sequence)
            yield Item(step.id, case.id, "do", METHOD.name)


class Fixed:
    """The same exercises at the same levels, one after the other and over again."""

    def __init__(self) -> None:
        self._next = 0

    def day(self, pupil: Pupil, limit: float) -> None:
        """Where it stopped yesterday it goes on."""
        while pupil.mind.second < limit:
            pupil.practise(ITEMS[self._next % len(ITEMS)])
            self._next += 1


class Scheduled:
    """What `practise` chooses."""

    def __init__(self) -> None:
        self._planner = Remembering()

    def day(self, pupil: Pupil, limit: float) -> None:
        """Until time is up."""
        while pupil.mind.second < limit:
            item = choose(ITEMS, pupil.exercises, pupil.session, pupil.today, self._planner, SEQUENCES)
            assert item, "there is always something to practise"
            pupil.practise(item)


class Remembering:
    """The schedule, which works nothing out twice."""

    def __init__(self) -> None:
        self._fsrs, self._known = Fsrs(), dict[tuple[Item, int, date], Review | None]()

    def review(self, exercises: Sequence[Exercise], today: date) -> Review | None:
        """The next review."""
        key = (exercises[0].item, len(exercises), today)
        if key not in self._known:
            self._known[key] = self._fsrs.review(exercises, today)
        return self._known[key]


DESIGNS: Mapping[str, Callable[[], Design]] = {"practise": Scheduled, "called lessons": Called, "fixed order": Fixed}


@dataclass
class Course:
    """How it went with one learner by one design: minutes and days until all was known by the hidden test, and minutes
    until it was by the records (None: not within `MOST_DAYS`); and the share still there two weeks later."""

    minutes: float | None = None
    days: int = MOST_DAYS
    kept: float = 0.0
    recorded: float | None = None
    recorded_kept: float = 0.0
    taken: Mapping[tuple[str, int], Sequence[float]] = field(default_factory=dict)


def all_known(exercises: Sequence[Exercise]) -> bool:
    """Whether every sequence is known, in the schedule's sense."""
    found = defaultdict(list)
    for each in exercises:
        found[each.item].append(each)
    return all(schedule.known(found[item]) for item in TO_KNOW)


def course(maker: Maker, design: Design, seed: str, minutes: float) -> Course:
    """A learner who practises every day until all is known by the hidden test and, where it can be, by the records."""
    random = Random(seed)
    pupil, went = Pupil(Mind(*maker(random), random)), Course()
    for pupil.mind.day in range(MOST_DAYS):
        pupil.mind.second, pupil.session, pupil.cube = 0.0, [], Cube()
        pupil.hidden_test()
        if went.minutes is None and all_known(pupil.hidden):
            went.minutes, went.days, went.kept = pupil.minutes, pupil.mind.day, pupil.still_there()
        if went.recorded is None and all_known(pupil.exercises):
            went.recorded, went.recorded_kept = pupil.minutes, pupil.still_there()
        if went.minutes is not None and (went.recorded is not None or isinstance(design, Called)):
            break
        design.day(pupil, minutes * 60)
        pupil.minutes += pupil.mind.second / 60
    went.taken = pupil.taken
    went.kept = pupil.still_there() if went.minutes is None else went.kept
    return went


def shown(values: Sequence[float], of: Callable[[np.ndarray], float] = np.mean, form: str = ".0f") -> str:
    """A statistic over the learners with its 95% interval, by bootstrap."""
    given, random = np.asarray(values, float), np.random.default_rng(0)
    again = [of(given[random.integers(0, len(given), len(given))]) for _ in range(2000)]
    low, high = np.percentile(again, [2.5, 97.5])
    return f"{of(given):{form}} [{low:{form}}, {high:{form}}]"


def tell(name: str, found: Mapping[str, Sequence[Course]], limit: float) -> None:
    """What became of a population by each design. Whoever did not get there counts with all the time there was."""
    most, until = MOST_DAYS * limit, dict[str, list[float]]()
    print(f"\n{name} (simulated, {len(found['practise'])} learners, {limit:g} minutes a day)")
    for design, courses in found.items():
        until[design] = [most if each.minutes is None else each.minutes for each in courses]
        there = sum(each.minutes is not None for each in courses)
        fact(f"  {design}", f"{there} of {len(courses)} in {shown(until[design])} minutes, "
             f"{shown([each.days for each in courses])} days; "
             f"{AFTER} days later {shown([100 * each.kept for each in courses])}%")  # fmt: skip
        if recorded := [each for each in courses if each.recorded is not None]:
            fact("", f"by the records {len(recorded)} in {shown([each.recorded for each in recorded])} minutes; "
                 f"{AFTER} days later {shown([100 * each.recorded_kept for each in recorded])}%")  # fmt: skip
    for other in list(found)[1:]:
        pairs = np.array([until["practise"], until[other]]).T
        fact(f"  minutes of practise / {other}", shown(pairs, lambda rows: rows[:, 0].sum() / rows[:, 1].sum(), ".2f"))
    taken = defaultdict(list)
    for each in found["practise"]:
        for kind, seconds in each.taken.items():
            taken[kind] += seconds
    parts = [f"{kind} {help}: {mean(taken[kind, help]):.0f} ({len(taken[kind, help])})" for kind, help in sorted(taken)]
    fact("  seconds of an exercise, by kind and help", ", ".join(parts))


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
