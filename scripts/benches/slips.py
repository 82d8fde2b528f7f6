"""What happens to lessons in which turns go wrong: simulated learners, typed core, no sound."""

import argparse
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from random import Random

from benches import fact, head, row

KINDS = ("single", "double", "apart", "none", "misheard", "solve", "noticed")
RATE, NOTICED, MISHEARD = 0.03, 0.8, 0.05


@dataclass
class Course:
    """A lesson that takes the time of what it decides while it looks for what went wrong (its words `begins`), and
    notes whether an earlier step is begun once more (`back`)."""

    lesson: object
    begins: str
    seconds: list[float] = field(default_factory=list)
    back: bool = False
    searching: bool = False

    def start(self):
        return self.lesson.start()

    def handle(self, event):
        """As the lesson's."""
        from coach.dialogue import SlipFound

        before, begin = self.lesson.step, time.perf_counter()
        acts = self.lesson.handle(event)
        took = time.perf_counter() - begin
        begun = any(getattr(act, "text", "") == self.begins for act in acts)
        found = any(isinstance(act, SlipFound) for act in acts)
        if self.searching or begun or found:
            self.seconds.append(took)
        self.searching = (self.searching or begun) and not found and getattr(acts[-1], "asked", "") != "turn"
        ids = [step.id for step in self.lesson.method.steps]
        if before in ids and self.lesson.step in ids:
            self.back |= ids.index(self.lesson.step) < ids.index(before)
        return acts


@dataclass(frozen=True)
class Outcome:
    """What became of a lesson: `asked` has the number of questions for each time that something was looked for,
    `seconds` the time of each decision then."""

    solved: bool
    turns: int
    questions: int
    repairs: int
    read: bool
    back: bool
    asked: tuple[int, ...]
    seconds: tuple[float, ...]


def held(step: str, learner, random: Random, notices: float = 0.0, misheard: float = 0.0) -> Outcome:
    """A lesson from the beginning of `step`."""
    from coach.dialogue import Ask, CallTurn, Say
    from coach.dialogue.lesson import Lesson
    from coach.language import load
    from coach.method import default_method
    from coach.simulation import holding

    language = load()
    phrases = language.sentences
    course = Course(Lesson(default_method(), phrases, step, None, language.offers), phrases.forms("slip.search")[0])

    def heard_as(text, listen):
        return holding.misheard(text, listen, random) if random.random() < misheard else text

    answer = holding.answering(learner, language, lambda: random.random() < notices, heard_as)
    try:
        acts = holding.hold(course, learner, answer)
    except RuntimeError as error:
        print("  ", step, error, flush=True)
        acts = []
    says = [act for act in acts if isinstance(act, Say)]
    kinds = Counter(map(type, says))
    return Outcome(
        learner.cube.solved and bool(acts), kinds[CallTurn], kinds[Ask], course.lesson.talk.slips,
        any(say.text == phrases.forms("read.begin")[0] for say in says), course.back,
        tuple(searches(acts, phrases)), tuple(course.seconds),
    )  # fmt: skip


def searches(acts: Sequence[object], phrases) -> Iterator[int]:
    """How many questions were asked each time that the coach wanted to find out what had happened."""
    from coach.dialogue import Ask, Say, SlipFound

    begins = phrases.forms("slip.search")[0]
    ends = {form for key in ("none", "as-it-is", "or-misled", "unexplained") for form in phrases.forms(f"slip.{key}")}
    asked = None
    for act in acts:
        if asked is not None and (isinstance(act, SlipFound) or (isinstance(act, Say) and act.text in ends)):
            yield asked
            asked = None
        elif isinstance(act, Say) and act.text == begins:
            asked = asked or 0
        elif isinstance(act, Ask) and asked is not None:
            asked += 1


def slipping(step: str, seed: int, places: Callable[[Random, int], Sequence[int]]) -> Iterator[tuple[object, Outcome]]:
    """A learner with slips of random kinds at `places` (given how many turns the lesson has), and the same cube
    without; nothing where there is nothing to turn."""
    from coach.simulation import Learner, random_cube
    from coach.simulation.slipping import SLIPS, SlippingLearner

    cube, random = random_cube(step, Random(seed)), Random(seed)
    plain = held(step, Learner(cube, Random(seed)), random)
    if plain.turns:
        slips = {at: random.choice(SLIPS) for at in places(random, plain.turns)}
        yield SlippingLearner(cube, Random(seed), lambda number, say: slips.get(number, "")), plain


PLACES = {
    "single": lambda random, turns: [random.randrange(turns)],
    "double": lambda random, turns: [at := random.randrange(turns), min(turns - 1, at + random.randint(1, 5))],
    "apart": lambda random, turns: random.sample(range(turns), min(turns, 2)),
}


