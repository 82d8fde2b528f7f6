"""A simulated class: pupils with cubes of their own who follow what is said to all, and hold up their hands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from random import Random

from coach.cube import PLACE_NUMBER, Cube, Turn
from coach.dialogue import Act, Ask, CallTurn, End, Heard, Listen, Query, Rotate, Say, SendOff, TakePart, TurnIntoHold
from coach.dialogue.acts import Silence
from coach.dialogue.classroom import ClassLesson
from coach.dialogue.lesson import Settings
from coach.language.meaning import USUAL_COLOURS, Meaning
from coach.method import TURNS_ABOUT_UP, Method, default_method
from tests.loaded import load

_OTHERWISE = ((), (2,), (3,))


@dataclass
class Pupil:
    """One of them, with a cube in their hands; `slips` is the chance that a turn goes wrong."""

    cube: Cube
    random: Random
    slips: float = 0.0
    late: bool = False
    takes_part: bool = True
    """Whether they do what they hear, and hold up a hand; who rests does neither."""
    away: bool = False
    turned: bool = False
    """Whether they have turned the whole cube in this run."""
    slipped: int = 0
    hand_up: bool = False

    def has(self, seen: object, method: Method, step: str) -> bool:
        """Whether they have a case or what is claimed."""
        faces = self.cube.faces
        if isinstance(seen, str):
            return any(case.id == seen and case.fits(faces) for each in method.top_steps for case in each.cases)
        assert isinstance(seen, tuple)
        return all(USUAL_COLOURS[faces[PLACE_NUMBER[f"{face}{place}"]]] == colour for face, place, colour in seen)

    def hear(self, say: Say, method: Method) -> None:
        if self.away:
            return
        if isinstance(say, TakePart):
            self.takes_part, self.turned = any(self.has(seen, method, say.step) for seen in say.cases), False
        elif isinstance(say, SendOff):
            self.away = not (self.hand_up or (say.unless and self.has(say.unless, method, "")))
        elif not self.takes_part:
            return
        elif isinstance(say, TurnIntoHold) and not self.turned:
            way = next((turn for claim, turn in say.ways if self.has(claim, method, say.step)), None)
            if way:
                self.turned, self.cube = True, self.cube.turn(way)
        elif isinstance(say, Rotate):
            self.cube = self.cube.turn(say.rotation)
        elif isinstance(say, CallTurn):
            self.cube = self.cube.do(self._done(say.turn))

    def _done(self, turn: Turn) -> Sequence[Turn]:
        if self.random.random() >= self.slips:
            return (turn,)
        self.slipped += 1
        other = Turn(self.random.choice([face for face in "URFL" if face != turn.face]), turn.quarters)
        return self.random.choice([(), (turn, turn), (turn.inverse,), (other,)])

    def answer(self, yes: bool) -> None:
        """Raise a hand for yes; the hold is lost."""
        self.hand_up = yes
        self.cube = self.cube.do(self.random.choice(TURNS_ABOUT_UP))


@dataclass
class Held:
    """A class lesson that has been held."""

    lesson: ClassLesson
    pupils: list[Pupil]
    acts: list[Act] = field(default_factory=list)

    @property
    def end(self) -> End:
        last = self.acts[-1]
        assert isinstance(last, End)
        return last

    def said(self, kind: type[Say]) -> list[Say]:
        return [act for act in self.acts if isinstance(act, kind)]

    def runs(self, *steps: str) -> int:
        """How many runs with turns were called in these steps; one that goes on after a check is the same."""
        acts = [act for act in self.acts if isinstance(act, TakePart | CallTurn)]
        begun = [then for act, then in pairwise(acts) if isinstance(act, TakePart) and isinstance(then, CallTurn)]
        return sum(act.step in steps and act.n == 1 for act in begun)

    def counts(self, until: str = "") -> int:
        """How often hands were asked for, until the step with that id."""
        steps = [isinstance(act, TakePart) and act.step == until for act in self.acts]
        acts = self.acts[: steps.index(True) if until else None]
        return sum(isinstance(act, Ask) and act.query.asks == "hands" for act in acts)


Answer = Callable[[Query, Listen, int], Heard | Silence | None]
"""What is said at the n-th Listen, instead of what is so."""


def hold(lesson: ClassLesson, pupils: list[Pupil], answer: Answer | None = None, most: int = 3000) -> Held:
    """Hold a class lesson to its end. `answer` may have pupils come and go."""
    held = Held(lesson, pupils)
    acts, query = lesson.start(), Query("other")
    for number in range(most):
        for act in acts:
            if isinstance(act, Say):
                for pupil in pupils:
                    pupil.hear(act, lesson.method)
            if isinstance(act, Ask):
                query = act.query
        held.acts += acts
        if isinstance(acts[-1], End):
            return held
        listen = acts[-1]
        assert isinstance(listen, Listen)
        heard = (answer and answer(query, listen, number)) or _answer(listen, query, held)
        acts = lesson.handle(heard)
    raise AssertionError("the lesson does not end")


def _answer(listen: Listen, query: Query, held: Held) -> Heard | Silence:
    if listen.asked == "hands" and query.about == "size":
        return number(sum(not pupil.away for pupil in held.pupils))
    if listen.asked == "hands":
        there = [pupil for pupil in held.pupils if not pupil.away]
        for pupil in there:
            pupil.answer(pupil.takes_part and pupil.has(query.about or query.claim, held.lesson.method, ""))
        return number(sum(pupil.hand_up for pupil in there))
    if listen.asked == "ready" and query.asks == "ready":
        return Heard("ready", Meaning(command="ready"))
    if listen.asked == "continue":
        return Heard("go on", Meaning(command="resume"))
    if listen.asked in ("claim", "other"):
        return Heard("yes", Meaning(command="yes"))
    return Silence(listen.seconds)


def number(count: int) -> Heard:
    return Heard(str(count), Meaning(number=count))


def a_class(cubes: Sequence[Cube], seed: int = 0, slips: float = 0.0) -> list[Pupil]:
    """Pupils with these cubes, each in some hold."""
    random = Random(seed)
    held = [cube.do(random.choice(TURNS_ABOUT_UP)) for cube in cubes]
    return [Pupil(cube, Random(seed * 1000 + number), slips) for number, cube in enumerate(held)]


def lesson(step: str | None = None, settings: Settings | None = None) -> ClassLesson:
    language = load()
    return ClassLesson(default_method(), language.sentences, step, settings, language.offers)
