"""What is said at a question in the middle of a run is said of the run, which then goes on where it stood."""

from __future__ import annotations

import pytest

from coach.dialogue.lesson import Lesson
from coach.language.meaning import Command
from coach.method.last_layer import build
from tests.dialogue.hands import Hands, command, new_lesson, solved


def at_a_check() -> tuple[Lesson, Hands]:
    """A row is being confirmed in the middle of a run, since something has gone wrong before."""
    lesson, hands = new_lesson(), Hands(build(flips=(1, 0, 1, 0)))
    hands.take(lesson.start())
    lesson.talk.record.any, lesson.talk.slips = True, 9
    while hands.listen.asked != "claim" or not hands.calls:
        hands.take(lesson.handle(hands.answer()))
    run = lesson._now.run if lesson._now else None
    assert run and 0 < run.done < len(run.turns)
    return lesson, hands


@pytest.mark.parametrize("said", ["lost", "mistake"])
def test_a_search_begun_there_and_withdrawn_leads_back_to_the_run(said: Command) -> None:
    lesson, hands = at_a_check()
    assert lesson._now
    run, done = lesson._now.run, hands.turns
    assert run
    hands.take(lesson.handle(command(said)))
    assert lesson.talk.searching
    hands.take(lesson.handle(command("correct")))
    assert lesson._now.run is run and hands.listen.asked == "turn"
    assert solved(lesson, hands)
    assert hands.turns[: len(run.turns)] == [str(turn) for turn in run.turns], "nothing was called twice or left out"
    assert len(done) < len(run.turns)


def test_a_turn_is_taken_back_there_and_the_run_goes_on() -> None:
    lesson, hands = at_a_check()
    assert lesson._now
    run, done = lesson._now.run, len(hands.turns)
    hands.take(lesson.handle(command("back")))
    assert len(hands.turns) == done + 1 and lesson._now.run is run
    assert solved(lesson, hands)
