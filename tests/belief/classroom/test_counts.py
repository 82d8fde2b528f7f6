"""What is known of a class is what every way of dealing the states to its pupils says, counted out one by one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from itertools import product
from math import comb

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.belief.classroom.counts import COUNT, RUN, Counts, Misfit
from coach.method import default_method, other_hand
from coach.method.unison import Unison, UnisonRun, unison

METHODS = (default_method(), other_hand(default_method()))
Dealt = Mapping[tuple[int, ...], float]


@cache
def of(number: int, hand: int = 0) -> Unison:
    return unison(METHODS[hand], METHODS[hand].top_steps[number])


def dealt(joint: Unison, size: int) -> Dealt:
    """Every way in which the pupils may stand, each as likely."""
    ways = list(product(range(len(joint.states)), repeat=size))
    return dict.fromkeys(ways, 1 / len(ways))


def moved(joint: Unison, state: int, run: UnisonRun) -> tuple[int, ...]:
    """What a state may become in a run: one for each hold, or itself for who rests."""
    case = joint.cases[state]
    return joint.goes(case, run.sequence.turns)[state] if case in run.cases else (state,)


def having_run(joint: Unison, ways: Dealt, run: UnisonRun) -> Dealt:
    found: defaultdict[tuple[int, ...], float] = defaultdict(float)
    for states, chance in ways.items():
        reached = list(product(*(moved(joint, state, run) for state in states)))
        for after in reached:
            found[after] += chance / len(reached)
    return found


def hands(joint: Unison, states: tuple[int, ...], case: str) -> int:
    return sum(joint.cases[n] == case for n in states)


def counted(joint: Unison, ways: Dealt, case: str, number: int) -> Dealt:
    left = {states: chance for states, chance in ways.items() if hands(joint, states, case) == number}
    whole = sum(left.values())
    return {states: chance / whole for states, chance in left.items()}


def agree(known: Counts, ways: Dealt) -> None:
    joint = known.unison
    assert known.present == {joint.cases[n] for states in ways for n in states}
    for case in joint.step.cases:
        expected = np.zeros(known.size + 1)
        for states, chance in ways.items():
            expected[hands(joint, states, case.id)] += chance
        np.testing.assert_allclose(known.likely(case.id), expected, atol=1e-9)


@pytest.mark.parametrize(("number", "size"), [(1, 1), (1, 2), (3, 1), (3, 2)])
@pytest.mark.parametrize("hand", [0, 1])
def test_what_is_known_is_what_every_way_to_deal_the_states_says(number: int, size: int, hand: int) -> None:
    joint = of(number, hand)
    known, ways = Counts.of(joint, size), dealt(joint, size)
    agree(known, ways)
    cases = [case.id for case in joint.step.cases]
    for run, case, other in zip(joint.plan(cases), cases[::-1], cases, strict=False):
        for asked in (case, other):
            few = int(known.likely(asked).argmax())
            known, ways = known.told(asked, few), counted(joint, ways, asked, few)
            agree(known, ways)
        known, ways = known.after(run), having_run(joint, ways, run)
        agree(known, ways)


def test_the_first_count_is_binomial() -> None:
    """An eighth of all cubes have a dot, and a half a corner shape."""
    known = Counts.of(of(0), 25)
    dots = [comb(25, n) * (1 / 8) ** n * (7 / 8) ** (25 - n) for n in range(26)]
    np.testing.assert_allclose(known.likely("dot"), dots)
    assert known.likely("corner").argmax() == 12


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_class_that_tells_the_truth_is_never_doubted_and_ends_done(data: st.DataObject) -> None:
    joint = of(data.draw(st.sampled_from([0, 1, 3])), data.draw(st.sampled_from([0, 1])))
    size = data.draw(st.integers(1, 12))
    pupils = data.draw(st.lists(st.integers(0, len(joint.states) - 1), min_size=size, max_size=size))
    cases = [case.id for case in joint.step.cases]
    known = Counts.of(joint, size)
    while known.plan:
        for case in data.draw(st.lists(st.sampled_from(cases), max_size=3)):
            raised = sum(joint.cases[n] == case for n in pupils)
            assert known.misfit(case, raised) is None and known.known(case) in (None, raised)
            known = known.told(case, raised)
            assert known.known(case) == raised, "what has been counted is not asked again"
        assert {joint.cases[n] for n in pupils} <= known.present
        if known.plan:
            run = known.plan[0]
            pupils = [data.draw(st.sampled_from(moved(joint, n, run))) for n in pupils]
            known = known.after(run)
    assert {joint.cases[n] for n in pupils} == {joint.done} and known.known(joint.done) == size


def test_what_follows_from_counts_is_known_and_not_asked() -> None:
    known = Counts.of(of(0), 10).told("dot", 2).told("corner", 5).told("cross", 3)
    assert known.known("line") == 0 and known.present == {"dot", "corner", "cross"}
    run = known.plan[0]
    assert run.cases == ("dot", "corner")
    after = known.after(run)
    assert (after.known("line"), after.known("cross"), after.known("dot")) == (2, 8, 0)
    assert after.question is None and after.after(after.plan[0]).plan == ()


def test_more_hands_than_pupils_and_sums_that_do_not_fit_cannot_be() -> None:
    known = Counts.of(of(0), 24)
    assert known.misfit("dot", 26) == Misfit(26, 24, 0, 24)
    assert known.misfit("dot", -1) == Misfit(-1, 24, 0, 24)
    assert known.misfit("dot", 24) is None
    later = known.told("dot", 10)
    assert later.misfit("corner", 15) == Misfit(15, 24, 0, 14)
    assert later.misfit("dot", 9) == Misfit(9, 24, 10, 10)
    ran = known.told("cross", 4).after(known.plan[0])
    assert ran.misfit("cross", 3) == Misfit(3, 24, 4, 24)
    with pytest.raises(ValueError, match="cannot have gone up"):
        later.told("corner", 15)


def test_a_large_class_is_asked_nothing_before_its_runs() -> None:
    for number in range(4):
        known = Counts.of(of(number), 25)
        while known.plan:
            assert known.question is None
            known = known.after(known.plan[0])


def test_a_small_class_is_asked_what_may_spare_a_run_and_only_when_it_may() -> None:
    """Of three, a quarter have nobody with a line after the first run: more than a count costs. Before it, the run for
    the others has to be done anyway."""
    known = Counts.of(of(0), 3)
    assert known.question is None
    after = known.after(known.plan[0])
    assert after.question == "line"
    spared = (5 / 8) ** 3
    assert spared * RUN > COUNT and after.likely("line")[0] == pytest.approx(spared)
    assert after.told("line", 0).plan == ()


def test_a_class_of_one_kind_of_cube_is_asked_nothing() -> None:
    joint = of(1)
    two_up = next(cube for cube, case in zip(joint.states, joint.cases, strict=True) if case == "two-up")
    known = Counts.of(joint, 25, [two_up])
    assert known.present == {"two-up"} and known.known("two-up") == 25 and known.question is None


def test_a_claim_that_is_free_of_the_front_counts_like_its_case() -> None:
    joint = of(0)
    known = Counts.of(joint, 9)
    (milestone,) = joint.milestone
    np.testing.assert_allclose(known.likely(milestone), known.likely("cross"))
    assert known.told(milestone, 9).plan == ()


def test_a_class_without_pupils_is_no_class() -> None:
    with pytest.raises(ValueError, match="at least one pupil"):
        Counts.of(of(0), 0)


def test_many_counts_of_a_large_class_stay_few_ways() -> None:
    """All that can be counted, before and after each run, in the largest class."""
    rng = np.random.default_rng(5)
    for number in (1, 3):
        joint = of(number)
        pupils = rng.integers(len(joint.states), size=40).tolist()
        known = Counts.of(joint, 40)
        while known.plan:
            for case in joint.step.cases:
                known = known.told(case.id, sum(joint.cases[n] == case.id for n in pupils))
                assert len(known.weights) < 5000
            if known.plan:
                run = known.plan[0]
                pupils = [int(rng.choice(moved(joint, n, run))) for n in pupils]
                known = known.after(run)
        assert {joint.cases[n] for n in pupils} == {joint.done}
