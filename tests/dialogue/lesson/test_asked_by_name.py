"""Whoever asks for a sequence by name, or for what to do in a case, is told all of it, and the lesson goes on."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue import Ask, Event, Listen, Practised, Tell
from coach.dialogue.lesson import ALL_STEPS
from coach.language.meaning import Wished
from coach.learning.learned import Learned
from coach.method import default_method
from coach.simulation import Learner, random_cube
from tests.dialogue.hearing import utter
from tests.dialogue.lesson.test_learned import LINE_KNOWN, at_level, exercises, lesson
from tests.dialogue.lessons import Held, hold
from tests.dialogue.practice.pupil import Practising, fresh, practice
from tests.dialogue.practice.pupil import hold as hold_practice

METHOD = default_method()
SWAP = next(each for each in METHOD.sequences if each.id == "corner-swap")
ASKED = "how does the corner swap go"


def whole(said: str) -> list[str]:
    """The parts of the corner swap that are told in a sentence."""
    return [group.say("en", "name") for group in SWAP.groups if group.say("en", "name") in said]


def asking(step: str, at: int, question: str = ASKED) -> Held:
    """A lesson in which the learner asks at the Listen of that number, and never else."""

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        return question if number == at else None

    return hold(random_cube(step, Random(5)), step, 5, answer, learned=Learned(METHOD.name))


@pytest.mark.parametrize("step", ALL_STEPS)
@pytest.mark.parametrize("at", [0, 1, 2, 5, 9])
def test_all_of_it_is_told_and_the_place_is_kept(step: str, at: int) -> None:
    plain, asked = asking(step, -1), asking(step, at)
    listens = [number for number, act in enumerate(asked.acts) if isinstance(act, Listen)]
    if len(listens) <= at + 1:
        return
    told = [act for act in asked.acts[listens[at] : listens[at + 1]] if isinstance(act, Tell)]
    assert len(whole(" ".join(act.text for act in told))) == len(SWAP.groups)
    here, there = (asked.acts[listens[number]] for number in (at, at + 1))
    assert isinstance(here, Listen) and isinstance(there, Listen)
    assert here.asked == there.asked and here.scene == there.scene
    assert asked.end.outcome == "done" and asked.learner.cube.solved
    assert asked.end.turns == plain.end.turns and not asked.end.slips


@pytest.mark.parametrize(
    ("question", "told"),
    [
        ("what do I do with a dot", ("You have a dot.", "the flip by the top", "Any side may face you.")),
        ("what do I do when all corners are up", ("All four corners are yellow on top. Then there's nothing to do",)),
        ("what do I do with one finished side", ("the ring to the right", "the wheel to the left", "at the back")),
        ("what do I do with an edge in the middle layer", ("The edge has to come out", "the right-hand lift")),
    ],
)
def test_what_to_do_in_a_case_is_told_with_its_hold(question: str, told: tuple[str, ...]) -> None:
    asked = asking("top-face", 0, question)
    first = [at for at, act in enumerate(asked.acts) if isinstance(act, Listen)]
    text = " ".join(act.text for act in asked.acts[first[0] : first[1]] if isinstance(act, Tell))
    assert all(part in text for part in told), text


@pytest.mark.parametrize(
    ("question", "result"), [("how does the flip by the right side go", "helped"), (ASKED, "unaided")]
)
def test_only_what_is_being_done_from_memory_is_help(question: str, result: str) -> None:
    silent = lesson(at_level(1, LINE_KNOWN), {})
    listens = [act for act in silent.acts if isinstance(act, Listen)]
    at = next(number for number, listen in enumerate(listens) if listen.asked == "do")
    held = lesson(at_level(1, LINE_KNOWN), {at: question})
    assert [each.result for each in exercises(held) if each.case == "line" and each.kind == "do"][:1] == [result]


def test_who_says_a_part_and_asks_for_something_else_hears_again_what_they_are_to_say() -> None:
    one, told = practice(fresh(), 8.0, "top-cross"), list[str]()
    one.talk.attempts.wish = "recite"

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "recite" and not told:
            told.append(pupil.texts[-1])
            return utter(ASKED, at=pupil.listen)
        return pupil.answer()

    pupil = hold_practice(one, Practising(Cube()), answer)
    assert "Now you say it." in told[0] and pupil.texts.count(told[0]) == 2


@pytest.mark.parametrize("asked", ["recite", "hold"])
def test_who_practises_in_words_and_asks_for_just_that_is_helped(asked: Wished) -> None:
    given: list[str] = []

    def answer(pupil: Practising) -> Event:
        query = pupil.question.query
        if pupil.listen.asked == asked and not given:
            named = next(case.named for case in METHOD.top_steps[0].cases if case.id == query.case)
            given.append(query.case)
            name = named.say("en", "name") if named else ""
            said = f"tell me {name}" if asked == "recite" else f"what do I do with a {query.case}"
            return utter(said, at=pupil.listen)
        return pupil.answer()

    one = practice(fresh(), 8.0, "top-cross")
    one.talk.attempts.wish = asked
    pupil = hold_practice(one, Practising(Cube()), answer)
    assert given
    kind = [act for act in pupil.acts if isinstance(act, Practised) and act.kind == asked and act.case == given[0]]
    assert kind[0].result == "helped"
    assert any(isinstance(act, Ask) and act.query.asks == asked for act in pupil.acts)
