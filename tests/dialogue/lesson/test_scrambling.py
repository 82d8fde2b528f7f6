"""A scramble that is called: the coach then knows the cube, whatever went wrong meanwhile."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from random import Random

import pytest

from coach.cube import Cube, Turn, parse
from coach.cube.scramble import scramble
from coach.dialogue import Act, Ask, CallTurn, Event, Silence
from coach.dialogue.lesson import Lesson, Settings
from coach.language.meaning import Change, Meaning
from tests.dialogue import lessons
from tests.dialogue.hands import Hands, command, new_lesson, play, solved
from tests.dialogue.hearing import utter
from tests.loaded import load

ENGLISH = load()
TURNS = scramble(Random(11))


def _lesson(turns: tuple[Turn, ...] = TURNS, **settings: object) -> Lesson:
    return new_lesson(None, Settings(scramble=turns, **settings))  # type: ignore[arg-type]


class Slipping(Hands):
    """Does something else instead of call number `at`."""

    at, instead = 0, ""

    def take(self, acts: Iterable[Act]) -> None:
        for act in acts:
            slips = isinstance(act, CallTurn) and len(self.turns) + 1 == self.at
            if slips:
                self.acts.append(act)
                self.cube = self.cube.do(self.instead)
            else:
                super().take([act])


def _begun(hands: Hands, lesson: Lesson, calls: int) -> None:
    """Until so many turns are called."""
    hands.take(lesson.start())
    while len(hands.turns) < calls:
        hands.take(lesson.handle(hands.answer()))


@pytest.mark.parametrize("seed", range(3))
def test_the_coach_leads_from_a_scramble_without_a_question_about_the_cube(seed: int) -> None:
    turns = scramble(Random(seed))
    held = lessons.hold(Cube(), None, seed, settings=Settings(scramble=turns))
    assert held.end.outcome == "done" and held.learner.cube.solved
    calls = [act.turn for act in held.acts if isinstance(act, CallTurn)]
    assert tuple(calls[: len(turns)]) == turns
    asked = [act.query for act in held.acts if isinstance(act, Ask)]
    assert [query.about for query in asked if query.asks != "claim"] == ["scramble"]
    assert len(asked) <= 10  # the check-ins


def test_a_scramble_is_no_step_and_the_coach_says_where_we_are() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    _begun(hands, lesson, 5)
    assert all(act.step == "scramble" for act in hands.says if isinstance(act, CallTurn))
    hands.take(lesson.handle(command("where")))
    assert f"turn 5 of {len(TURNS)}" in hands.texts[-1]
    assert solved(lesson, hands)


def test_a_turn_is_taken_back_or_called_again_as_in_any_run() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    _begun(hands, lesson, 4)
    hands.take(lesson.handle(command("back")))
    assert hands.turns[-1] == str(TURNS[3].inverse)
    hands.take(lesson.handle(Silence(2.5)))
    assert hands.turns[-1] == str(TURNS[3])
    hands.take(lesson.handle(command("repeat")))
    assert len(hands.turns) == 6
    assert solved(lesson, hands)


@pytest.mark.parametrize(("at", "instead"), [(3, ""), (9, "R"), (20, "U'"), (len(TURNS), "")])
def test_a_slip_that_nobody_notices_is_found_at_a_check(at: int, instead: str) -> None:
    lesson, hands = _lesson(), Slipping(Cube())
    hands.at, hands.instead = at, instead
    play(lesson, hands, most=900, truthful=False)
    assert hands.end and hands.end.outcome == "done" and hands.cube.solved


@pytest.mark.parametrize("at", [2, 12, len(TURNS)])
def test_a_slip_that_is_told_does_not_end_the_scramble(at: int) -> None:
    lesson, hands = _lesson(), Slipping(Cube())
    hands.at, hands.instead = at, str(TURNS[at - 1].inverse)
    _begun(hands, lesson, at)
    hands.take(lesson.handle(command("mistake")))
    while not hands.end:
        hands.take(lesson.handle(hands.answer()))
    assert hands.end.outcome == "done" and hands.cube.solved
    called = [act for act in hands.says if isinstance(act, CallTurn) and act.step == "scramble"]
    assert str(called[-1].turn) == str(TURNS[-1]) or at == len(TURNS)
    assert len(called) >= len(TURNS)


def _says(said: str) -> Callable[[Hands], Event]:
    def answer(hands: Hands) -> Event:
        if hands.listen.scene.about == "scramble":
            return utter(said, ENGLISH.understand(said, "ready", hands.listen.scene))
        return hands.answer()

    return answer


@pytest.mark.parametrize(
    "said", ["I've scrambled it", "it's mixed up already", "it isn't solved", "no, it's scrambled"]
)
def test_a_cube_that_is_scrambled_already_is_asked_about(said: str) -> None:
    lesson, hands = _lesson(), Hands(Cube().do("R U F D"))
    play(lesson, hands, _says(said))
    assert hands.end and hands.end.outcome == "done" and hands.cube.solved
    assert any(ask.query.about == "step" for ask in hands.asked)


def test_who_is_not_ready_yet_is_waited_for() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    hands.take(lesson.start())
    hands.take(lesson.handle(command("no")))
    assert hands.listen.asked == "ready" and not hands.turns
    assert solved(lesson, hands)


def test_who_stops_in_a_scramble_undoes_nothing_and_reads_the_cube_next_time() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    _begun(hands, lesson, 7)
    hands.take(lesson.handle(utter("stop", Meaning(command="stop"))))
    while not hands.end:
        hands.take(lesson.handle(command("yes")))
    assert len(hands.turns) == 7
    last = lesson.choices.last_time
    assert last and last.unread


def test_who_goes_to_another_step_leaves_the_scramble() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    _begun(hands, lesson, 3)
    hands.take(lesson.handle(utter("go", Meaning(change=Change(step="top-cross")))))
    hands.take(lesson.handle(command("yes")))
    assert len(hands.turns) == 3 and lesson.step == "top-cross"


def test_the_cube_is_read_if_the_learner_wants_that_in_mid_scramble() -> None:
    lesson, hands = _lesson(), Hands(Cube())
    _begun(hands, lesson, 6)
    hands.take(lesson.handle(command("read")))
    assert hands.listen.asked == "row"
    assert solved(lesson, hands)


def test_a_scramble_is_called_in_whatever_way_the_learner_likes() -> None:
    lesson, hands = _lesson(parse("R U'"), style="letters"), Hands(Cube())
    _begun(hands, lesson, 2)
    assert hands.texts[-1] == "And the last one: U prime."


def test_in_the_brief_manner_nothing_is_read_either() -> None:
    held = lessons.hold(Cube(), None, 5, settings=Settings(scramble=scramble(Random(5)), manner="brief"))
    assert held.end.outcome == "done" and held.learner.cube.solved
    assert not any(act.query.asks == "row" for act in held.acts if isinstance(act, Ask))
