"""What becomes of accidents: a cube that falls, and a cube that is turned another way than asked while it is read."""

import argparse
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from benches import fact

KINDS = ("falls", "misheld", "misread", "plain")
HOLD = re.compile(r"Hold the cube with (\w+) on top and (\w+) facing you")
MOST = 700
ENOUGH, READING, NOT_FITTING = "That's enough", "Please read me", ("I can't make", "I may have", "Perhaps the cube")
OVER = ("By all you've told me", "I can't find", "I can't work out", "Good, then nothing", "Then I take", READING)


def holder(cube):
    """Truthful hands that hold the cube as they are told."""
    from coach.cube.search import ROTATIONS_TO
    from coach.dialogue import Tell
    from coach.language.meaning import USUAL_COLOURS
    from tests.dialogue.hands import Hands

    faces = {colour: face for face, colour in USUAL_COLOURS.items()}

    class Holder(Hands):
        def take(self, acts):
            for act in acts:
                super().take([act])
                if isinstance(act, Tell) and (told := HOLD.search(act.text)):
                    up, front = (faces.get(word) for word in told.groups())
                    ways = map(self.cube.do, ROTATIONS_TO.values())
                    self.cube = next((c for c in ways if (c.centres[4], c.centres[0]) == (up, front)), self.cube)

        def heard(self, texts, since=0):
            """Whether a sentence that begins like one of `texts` was said since that act."""
            return any(getattr(act, "text", "").startswith(texts) for act in self.acts[since:])

    return Holder(cube)


def known_truly(lesson, hands) -> bool:
    """Whether what the coach takes to be known is so."""
    from tests.dialogue.hands import check

    try:
        check(lesson, hands)
    except AssertionError:
        return False
    return True


# Falls


@dataclass
class Fall:
    """A fall at listen number `at`: what `turned`, whether it is `kept` in its hold and the open call was `done`
    before, and what the learner `says` of it. Then what became of it: `wrong`, something else was found than had
    happened, or all was said to be as it should be."""

    step: str
    seed: int
    at: int
    turned: tuple
    kept: bool
    done: bool
    says: str
    asked: str = ""
    questions: int = 0
    read: bool = False
    solved: bool = False
    wrong: bool = False


def random_falls(number: int, first: int) -> Iterator[Fall]:
    """In two of seven falls nothing turned, in one two sides."""
    from coach.cube import FACE_TURNS
    from coach.dialogue.lesson import ALL_STEPS
    from coach.simulation import random_cube
    from tests.dialogue.hands import new_lesson

    quarters = [turn for turn in FACE_TURNS if turn.quarters != 2]
    for seed in range(first, first + number):
        step, random = ALL_STEPS[seed % len(ALL_STEPS)], Random(seed + 1000)
        lesson, hands, listens = new_lesson(step), holder(random_cube(step, Random(seed))), 0
        hands.take(lesson.start())
        while not hands.end:
            hands.take(lesson.handle(hands.answer()))
            listens += 1
        at = random.randrange(1, max(2, min(listens, 60)))
        sides = random.choice((1, 1, 1, 1, 2, 0, 0))
        turned = tuple(random.sample(quarters, sides))
        if turned and random.random() < 0.15:
            turned = (random.choice(FACE_TURNS), *turned[1:])
        says = random.choice(("yes", "yes", "unsure") if turned else ("no", "unsure"))
        yield Fall(step, seed, at, turned, random.random() < 0.5, random.random() < 0.7, says)


def fallen(fall: Fall) -> None:
    """Hold the lesson in which that happens."""
    from coach.cube.search import ROTATIONS_TO
    from coach.dialogue import Ask, Rotate, SlipFound
    from coach.simulation import random_cube
    from tests.dialogue.hands import command, new_lesson
    from tests.dialogue.hearing import utter

    random = Random(fall.seed)
    lesson, hands = new_lesson(fall.step), holder(random_cube(fall.step, random))
    hands.take(lesson.start())
    for _ in range(fall.at):
        hands.take(lesson.handle(hands.answer()))
    fall.asked = hands.listen.asked
    if fall.asked == "turn" and not fall.done:
        hands.cube = hands.cube.do((hands.calls[-1].inverse,))
    if fall.asked == "ready" and not fall.done and isinstance(hands.says[-1], Rotate):
        hands.cube = hands.cube.do((hands.says[-1].rotation.inverse,))
    hands.cube = hands.cube.do(fall.turned)
    hands.cube = hands.cube if fall.kept else hands.cube.do(random.choice([*ROTATIONS_TO.values()]))
    begun, over = len(hands.acts), False
    hands.take(lesson.handle(utter("oh no, I dropped it", None, at=hands.listen)))
    hands.take(lesson.handle(command(fall.says)))
    if fall.says == "no" and fall.asked == "turn" and not fall.done:
        hands.cube = hands.cube.do(hands.calls[-1:])  # they are told to do it if they have not
    for _ in range(MOST):
        found = any(isinstance(act, SlipFound) for act in hands.acts[begun:])
        if not over and (found or hands.heard(OVER, begun)):
            over = True
            fall.questions = sum(isinstance(act, Ask) for act in hands.acts[begun:])
            fall.wrong = not hands.heard((READING, "I can't"), begun) and not known_truly(lesson, hands)
        if hands.end:
            break
        hands.take(lesson.handle(hands.answer()))
    fall.read, fall.solved = hands.heard(READING), hands.cube.solved


