"""In the pauses of a run the learner may ask about it or call off doing it again, and nothing counts as gone wrong."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from coach.dialogue import CallTurn
from coach.learning.learned import Learned
from coach.method import default_method
from tests.dialogue.lesson.test_learned import first, lesson
from tests.dialogue.lessons import Held

METHOD = default_method()


def held(said: Mapping[int, str]) -> Held:
    """A lesson from a line on top; each number counts from the first pause after a call."""
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain)
    return lesson(Learned(METHOD.name), {at + number: text for number, text in said.items()})


PLAIN = held({})
TURNS = PLAIN.end.turns


def texts(of: Held) -> list[str]:
    return [say.text for say in of.said]


@pytest.mark.parametrize(("question", "answer"), [
    ("what's this one called", "This is called the flip by the right side."),
    ("which one is this", "This is called the flip by the right side."),
    ("am I doing the left or right handed one?", "I call these turns for your right hand."),
    ("why does it work?", "The front opens the lower layers"),
    ("can I just turn the bottom back", "I didn't get that."),
])  # fmt: skip
@pytest.mark.parametrize("at", [0, 2])
def test_a_question_is_answered_and_the_run_goes_on(question: str, answer: str, at: int) -> None:
    asked = held({at: question})
    assert sum(answer in text for text in texts(asked)) > sum(answer in text for text in texts(PLAIN))
    assert asked.learner.cube.solved and asked.end.turns == TURNS
    assert not any("find out what happened" in text for text in texts(asked))


def test_who_asks_whether_they_may_turn_it_back_goes_back_one_turn() -> None:
    asked = held({1: "hold on, can't I just turn the right side back down?"})
    assert any(text.startswith("Back one turn") for text in texts(asked))
    assert asked.learner.cube.solved


@pytest.mark.parametrize("no", [
    "no, not again", "cancel the once more", "never mind", "I don't want it again, it was solved",
])  # fmt: skip
def test_once_more_is_called_off_before_it_begins(no: str) -> None:
    off = held({0: "once more so I learn it", 1: no})
    assert "All right. We don't do it again." in texts(off)
    assert off.learner.cube.solved and off.end.turns == TURNS


def test_a_reminder_asks_for_nothing_more() -> None:
    once = held({0: "once more so I learn it"})
    reminded = held({0: "once more so I learn it", 1: "I thought we do it again so I learn it"})
    assert reminded.end.turns == once.end.turns
    assert "Yes, we do it once more." in texts(reminded)


def test_where_it_is_done_again_there_is_a_seam_on_both_sides() -> None:
    said = texts(held({0: "once more so I learn it"}))
    back = said.index("Now once more. First we take it back: 6 turns.")
    forth = said.index("Now again from the first turn.")
    assert said[back - 1] != "And the last one: the front layer goes anticlockwise."
    assert said[back + 1] == "The front layer goes clockwise." and back < forth
    assert said[forth + 1] == "The front layer goes clockwise."


@pytest.mark.parametrize("taken", [1, 3, 6])
def test_once_more_is_called_off_while_it_is_taken_back(taken: int) -> None:
    begun: list[int] = []
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain)
    once = lesson(Learned(METHOD.name), {at: "once more so I learn it"})
    listens = calls = 0
    for act in once.acts:
        if getattr(act, "text", "").startswith("Now once more."):
            calls = 1
        if type(act).__name__ == "Listen":
            if calls == taken + 1 and not begun:
                begun.append(listens)
            listens += 1
        elif calls and isinstance(act, CallTurn):
            calls += 1
    off = lesson(Learned(METHOD.name), {at: "once more so I learn it", begun[0]: "no, not again"})
    assert "All right. We don't do it again." in texts(off)
    assert "Now again from the first turn." not in texts(off)
    assert off.learner.cube.solved and off.end.slips == 0
