"""Set-ups in breaths: several turns and one pause for somebody used to calls, as long as nothing goes wrong."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import pytest

from coach.cube import Cube
from coach.dialogue import Act, CallTurn, Event, Listen, Practised, SlipFound
from coach.dialogue.pace import LONGEST, Pace
from coach.dialogue.practice.choosing import all_items, kinds
from coach.dialogue.solving.breaths import in_one_breath
from coach.learning.exercise import Exercise
from coach.learning.learned import Learned
from coach.method import default_method
from tests.dialogue.hands import command
from tests.dialogue.practice.pupil import Practising, fresh, hold, knows, practice
from tests.learning.made import tried

ITEMS = all_items(default_method())


def used_to_it(days: Sequence[int] = (-3, -2, -1), help: int = 1) -> list[Exercise]:
    """Some exercises on each of those days."""
    each_day = [*zip(days, (4, 3, help), strict=True)]
    return [tried(day, level, "unaided", item) for item in ITEMS for day, level in each_day]


def session(exercises: Sequence[Exercise], pupil: Practising | None = None, pace: Pace | None = None,
            answer: Callable[[Practising], Event] = Practising.answer, few: bool = True) -> Practising:  # fmt: skip
    """A session of a few exercises; without a `few` turns in one breath from the beginning on, where so wished."""
    one = practice(fresh(exercises), 6.0, "top-face")
    one._items = kinds(one._items, "do")
    one._elapsed = lambda: 60.0 * len(one._tried)
    one.talk.pace, one.talk.attempts.breaths = pace or one.talk.pace, few
    pupil = hold(one, pupil or Practising(Cube()), answer, truthful=pupil is None)
    assert knows(one, pupil)
    return pupil


def breaths(acts: Sequence[Act]) -> list[tuple[int, float]]:
    """How many turns of set-ups were called between two pauses, and how long the second one is."""
    found, calls = [], 0
    for act in acts:
        calls += isinstance(act, CallTurn) and not act.case
        if isinstance(act, Listen):
            found += [(calls, act.seconds)] * (calls > 0)
            calls = 0
    return found


@pytest.mark.parametrize("turns", range(1, 60))
def test_breaths_are_about_as_long_as_each_other(turns: int) -> None:
    sizes = []
    while turns:
        sizes.append(in_one_breath(turns))
        turns -= sizes[-1]
    assert max(sizes) <= 3 and max(sizes) - min(sizes) <= 1
    assert sizes == [1] or min(sizes) > 1


def test_who_is_used_to_calls_hears_a_few_turns_in_one_breath_with_time_for_all() -> None:
    found = breaths(session(used_to_it()).acts)
    one, three = Pace().seconds, {seconds for turns, seconds in found if turns == 3}
    assert {turns for turns, _ in found} <= {1, 2, 3} and sum(turns > 1 for turns, _ in found) > len(found) / 2
    assert three == {2 * one} and all(seconds > one for turns, seconds in found if turns > 1)


@pytest.mark.parametrize("exercises", (
    [], used_to_it((0, 0, 0)), used_to_it((-1, 0, 0)), used_to_it((-3, -2, -1), help=4)[::3],
    [replace(each, result="helped") for each in used_to_it()],
    [replace(each, item=replace(each.item, kind="recite")) for each in used_to_it()],
))  # fmt: skip
def test_who_is_not_hears_one_turn_at_a_time(exercises: list[Exercise]) -> None:
    assert not Learned(exercises=exercises, today=fresh().today).used_to_it
    pupil = session([each for each in exercises if each.help == 4])
    assert {turns for turns, _ in breaths(pupil.acts)} == {1}


def test_on_the_learners_word_it_is_one_turn_at_a_time() -> None:
    pupil = session(used_to_it(), pace=Pace(on_word=True))
    assert {turns for turns, seconds in breaths(pupil.acts) if seconds > LONGEST} == {1}


@dataclass
class Slipping(Practising):
    """Does one turn the other way round: the one called as number `at` of all."""

    at: int = 0

    def take(self, acts: Sequence[Act]) -> None:  # type: ignore[override]
        for act in acts:
            super().take([act])
            if isinstance(act, CallTurn) and len(self.calls) == self.at:
                self.cube = self.cube.do((act.turn.inverse, act.turn.inverse))


@pytest.mark.parametrize("at", (2, 5, 9, 12))
@pytest.mark.parametrize("help", (1, 2))
def test_a_slip_in_a_set_up_is_found_as_if_all_had_been_called_one_by_one(help: int, at: int) -> None:
    few, single = (session(used_to_it(help=help), Slipping(Cube(), at=at), few=few) for few in (True, False))
    assert [ask.text for ask in few.asked] == [ask.text for ask in single.asked]
    assert few.practised == single.practised and few.calls == single.calls
    found = next(number for number, act in enumerate(few.acts) if isinstance(act, SlipFound | Practised))
    before, after = breaths(few.acts[:found]), breaths(few.acts[found:])
    assert max(turns for turns, _ in before) > 1 and {turns for turns, _ in after} == {1}


def test_a_slip_that_is_told_in_the_pause_after_a_breath_may_be_any_turn_of_it() -> None:
    pupil, told = Slipping(Cube(), at=4), False

    def answer(pupil: Practising) -> Event:
        nonlocal told
        if pupil.listen.asked == "turn" and len(pupil.calls) >= 4 and not told:
            told = True
            return command("mistake")
        return pupil.answer()

    session(used_to_it(), pupil, answer=answer)
    assert told and any(isinstance(act, SlipFound) for act in pupil.acts)


def test_each_turn_of_a_breath_is_an_act_of_its_own_and_numbered() -> None:
    pupil = session(used_to_it())
    calls = [act for act in pupil.acts if isinstance(act, CallTurn)]
    runs = [[*each] for _, each in groupby(calls, lambda act: act.sequence)]
    assert runs and all([act.n for act in run] == [*range(1, len(run) + 1)] for run in runs)
