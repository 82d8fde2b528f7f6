"""Whoever asks where we are, or how much is left, is told the turn called last, and what is still to come."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from coach.dialogue import CallTurn, Listen, Say
from coach.method.last_layer import build
from coach.simulation import Learner
from tests.dialogue.lessons import Held, hold
from tests.loaded import load

LINE = build(flips=(0, 1, 0, 1), twists=(1, 2, 0, 0))
CALLED = "The last turn I called"


def asking(at_call: int, first: str, step: str = "top-cross") -> Held:
    """A lesson in which `first` is said after that many calls, and after every call "how many more?"."""
    calls = 0
    fresh = False

    def answer(learner: Learner, listen: Listen, _: int) -> str | None:
        nonlocal calls, fresh
        if listen.asked != "turn":
            return None
        fresh = not fresh
        calls += fresh
        if calls == at_call and not fresh:
            return first
        return "how many more?" if fresh else "next"

    return hold(LINE, step, 4, answer, truthful=False)


def told(held: Held) -> Iterator[tuple[CallTurn, str]]:
    """What is told of where we are, with the turn called last."""
    called = None
    for say in held.said:
        if isinstance(say, CallTurn):
            called = say
        elif say.text.startswith(CALLED):
            assert called
            yield called, say.text


@pytest.mark.parametrize("first", ["next", "go back one", "I turned it the wrong way", "start this sequence again"])
def test_it_names_the_turn_called_last_also_where_turns_are_taken_back_or_put_right(first: str) -> None:
    answers = list(told(asking(3, first)))
    assert len(answers) > 5
    for call, text in answers:
        assert load().sentences.call(call.turn, "plain") in text, text


def test_it_says_how_many_turns_are_to_come() -> None:
    texts = [text for _, text in told(asking(0, "next"))][:6]
    assert ["Still to come: 5 turns." in texts[0], "Still to come: one turn." in texts[4]] == [True, True]
    assert "number 2 of 6" in texts[1]
    assert "the last one" in texts[5]
    assert all("step 4 of 7" in text for text in texts)


def test_between_the_turns_it_says_which_pieces_and_steps_are_to_come() -> None:
    asked = []

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if listen.asked == "piece" and len(asked) < 3:
            asked.append(number)
            return "how many more?"
        return None

    held = hold(LINE, "middle-edges", 4, answer)
    texts = [say.text for say in held.said if "step 3 of 7" in say.text]
    assert texts
    assert "4 more pieces have to go in" in texts[0]
    assert "Still to come: top cross, top face, top corners, top edges." in texts[0]


@pytest.mark.parametrize("text", ["what are the steps?", "tell me the steps please", "which steps does it have"])
@pytest.mark.parametrize("asked", ["turn", "look-top-edges", "claim"])
def test_the_steps_are_listed_for_whoever_asks(text: str, asked: str) -> None:
    said = []

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if listen.asked == asked and not said:
            said.append(number)
            return text
        return None

    says: list[Say] = hold(LINE, "top-cross", 4, answer).said
    assert any(say.text.startswith("There are seven steps") and "middle edges" in say.text for say in says)


@pytest.mark.parametrize("text", ["where am I?", "which turn are we on", "where are we now", "how many turns to go?"])
def test_whoever_asks_where_they_are_is_not_lost(text: str) -> None:
    meaning = load().understand(text, "turn")
    assert meaning
    assert meaning.command == "where"


@pytest.mark.parametrize("text", ["I did two steps wrong", "how many more steps", "repeat these steps"])
def test_not_everything_about_steps_asks_for_them(text: str) -> None:
    meaning = load().understand(text, "turn")
    assert meaning is None or meaning.command != "explain"