def falls(number: int, first: int) -> None:
    """Falls at random moments of lessons from every step."""
    found = []
    for fall in random_falls(number, first):
        fallen(fall)
        found.append(fall)
        if fall.wrong or fall.read or not fall.solved:
            how = "read" * fall.read + " falsely known" * fall.wrong + " not solved" * (not fall.solved)
            turned = " ".join(map(str, fall.turned))
            print(f"    {fall.step}, seed {fall.seed}, {fall.asked}: {turned}, {fall.says}: {how}", flush=True)
    for sides in (0, 1, 2):
        for says in ("yes", "unsure", "no"):
            tell_falls(f"{sides} turned, {says}", [f for f in found if (len(f.turned), f.says) == (sides, says)])
    tell_falls("in the pause after a call", [f for f in found if f.asked == "turn"])
    tell_falls("while the whole cube is turned", [f for f in found if f.asked == "ready"])
    tell_falls("all", found)


def tell_falls(title: str, falls: Sequence[Fall]) -> None:
    """What became of them, in a line."""
    if falls:
        asked = [fall.questions for fall in falls]
        unread = sum(fall.solved and not fall.read for fall in falls)
        fact(title, f"{len(falls)} falls: {sum(fall.solved for fall in falls)} solved, {unread} without reading, "
             f"{sum(fall.wrong for fall in falls)} falsely known; {sum(asked) / len(asked):.1f} questions, "
             f"{max(asked)} at most")  # fmt: skip


# Readings


@dataclass
class Read:
    """A reading in which something happens: what, after how many questions it is `noticed` that something does not fit,
    how many questions come after it in all, and whether the right cube is known in the right hold then."""

    seed: int
    what: str = ""
    noticed: int = MOST
    questions: int = 0
    looked: bool = False
    right: bool = False


def read_aloud(kind: str, seed: int) -> Read:
    """A random cube that is read; `misheld`: one of the first turns of the whole cube is done in another way or not at
    all; `misread`: one sticker of one row is read as another colour."""
    from coach.cube import ROTATIONS
    from coach.dialogue import Ask, Rotate
    from coach.language.meaning import USUAL_COLOURS, Meaning
    from coach.simulation import scrambled
    from tests.dialogue.hands import new_lesson
    from tests.dialogue.hearing import utter

    random, choice = Random(seed), Random(seed + 77)
    at = choice.randint(1, 4) if kind == "misheld" else choice.randint(0, 10) if kind == "misread" else -1
    read, since, turns, rows = Read(seed), 0, 0, 0
    lesson, hands = new_lesson(None), holder(scrambled(random))

    def take(acts):
        nonlocal turns, since
        for act in acts:
            hands.take([act])
            turns += isinstance(act, Rotate)
            if isinstance(act, Rotate) and kind == "misheld" and turns == at and not hands.heard(ENOUGH):
                others = [None, act.rotation.inverse, *(turn for turn in ROTATIONS if turn != act.rotation)]
                done = random.choice([turn for turn in others if turn != act.rotation])
                hands.cube = hands.cube.do((act.rotation.inverse, *([done] if done else [])))
                read.what, since = f"{act.rotation} as {done}", len(hands.acts)

    take(lesson.start())
    while not (hands.end or hands.heard(ENOUGH)) and len(hands.asked) < MOST:
        said = hands.answer()
        if hands.listen.asked == "row":
            if kind == "misread" and rows == at:
                words, number = [*said.meaning.colours], random.randrange(3)
                words[number] = random.choice([word for word in USUAL_COLOURS.values() if word != words[number]])
                said, read.what, since = utter("row", Meaning(colours=tuple(words))), f"row {rows}", len(hands.acts)
            rows += 1
        take(lesson.handle(said))
    for act in hands.acts[since:]:
        if getattr(act, "text", "").startswith(NOT_FITTING):
            read.noticed = min(read.noticed, read.questions)
        read.questions += isinstance(act, Ask)
    read.looked = hands.heard("Perhaps the cube")
    read.right = lesson.knowledge.reading.pattern == hands.cube.faces
    return read


def readings(kind: str, number: int, first: int) -> None:
    """Readings of that kind."""
    found = [read_aloud(kind, seed) for seed in range(first, first + number)]
    found = [read for read in found if read.what or kind == "plain"]
    noticed, asked = sorted(read.noticed for read in found), sorted(read.questions for read in found)
    middle, most = len(found) // 2, len(found) * 9 // 10
    for read in found:
        if not read.right:
            print(f"    {read.what}, seed {read.seed}: another cube, after {read.questions} questions", flush=True)
    fact(kind, f"{len(found)} readings: the right cube in {sum(read.right for read in found)}; noticed after "
         f"{noticed[middle]} questions, {noticed[most]} in 90%; {asked[middle]} to the end, {asked[most]} in 90%; hold "
         f"asked for in {sum(read.looked for read in found)}")  # fmt: skip


def accidents(arguments: Sequence[str] = ()) -> None:
    parser = argparse.ArgumentParser(prog="scripts/bench accidents", description=__doc__)
    parser.add_argument("number", nargs="?", type=int, default=100, metavar="N", help="how many of each kind")
    parser.add_argument("--only", choices=KINDS, action="append", help="only these simulations")
    parser.add_argument("--seed", type=int, default=0, help="the first seed")
    args = parser.parse_args(arguments)
    for kind in args.only or KINDS:
        if kind == "falls":
            falls(args.number, args.seed)
        else:
            readings(kind, args.number, args.seed)
