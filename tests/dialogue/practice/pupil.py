"""Somebody who practises: holds a real cube, knows the method by heart, and answers as meanings."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from coach.cube import FACES, Turn
from coach.cube.last_layer_plan import as_held
from coach.dialogue import Ask, Event, Practised, Silence
from coach.dialogue.practice.lower_routes import next_move
from coach.dialogue.practice.placing import NEXT_PIECE, NEXT_STEP
from coach.dialogue.practice.session import Practice
from coach.dialogue.practice.setups import Setups
from coach.language.meaning import Meaning
from coach.learning.learned import Learned
from coach.method import TURNS_ABOUT_UP, Case, PlacingCase, Step, cases_of, default_method
from coach.method.last_layer import lower_layers_whole
from tests.dialogue.hands import COLOURS, Hands, command
from tests.dialogue.hearing import utter
from tests.learning.made import DAY
from tests.loaded import load

METHOD = default_method()
SETUPS = Setups(METHOD)
"""Its tables are made only once."""
_FACING = re.compile(r"with (\w+) facing you")
Wrongly = Callable[["Practising", tuple[Turn, ...]], tuple[Turn, ...]]
"""What is done instead of the turns that are right."""


def case(step: str, case_id: str) -> Case | PlacingCase:
    """A case of the method."""
    return next(each for each in cases_of(METHOD.step(step)) if each.id == case_id)


@dataclass
class Practising(Hands):
    """Practises truthfully: says what they have done, and answers questions about the cube by what they see."""

    wrongly: Wrongly = lambda self, turns: turns
    solves_last: bool = False
    """Whether they want the cube solved at the end."""
    tries: list[tuple[Ask, bool]] = field(default_factory=list)
    """Each time that they did a sequence on their own: the question, and whether it was done rightly."""

    @property
    def practised(self) -> list[Practised]:
        return [act for act in self.acts if isinstance(act, Practised)]

    def answer(self) -> Event:
        asked, query = self.listen.asked, self.question.query
        if asked == "do":
            return self._do()
        if asked == "recite":
            return self._recite()
        if asked == "hold":
            return self._hold()
        if asked == "ready":
            return Silence(self.listen.seconds)
        if asked == "other" and query.about == "solved":
            return command("yes" if self.cube.solved else "no")
        if asked == "other" and query.about == "solve-last":
            return command("yes" if self.solves_last else "no")
        return super().answer()

    def _do(self) -> Event:
        """Do what is left of the sequence, and say so; or say that they are lost, if the cube is not in the case."""
        query, before = self.question.query, [ask.query for ask in self.asked[-3:-1]]
        if [each.about for each in before] == ["", "right"] and before[0] == query:
            return command("done")  # it was misheard that something is wrong
        if not query.case:  # a whole step, in a lesson
            return command("call-it")
        right = self._rest(query.step, query.case, query.help or 0)
        if right is None:
            return command("lost")
        done = self.wrongly(self, right)
        self.cube = self.cube.do(done)
        self.tries.append((self.question, done == right))
        return command("done")

    def _rest(self, step_id: str, case_id: str, help: int) -> tuple[Turn, ...] | None:
        step, one = METHOD.step(step_id), case(step_id, case_id)
        if help == 2:
            return one.sequence[1:]
        if isinstance(step, Step):
            assert isinstance(one, Case)
            pattern = as_held(self.cube).faces
            if not (lower_layers_whole(as_held(self.cube)) and one.fits(pattern)):
                return None
            holds = one.holds(pattern)
            front = self._front_told()
            if front:
                holds = tuple(turns for turns in TURNS_ABOUT_UP if self._faces(front, turns))
            elif len(holds) > 1:
                holds = ((),)
            return (*holds[0], *one.sequence)
        there = next_move(METHOD, step, as_held(self.cube))
        return there[1].turns if there and there[1].case.id == case_id else None

    def _faces(self, front: str, turns: tuple[Turn, ...]) -> bool:
        return COLOURS[self.cube.do(turns).centres[FACES.index("F")]] == front

    def _front_told(self) -> str:
        """The colour that the coach has said is to face them, since it asked something else."""
        says = self.says
        asks = [at for at, say in enumerate(says) if isinstance(say, Ask)]
        told = [found[1] for say in says[asks[-2] :] for found in [_FACING.search(say.text)] if found]
        return told[-1] if told else ""

    def _recite(self) -> Event:
        query = self.question.query
        turns = self.wrongly(self, case(query.step, query.case).sequence)
        return utter("turns", Meaning(turns=tuple(map(str, turns))))

    @property
    def higher_layer(self) -> str:
        """The higher one of two layers spoken of last."""
        told = next(text for text in reversed(self.texts) if " layer" in text)
        return "top" if "top layer" in told else "middle"

    def _hold(self) -> Event:
        query = self.question.query
        if query.case == NEXT_STEP:
            return utter("hold", Meaning(step=query.step))
        if query.case == NEXT_PIECE:
            return utter("hold", Meaning(case=self.higher_layer))
        one = case(query.step, query.case)
        if isinstance(one, PlacingCase):
            return utter("hold", placed_by(one))
        return utter("hold", told_of(query.step, one))


def placed_by(one: PlacingCase) -> Meaning:
    """The right answer to the question how a piece is placed."""
    sides = {"F": "U7", "R": "U5", "B": "U1", "L": "U3"}
    return Meaning(case=one.named.id, look={sides[face]: True for face in one.at if face in sides})


def told_of(step: str, one: Case) -> Meaning:
    """The right answer to the question for a case."""
    if step == "top-cross":
        look = {place: place in one.hold.shows for place in ("U1", "U3", "U5", "U7")}
        return Meaning(case=one.id, look=look if one.hold.shows else {})
    if step == "top-face":
        return Meaning(look=dict.fromkeys(one.hold.shows, True), corners=one.count["corners"])
    sides = {"F": "U7", "R": "U5", "B": "U1", "L": "U3"}
    places = [one.hold.same[0][0], *(group[1] for group in one.hold.same[1:])]
    return Meaning(look={sides[place[0]]: True for place in places})


def practice(learned: Learned | None = None, minutes: float = 10.0, focus: str = "") -> Practice:
    """A session of somebody who has learned this so far."""
    one = Practice(METHOD, load().sentences, learned or fresh(), minutes)
    one._focus, one._setups = focus, SETUPS
    return one


def fresh(exercises: Sequence[object] = ()) -> Learned:
    """What somebody has learned by now, on DAY."""
    return Learned(METHOD.name, [*exercises], DAY, fades=True, origin="practice")  # type: ignore[list-item]


def hold(one: Practice, pupil: Practising, answer: Callable[[Practising], Event] = Practising.answer,
         most: int = 3000, truthful: bool = True) -> Practising:  # fmt: skip
    """The whole session. As long as all is done rightly (`truthful`), the coach knows the cube."""
    pupil.take(one.start())
    for _ in range(most):
        if pupil.end:
            return pupil
        in_doubt = pupil.listen.asked == "other" and pupil.question.query.about == "right"
        assert in_doubt or not (truthful and one.knowledge.complete) or knows(one, pupil), pupil.texts[-8:]
        pupil.take(one.handle(answer(pupil)))
    raise AssertionError(f"no end within {most} answers: {pupil.texts[-12:]}")


def knows(one: Practice, pupil: Practising) -> bool:
    """Whether the coach knows the cube as it is."""
    return one.knowledge.reading.pattern == pupil.cube.faces