def few_slips(kind: str, step: str, seeds: Sequence[int]) -> list[tuple[Outcome, Outcome]]:
    """Lessons from one step with one slip or two."""
    found = []
    for seed in seeds:
        for learner, plain in slipping(step, seed, PLACES[kind]):
            outcome = held(step, learner, Random(seed))
            found.append((outcome, plain))
            if outcome.read or outcome.back or not outcome.solved:
                how = "not solved" if not outcome.solved else "read" if outcome.read else "an earlier step again"
                print(f"    seed {seed}: {how}; slips {learner.slipped}, questions {outcome.asked}", flush=True)
    return found


def tell(title: str, found: Sequence[tuple[Outcome, Outcome]]) -> None:
    """What became of the lessons, as a few lines."""
    outcomes = [outcome for outcome, _ in found]
    number, asked = len(outcomes), [asked for outcome in outcomes for asked in outcome.asked]
    whole = sum(o.solved and not o.read for o in outcomes)
    steady = sum(o.solved and not o.read and not o.back for o in outcomes)
    fact(title, f"{number} lessons: {sum(o.solved for o in outcomes)} solved, {whole} without the cube being read, "
         f"{steady} without an earlier step again")  # fmt: skip
    mean, lessons = sum(asked) / max(len(asked), 1), [sum(outcome.asked) for outcome in outcomes if outcome.asked]
    turns = sum(o.turns for o in outcomes) / max(sum(plain.turns for _, plain in found), 1)
    fact("", f"questions of a search {mean:.2f} in the mean, {max(asked, default=0)} at most; of a lesson "
         f"{sum(lessons) / max(len(lessons), 1):.2f}, {max(lessons, default=0)}; turns {turns:.2f} times")  # fmt: skip


def right(misheard: float, number: int, steps: Sequence[str], first: int) -> None:
    """Lessons in which nothing is done wrongly."""
    from coach.simulation import Learner, random_cube

    outcomes = []
    for seed in range(first, first + number):
        step = steps[seed % len(steps)]
        outcomes.append(held(step, Learner(random_cube(step, Random(seed)), Random(seed)), Random(seed), 0, misheard))
        if outcomes[-1].repairs:
            print(f"    {step}, seed {seed}: {outcomes[-1].repairs} repaired", flush=True)
    repaired, solved = sum(o.repairs > 0 for o in outcomes), sum(o.solved for o in outcomes)
    title = f"no slip, {misheard:.0%} of answers misheard" if misheard else "no slip"
    fact(title, f"{number} lessons: {repaired} with something repaired, {solved} solved")


def solves(notices: float, number: int, first: int) -> list[Outcome]:
    """Whole solves with a slip now and then, against the same cubes without."""
    from coach.simulation import Learner, random_cube
    from coach.simulation.slipping import SLIPS, SlippingLearner

    found = []
    for seed in range(first, first + number):
        cube, random = random_cube("bottom-cross", Random(seed)), Random(seed + 5)
        plain = held("bottom-cross", Learner(cube, Random(seed)), Random(seed))

        def slip(number, say, random=random):
            return random.choice(SLIPS) if random.random() < RATE else ""

        learner = SlippingLearner(cube, Random(seed), slip)
        found.append((held("bottom-cross", learner, random, notices), plain))
        outcome = found[-1][0]
        print(f"    seed {seed}: {len(learner.slipped)} slips, {outcome.turns} turns for {plain.turns}, "
              f"{outcome.questions} questions for {plain.questions}{', read' * outcome.read}"
              f"{', NOT SOLVED' * (not outcome.solved)}", flush=True)  # fmt: skip
    tell(f"3% slips, {notices:.0%} noticed", found)
    questions = sorted(plain.questions for _, plain in found)
    fact("questions of the same solves without slips", f"median {questions[len(questions) // 2]}, most {questions[-1]}")
    return [outcome for outcome, _ in found]


def slips(arguments: Sequence[str] = ()) -> None:
    from coach.dialogue.lesson import ALL_STEPS

    parser = argparse.ArgumentParser(prog="scripts/bench slips", description=__doc__)
    parser.add_argument("number", nargs="?", type=int, default=20, metavar="N", help="lessons from each step; solves")
    parser.add_argument("--step", choices=ALL_STEPS, help="from this step only")
    parser.add_argument("--only", choices=KINDS, action="append", help="only these simulations")
    parser.add_argument("--seed", type=int, default=0, help="the first seed")
    args = parser.parse_args(arguments)
    steps = [args.step] if args.step else list(ALL_STEPS)
    head()
    for kind in args.only or KINDS:
        outcomes: list[Outcome] = []
        if kind in PLACES:
            found = []
            for step in steps:
                found += (some := few_slips(kind, step, range(args.seed, args.seed + args.number)))
                tell(f"{kind}, {step}", some)
            tell(f"{kind}, all", found)
            outcomes = [outcome for outcome, _ in found]
        elif kind in ("none", "misheard"):
            right(MISHEARD * (kind == "misheard"), args.number * len(steps), steps, args.seed)
        else:
            outcomes = solves(NOTICED * (kind == "noticed"), args.number, args.seed)
        if outcomes:
            row(f"{kind}: deciding", [1000 * took for outcome in outcomes for took in outcome.seconds])
