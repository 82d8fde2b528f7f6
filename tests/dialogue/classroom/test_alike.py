"""What is compared while many cubes are scrambled alike, and what a class says in chorus."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import FACE_PLACES, Cube, Turn, turned
from coach.cube.scramble import scramble
from coach.dialogue import CallTurn, Heard, Listen, Query, Tell
from coach.dialogue.classroom.alike import telling_rows
from coach.language.meaning import Change, Meaning
from coach.method import default_method
from coach.method.last_layer import all_states
from tests.dialogue.classroom.pupils import a_class, hold, lesson
from tests.people.class_lesson import class_of, lead
from tests.people.class_of import Ways

METHOD = default_method()


def test_three_rows_tell_nearly_every_slip_in_a_few_turns_of_a_scramble() -> None:
    told = slips = 0
    for seed in range(20):
        turns, pattern = scramble(Random(seed)), Cube().faces
        for at in range(0, len(turns), 6):
            some = turns[at : at + 6]
            right = turned(pattern, some)
            rows = telling_rows(pattern, some)
            places = [place for face, n in rows for place in FACE_PLACES[face][3 * n : 3 * n + 3]]
            for number, turn in enumerate(some):
                for done in ((), (turn.inverse,), (turn, turn), (Turn("R" if turn.face != "R" else "U"),)):
                    slip = turned(pattern, (*some[:number], *done, *some[number + 1 :]))
                    slips += slip != right
                    told += any(slip[place] != right[place] for place in places)
            pattern = right
    assert told / slips > 0.995, told / slips


def test_a_new_sequence_is_said_in_chorus_once_and_one_done_twice_is_called_part_by_part() -> None:
    crossed = [cube for cube in all_states() if METHOD.top_steps[1].ready(cube.faces)]
    held = hold(lesson("top-face"), a_class(Random(1).sample(crossed, 20)))
    chorus = [act.text for act in held.acts if isinstance(act, Tell) and "let's say it together" in act.text]
    assert sum("three-corner twist" in text for text in chorus) == 1
    parts = [act for act in held.acts if isinstance(act, Tell) and "Now this part: lift, slide, lower." in act.text]
    runs = [act for act in held.acts if isinstance(act, CallTurn) and act.n == 1 and act.step == "top-face"]
    assert len(runs) == 3 and len(parts) == 1


@pytest.mark.parametrize(
    ("heard", "skipped"),
    [
        (Heard("well said everybody", None), False), (Heard("lift, slide, lower", None), False),
        (Heard("skip that", Meaning(change=Change(exercise="other"))), True),
    ],
)  # fmt: skip
def test_what_is_heard_in_a_chorus_is_the_chorus_unless_it_is_left(heard: Heard, skipped: bool) -> None:
    crossed = [cube for cube in all_states() if METHOD.top_steps[1].ready(cube.faces)]
    said: list[bool] = []

    def answer(query: Query, listen: Listen, at: int) -> Heard | None:
        if said or listen.asked != "ready" or query.asks == "ready":
            return None
        said.append(True)
        return heard

    held = hold(lesson("top-face"), a_class(Random(1).sample(crossed, 20)), answer)
    words = held.lesson.talk.words
    told = [act.text for act in held.acts if isinstance(act, Tell)]
    assert said and held.end.outcome == "done"
    assert words("turn.not-understood-ready") not in told
    assert (words("class.skipped") in told) == skipped
    until_then = told[: told.index(words("class.skipped"))] if skipped else told
    assert any(text.startswith("Then: ") for text in until_then) != skipped


def test_who_comes_late_after_the_scramble_is_told_to_start_where_their_cube_is() -> None:
    held = lead(class_of(6, 313, Ways(miscounted=0, come=1), True), 313)
    told = [line["text"] for line in held.says if "start where your cube is" in line["text"]]
    assert len(told) == len(held.room.sent) == 1 and "You came a little late" in told[0]
    assert not held.room.lost


def test_after_a_scramble_most_who_slip_are_put_right() -> None:
    held = lead(class_of(6, 312, Ways(slips=0.01, miscounted=0), True), 312)
    slipped = [pupil for pupil in held.room.pupils if pupil.slips]
    assert len(slipped) >= 4 and not held.room.lost
    assert len(held.room.sent) <= len(slipped) / 3
