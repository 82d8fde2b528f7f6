"""Pupils come late, lose their place or have an impossible cube; the bell rings; counts are wrong."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue import Ask, Bye, CallTurn, Heard, Listen, Query, SendOff, TakePart, Tell
from coach.dialogue.acts import Silence
from coach.dialogue.pupils import Pupils
from coach.language.aside import Aside, Attendance
from coach.language.meaning import Meaning
from coach.method import default_method
from coach.method.last_layer import all_states, build
from tests.dialogue.classroom.pupils import Held, a_class, hold, lesson, number

STATES = tuple(all_states())


def cubes(count: int, seed: int) -> list[Cube]:
    return Random(seed).sample(STATES, count)


def once(heard: Heard, when: Callable[[Query, Listen, int], bool]) -> Callable[[Query, Listen, int], Heard | None]:
    """Say this once, the first time when it is the moment for it."""
    said: list[bool] = []

    def answer(query: Query, listen: Listen, at: int) -> Heard | None:
        if said or not when(query, listen, at):
            return None
        said.append(True)
        return heard

    return answer


def command(name: str) -> Heard:
    return Heard(name, Meaning(command=name))  # type: ignore[arg-type]


def in_a_run(query: Query, listen: Listen, at: int) -> bool:
    return listen.asked == "turn" and at > 12


def told(held: Held) -> list[str]:
    return [act.text for act in held.acts if isinstance(act, Tell | SendOff | Bye)]


def test_latecomers_join_at_the_next_check() -> None:
    pupils = a_class(cubes(8, 1), 1)
    coming = Attendance(change=2)

    def two_come(query: Query, listen: Listen, at: int) -> bool:
        if not in_a_run(query, listen, at):
            return False
        pupils.extend(a_class(cubes(2, 5), 5))
        for pupil in pupils[-2:]:
            pupil.takes_part = False
        return True

    held = hold(lesson(), pupils, once(Heard("two have come in", None, aside=Aside(attendance=coming)), two_come))
    assert len(pupils) == 10
    assert all(pupil.cube.solved for pupil in pupils)
    assert held.lesson.pupils.size == 10
    assert any("Welcome" in text for text in told(held))


def test_who_comes_late_to_a_later_step_is_told_where_to_start() -> None:
    pupils = a_class(cubes(8, 1), 1)

    def one_comes(query: Query, listen: Listen, at: int) -> bool:
        if not (listen.asked == "turn" and late.step == "top-face"):
            return False
        crossless = next(cube for cube in STATES if not default_method().top_steps[1].ready(cube.faces))
        pupils.extend(a_class([crossless], 5))
        pupils[-1].takes_part = False
        return True

    coming, late = Aside(attendance=Attendance(change=1)), lesson()
    held = hold(late, pupils, once(Heard("one has come in", None, aside=coming), one_comes))
    assert [pupil.away for pupil in pupils] == [False] * 8 + [True]
    assert all(pupil.cube.solved for pupil in pupils[:8])
    assert any("start from the top cross" in text for text in told(held))
    assert not any("put together wrongly" in text for text in told(held))


def test_fewer_hands_are_enough_once_pupils_have_gone() -> None:
    pupils = a_class(cubes(8, 2), 2)

    def one_goes(query: Query, listen: Listen, at: int) -> bool:
        if not in_a_run(query, listen, at):
            return False
        pupils.pop()
        return True

    going = Aside(attendance=Attendance(change=-1))
    held = hold(lesson(), pupils, once(Heard("one has to go", None, aside=going), one_goes))
    assert held.lesson.pupils.size == 7 and held.end.outcome == "done"
    assert not any(isinstance(act, SendOff) for act in held.acts)


@pytest.mark.parametrize("what", ["lost", "mistake", "layers-broken", "correct", "read"])
def test_nobody_waits_for_who_says_in_a_run_that_they_are_lost(what: str) -> None:
    pupils = a_class(cubes(8, 3), 3)
    held = hold(lesson(), pupils, once(command(what), in_a_run))
    assert held.end.outcome == "done"
    assert all(pupil.cube.solved for pupil in pupils)


@pytest.mark.parametrize("what", ["back", "restart-run", "repeat", "wait", "slower", "where", "explain", "once-more"])
def test_a_class_can_take_back_hear_again_and_wait(what: str) -> None:
    pupils = a_class(cubes(8, 4), 4)
    held = hold(lesson(), pupils, once(command(what), in_a_run))
    assert held.end.outcome == "done"
    assert all(pupil.cube.solved for pupil in pupils)


def test_in_the_midst_of_a_run_the_hold_of_its_beginning_is_not_told() -> None:
    held = hold(lesson(), a_class(cubes(8, 4), 4), once(command("explain"), in_a_run))
    kept = held.lesson.talk.words("class.hold-kept")
    assert "Don't turn the whole cube" in kept and "rest" in kept
    assert kept in told(held)
    assert held.end.outcome == "done"


def test_how_many_there_are_is_told_when_that_is_asked() -> None:
    asks = Heard("how many are we", Meaning(command="explain"), aside=Aside(word="class.counted"))
    held = hold(lesson(), a_class(cubes(8, 4), 4), once(asks, in_a_run))
    assert "I have counted 8 of you." in told(held) and held.end.outcome == "done"


def test_after_a_count_all_are_called_together_and_nobody_is_named() -> None:
    held = hold(lesson(), a_class(cubes(8, 4), 4))
    taking_part = [act.text for act in held.acts if isinstance(act, TakePart)]
    assert "Now all of you:" in taking_part and "Everybody." not in taking_part


@pytest.mark.parametrize("what", ["lost", "mistake", "wait", "repeat", "explain", "no"])
def test_before_a_run_it_is_said_again_and_nobody_turns_twice(what: str) -> None:
    pupils = a_class(cubes(8, 5), 5)
    held = hold(lesson(), pupils, once(command(what), lambda query, listen, at: query.asks == "ready"))
    assert held.end.outcome == "done"
    assert all(pupil.cube.solved for pupil in pupils)


def test_when_the_bell_rings_the_run_is_not_left_half_done_and_next_week_is_told() -> None:
    pupils = a_class(cubes(8, 6), 6)
    bell = Heard("stop", Meaning(command="stop"), aside=Aside(marks=frozenset({"only-stop"})))
    held = hold(lesson(), pupils, once(bell, in_a_run))
    assert held.end.outcome == "stopped"
    assert all(pupil.cube.upright.faces[9:27] for pupil in pupils)
    assert "start from the top cross" in told(held)[-1]
    calls = [act for act in held.acts if isinstance(act, CallTurn)]
    assert calls[-1].n in (1, calls[-1].of)


def test_more_hands_than_pupils_are_counted_once_more() -> None:
    pupils = a_class(cubes(8, 7), 7)
    held = hold(lesson(), pupils, once(number(12), lambda query, listen, at: bool(query.claim)))
    assert any("12 hands went up" in text for text in told(held))
    assert all(pupil.cube.solved for pupil in pupils)


def test_a_count_is_corrected_before_anybody_is_sent_off() -> None:
    pupils = a_class(cubes(8, 8), 8)
    wrong: list[int] = []

    def answer(query: Query, listen: Listen, at: int) -> Heard | None:
        if query.asks != "hands" or query.about == "size" or len(wrong) > 1:
            return None
        wrong.append(at)
        return number(5) if len(wrong) == 1 else command("correct")

    held = hold(lesson(), pupils, answer)
    assert not any(isinstance(act, SendOff) for act in held.acts)
    assert all(pupil.cube.solved for pupil in pupils)


@pytest.mark.parametrize("cube", [build(flips=(1, 0, 0, 0)), build(twists=(1, 0, 0, 0)), build(edges=(1, 0, 2, 3))])
def test_an_impossible_cube_is_told_kindly_and_the_others_go_on(cube: Cube) -> None:
    pupils = a_class([*cubes(7, 9), cube], 9)
    held = hold(lesson(), pupils)
    assert held.end.outcome == "done"
    assert [pupil.away for pupil in pupils] == [False] * 7 + [True]
    assert all(pupil.cube.solved for pupil in pupils[:-1])
    assert any("put together wrongly" in text for text in told(held))


def test_the_same_answers_lead_to_the_same_acts() -> None:
    first, second = (hold(lesson(), a_class(cubes(8, 10), 10, slips=0.01)) for _ in range(2))
    assert first.acts == second.acts


def test_who_slips_alone_is_told_so_in_a_class_where_all_slip() -> None:
    pupils = a_class(cubes(2, 11), 11, slips=1.0)
    held = hold(lesson(), pupils)
    assert held.end.outcome == "stopped"
    assert all(pupil.away for pupil in pupils)


def test_without_pupils_there_is_no_class() -> None:
    held = hold(lesson(), [])
    assert held.end.outcome == "stopped" and held.counts() == 2


NOT_UNDERSTOOD = Heard("say that again please", None)


def useless(answer_to_stop: Heard | Silence, most: int) -> Held:
    """A class whose first count is answered `most` times with what nobody understands."""
    said: list[int] = []

    def answer(query: Query, listen: Listen, at: int) -> Heard | Silence | None:
        if query.about == "stop":
            return answer_to_stop
        if query.asks == "hands" and query.about != "size" and len(said) < most:
            said.append(at)
            return NOT_UNDERSTOOD
        return None

    return hold(lesson(), a_class(cubes(8, 12), 12), answer)


@pytest.mark.parametrize("reply", [Heard("no", Meaning(command="no")), NOT_UNDERSTOOD])
def test_useless_answers_do_not_send_a_class_home(reply: Heard) -> None:
    held = useless(reply, 20)
    assert any(isinstance(act, Ask) and "Shall we stop here?" in act.text for act in held.acts)
    assert held.end.outcome == "done" and all(pupil.cube.solved for pupil in held.pupils)


@pytest.mark.parametrize("reply", [Heard("yes", Meaning(command="yes")), Silence(120.0)])
def test_a_class_that_says_so_or_is_silent_is_ended(reply: Heard | Silence) -> None:
    held = useless(reply, 100)
    assert any(isinstance(act, Ask) and "Shall we stop here?" in act.text for act in held.acts)
    assert held.end.outcome == "stopped"


def test_at_the_bell_nobody_is_asked_whether_all_of_them_have_turned() -> None:
    pupils = a_class(cubes(8, 6), 6)
    bell = Heard("stop", Meaning(command="stop"), aside=Aside(marks=frozenset({"only-stop"})))
    rung: list[int] = []

    def answer(query: Query, listen: Listen, at: int) -> Heard | None:
        if not rung and in_a_run(query, listen, at):
            rung.append(at)
            return bell
        if rung and query.about == "done":
            return Heard("some of them", None)
        return None

    held = hold(lesson(), pupils, answer)
    assert not any(isinstance(act, Ask) and act.query.about == "done" for act in held.acts)
    assert any("Whoever has not done the last turn yet: do it now." in text for text in told(held))


def test_a_number_of_all_has_those_in_it_who_came_before_it_was_told() -> None:
    of = Pupils()
    of.hear(Attendance(change=2))
    of.count(11)
    assert of.join() == 11


def test_a_number_that_is_so_already_changes_nothing() -> None:
    pupils = a_class(cubes(8, 2), 2)
    still = Heard("we're still eight", None, aside=Aside(attendance=Attendance(size=8)))
    held = hold(lesson(), pupils, once(still, in_a_run))
    assert held.lesson.pupils.size == 8
    assert any("then you are 8" in act.text for act in held.acts if isinstance(act, Tell))


def test_nobody_is_sent_off_when_the_hands_of_all_who_are_there_were_up() -> None:
    pupils = a_class(cubes(8, 2), 2)
    ghosts = Heard("two have come in", None, aside=Aside(attendance=Attendance(change=2)))
    held = hold(lesson(), pupils, once(ghosts, in_a_run))
    assert not any(isinstance(act, SendOff) for act in held.acts)
    assert held.lesson.pupils.size == 8 and held.lesson.pupils.away == 0
    assert any("Done here: all 8" in text for text in told(held))


def test_the_end_tells_how_many_are_done_and_how_many_were_sent_on() -> None:
    pupils = a_class([*cubes(7, 9), build(flips=(1, 0, 0, 0))], 9)
    texts = told(hold(lesson(), pupils))
    assert any("wait for your teacher" in text for text in texts)
    assert any("Done here: 7." in text and "coach of their own: 1." in text for text in texts)


@pytest.mark.parametrize("when", ["ready", "turn"])
def test_a_run_that_nobody_needs_is_skipped_also_in_the_middle_of_it(when: str) -> None:
    spared = Heard("nobody needs this", None, aside=Aside(marks=frozenset({"spares"})))
    at: list[int] = []

    def answer(query: Query, listen: Listen, number: int) -> Heard | None:
        if at or listen.asked != when or (when == "ready" and query.asks != "ready"):
            return None
        at.append(number)
        return spared

    held = hold(lesson(), a_class(cubes(8, 4), 4), answer)
    skipped = next(n for n, act in enumerate(held.acts) if isinstance(act, Tell) and "so we skip it" in act.text)
    assert sum(isinstance(act, CallTurn) for act in held.acts[:skipped]) == int(when == "turn")
    assert held.end.outcome == "done"
