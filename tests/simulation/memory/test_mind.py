"""A simulated learner recalls links of sequences, learns by it, and does at each level what is left to do."""

from __future__ import annotations

from random import Random

import pytest

from coach.method import default_method
from coach.simulation.memory.activation import Activation, Fading
from coach.simulation.memory.mind import Habits, Mind, links
from coach.simulation.memory.population import CHOSEN_ON, JUDGED_ON
from coach.simulation.memory.trying import do, recite, tell_hold

SWAP = next(sequence for sequence in default_method().sequences if sequence.id == "corner-swap")
CHAIN = links("top-corners", "no-pair", SWAP)
TURNS = len(SWAP.turns)


def mind(habits: Habits | None = None, tau: float = -0.704) -> Mind:
    fading = Fading(tau=tau)
    return Mind(lambda harder: Activation(fading, harder), habits or Habits(slips=0), Random(1))


FORGETS, RETAINS = 99.0, -99.0
"""Thresholds of recall that nothing reaches, and everything."""


class TestTrying:
    @pytest.mark.parametrize(("help", "called"), [(4, TURNS), (3, TURNS), (2, 4), (1, 0), (0, 0)])
    def test_who_knows_it_does_what_is_not_called(self, help: int, called: int) -> None:
        knows = mind(tau=RETAINS)
        for link in CHAIN:
            knows.told(link)
        tried = do(knows, "top-corners", "no-pair", SWAP, help)
        assert (tried.result, tried.called, tried.alone) == ("unaided", called, TURNS - called)

    def test_who_knows_nothing_can_only_be_told(self) -> None:
        for help, result in ((4, "unaided"), (2, "helped"), (0, "helped")):
            assert do(mind(Habits(slips=0, asks=1)), "top-corners", "no-pair", SWAP, help).result == result
        tried = do(mind(Habits(slips=0, asks=0), FORGETS), "top-corners", "no-pair", SWAP, 1)
        assert (tried.result, tried.called) == ("failed", TURNS)

    def test_who_turns_wrongly_and_does_not_notice_fails(self) -> None:
        clumsy = mind(Habits(slips=1, notices=0))
        assert do(clumsy, "top-corners", "no-pair", SWAP, 4).result == "failed"
        assert do(mind(Habits(slips=1, notices=1)), "top-corners", "no-pair", SWAP, 4).result == "unaided"


    def test_saying_it_and_telling_the_hold_teach_their_own_links(self) -> None:
        learner = mind(tau=FORGETS)
        assert recite(learner, "top-corners", "no-pair", SWAP).result == "failed"
        learner.model = lambda harder: Activation()
        assert learner.chance(CHAIN[:1]) == 0
        assert tell_hold(learner, "top-corners", "no-pair", SWAP).result == "failed"
        assert tell_hold(mind(tau=RETAINS), "top-corners", "no-pair", SWAP).result == "failed", "nobody has told it yet"


class TestJoining:
    def test_groups_done_together_on_several_days_become_one(self) -> None:
        learner = mind(Habits(slips=0, joins=2), RETAINS)
        for link in CHAIN:
            learner.told(link)
        for learner.day in (1, 2):
            do(learner, "top-corners", "no-pair", SWAP, 1)
        learner.model = lambda harder: Activation()
        first = learner.chance(CHAIN[1:2], days=9)
        assert learner.chance(CHAIN[1:], days=9) == first

    def test_called_turns_join_nothing(self) -> None:
        learner = mind(Habits(slips=0, joins=1))
        for learner.day in range(5):
            do(learner, "top-corners", "no-pair", SWAP, 4)
        assert learner.chance(CHAIN[1:]) < learner.chance(CHAIN[1:2])


def test_a_question_teaches_nothing() -> None:
    learner = mind()
    learner.told(CHAIN[1])
    before = learner.chance(CHAIN[1:2], days=3)
    assert learner.chance(CHAIN[1:2], days=3) == before > 0


def test_nobody_is_chosen_on_and_judged_on() -> None:
    assert not set(CHOSEN_ON) & set(JUDGED_ON)
    assert all(isinstance(habits, Habits) for maker in JUDGED_ON.values() for _, habits in [maker(Random(1))])
