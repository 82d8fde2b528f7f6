"""How long a session takes without a clock."""

from __future__ import annotations

from coach.cube import parse
from coach.dialogue.acts import CallTurn, Heard, Silence
from coach.dialogue.pace import Pace
from coach.dialogue.practice.lasting import estimated

PACE = Pace(2.5)
(TURN,) = parse("R")
CALL = CallTurn("The right layer goes up.", TURN)


def test_the_pause_after_a_call_is_counted_once() -> None:
    assert estimated(CALL, PACE) + estimated(Silence(2.5), PACE) == 2.0 + 2.5


def test_the_pause_after_a_group_is_for_all_its_turns() -> None:
    assert estimated(Silence(3 * 2.5), PACE) == 3 * 2.5


def test_an_empty_line_where_much_time_is_given_is_no_minute() -> None:
    assert estimated(Silence(60), PACE) < 15


def test_a_long_answer_takes_longer() -> None:
    assert estimated(Heard("right side up, top to the left", None), PACE) > estimated(Heard("done", None), PACE)
