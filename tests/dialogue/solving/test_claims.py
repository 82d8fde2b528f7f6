"""Nobody who has said yes to a question is asked the same again straight after it; whoever answers wrongly now and then
is led to the end all the same."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest

from coach.belief.evidence import Answered, Look, Stickers, follows
from coach.cube import PLACE_NUMBER
from coach.dialogue import Ask, CallTurn, Event, Heard, Listen, Rotate, Say
from coach.dialogue.lesson import Lesson
from coach.method import default_method
from coach.simulation import holding, random_cube
from coach.simulation.slipping import SLIPS, SlippingLearner
from tests.loaded import load

LANGUAGE = load()
STEPS = [step.id for step in default_method().steps]


def held(seed: int) -> list[Say | Event]:
    """What is said and heard in a lesson with a slip now and then and many answers that are wrong."""
    step, random, slips = STEPS[seed % len(STEPS)], Random(seed), Random(seed + 1)

    def slip(number: int, say: Say) -> str:
        return slips.choice(SLIPS) if slips.random() < 0.05 else ""

    def heard_as(text: str, listen: Listen) -> str:
        return holding.misheard(text, listen, random) if random.random() < 0.15 else text

    learner = SlippingLearner(random_cube(step, Random(seed)), Random(seed), slip)
    answer = holding.answering(learner, LANGUAGE, lambda: random.random() < 0.5, heard_as)
    events: list[Event] = []

    def kept(listen: Listen) -> Event:
        events.append(answer(listen))
        return events[-1]

    lesson = Lesson(default_method(), LANGUAGE.sentences, step, None, LANGUAGE.offers)
    acts = holding.hold(lesson, learner, kept)
    heard = iter(events)
    return [act if isinstance(act, Say) else next(heard) for act in acts if isinstance(act, Say | Listen)]


def asked_after_a_yes(said: list[Say | Event]) -> Iterator[str]:
    """The claims that are asked again straight after a yes to them, with no turn in between."""
    claim: object = None
    confirmed = False
    for each in said:
        if isinstance(each, Heard):
            confirmed |= bool(each.meaning and each.meaning.command == "yes")
        elif isinstance(each, Ask | CallTurn | Rotate):
            now = each.query.claim if isinstance(each, Ask) else ()
            if now and now == claim and confirmed:
                yield each.text
            claim, confirmed = now, False


@pytest.mark.parametrize("seed", [123, 127, 162])
def test_what_was_just_confirmed_is_not_asked_again(seed: int) -> None:
    """In two searches of a slip, and in a reading of the cube."""
    assert not [*asked_after_a_yes(held(seed))]


@pytest.mark.parametrize("seed", [149])
def test_a_side_that_is_told_wrongly_ends_no_lesson(seed: int) -> None:
    assert held(seed)


U0, U1, U2 = (PLACE_NUMBER[place] for place in ("U0", "U1", "U2"))


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (Stickers(((U0, "U"), (U1, "U"))), True),
        (Stickers(((U0, "U"), (U1, "F"))), False),
        (Stickers(((U0, "U"), (U2, "U"))), False),  # of the second nothing is known
        (Answered(((U0, "U"), (U1, "U")), yes=True), True),
        (Answered(((U0, "U"), (U1, "F")), yes=False), True),
        (Answered(((U0, "U"),), yes=False), False),
        (Answered(((U2, "U"),), yes=True), False),
        (Look({"U0": True, "U1": True}), True),
        (Look({"U0": True, "U1": False}), False),
    ],
)
def test_what_follows_from_what_is_known(said: Stickers | Answered | Look, expected: bool) -> None:
    assert follows(said, {U0: "U", U1: "U"}) == expected
