"""What is practised next: reviews first, then one new sequence at a time, then what holds least."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from coach.dialogue.practice.choosing import all_items, choose, for_now, kinds, wished
from coach.learning.exercise import RESULTS, Exercise, Item, Result
from coach.learning.schedule import Fsrs
from coach.method import cases_of, default_method
from tests.learning.made import later, tried

METHOD = default_method()
ITEMS = all_items(METHOD)
DO = kinds(ITEMS, "do")
PLANNER = Fsrs()
SEQUENCES = METHOD.sequence_of


def item(step: str, case: str, kind: str = "do") -> Item:
    return Item(step, case, kind, METHOD.name)  # type: ignore[arg-type]


def learned(which: Item, day: int) -> list[Exercise]:
    """An item that was learned on that day."""
    return [tried(day, help, "unaided", which) for help in (4, 3, 2, 1)]


def known(which: Item, day: int) -> list[Exercise]:
    """An item that became known on that day."""
    return [tried(day - before, 1, "unaided", which) for before in (8, 4, 0)]


def of_sequence(id: str) -> list[Item]:
    return [each for each in ITEMS if SEQUENCES.get((each.step, each.case)) == id]


def next_one(exercises: Sequence[Exercise], day: int = 0, session: Sequence[Item] = (),
             items: Sequence[Item] = ITEMS) -> Item | None:  # fmt: skip
    return choose(items, exercises, session, later(day), PLANNER, SEQUENCES)


def test_every_case_with_a_sequence_is_done_and_every_sequence_is_said_once() -> None:
    cases = {(step.id, case.id) for step in METHOD.steps for case in cases_of(step) if case.sequence}
    assert {(each.step, each.case) for each in DO} == cases
    assert len(kinds(ITEMS, "recite")) == sum(len(each.turns) > 2 for each in METHOD.sequences)
    assert len(set(ITEMS)) == len(ITEMS)


def test_the_last_layer_comes_first_then_down_to_the_cross() -> None:
    steps = list(dict.fromkeys(each.step for each in ITEMS))
    top = ["top-cross", "top-face", "top-corners", "top-edges"]
    assert steps == [*top, "middle-edges", "bottom-corners", "bottom-cross"]


def test_what_was_just_asked_for_in_words_and_what_fails_again_and_again_comes_later() -> None:
    said, told = item("top-cross", "dot", "recite"), item("top-cross", "line", "hold")
    assert said not in for_now(ITEMS, [], [said]) and said in for_now(ITEMS, [], [said, told])
    assert list(for_now([said], [], [said])) == [said]
    failed = [tried(0, 4, "failed", said)] * 2
    assert said not in for_now(ITEMS, failed, [said, said, told]) and said in for_now(ITEMS, failed[:1], [said, told])


def test_who_is_asked_in_words_is_asked_both_kinds_in_turn_and_never_the_same_twice() -> None:
    session: list[Item] = []
    for _ in range(8):
        words = wished("words", ITEMS, session)
        session.append(choose(words, [], session, later(0), PLANNER, SEQUENCES) or ITEMS[0])
        session.append(DO[0])
    kinds_asked = [each.kind for each in session[::2]]
    assert kinds_asked == ["recite", "hold"] * 4
    assert {each.kind for each in wished("hold", ITEMS, session)} == {"hold"}
    said = item("top-face", "none-up", "recite")
    others = wished("other", ITEMS, [DO[0], said])
    assert {each.kind for each in others} == {"recite", "hold"} and "none-up" not in {each.case for each in others}
    assert kinds(wished("other", ITEMS, [said, DO[0]]), "do")


def test_only_cases_that_words_can_ask_for_are_told() -> None:
    told = {(each.step, each.case) for each in kinds(ITEMS, "hold")}
    assert ("top-cross", "dot") in told and ("top-face", "two-up") in told
    assert ("top-corners", "no-pair") not in told and ("middle-edges", "from-front") in told


def test_what_comes_next_is_chosen_when_all_else_was_taught() -> None:
    last = [each.case for each in ITEMS[-9:]]
    assert last == ["next-piece"] * 3 + ["next-step"] * 6
    assert {each.kind for each in ITEMS[-9:]} == {"hold"}
    assert not any(each.case.startswith("next-") for each in ITEMS[:-9])


def test_who_knows_nothing_begins_with_the_first_case() -> None:
    assert next_one([]) == ITEMS[0]


def session_of(count: int, help: int) -> list[Item]:
    """The first session of somebody who does everything rightly at that level."""
    done: list[Exercise] = []
    for _ in range(count):
        chosen = next_one(done, session=[each.item for each in done])
        assert chosen
        done.append(tried(0, help, "unaided", chosen))
    return [each.item for each in done]


def test_a_new_sequence_comes_in_all_its_cases_and_in_words_before_anything_again() -> None:
    first = of_sequence("flip-by-the-top")
    assert session_of(2 * len(first), help=4) == [*first, *first], "and no other until it holds"


def test_once_a_new_sequence_holds_the_next_one_is_begun() -> None:
    first = of_sequence("flip-by-the-top")
    begun = session_of(len(first) + 1, help=1)
    assert begun[:-1] == first and begun[-1] == of_sequence("flip-by-the-right")[0]


def test_the_next_day_begins_with_what_is_due_then_another_sequence_and_then_what_was_begun_goes_on() -> None:
    first, second = of_sequence("flip-by-the-top"), of_sequence("flip-by-the-right")
    done = [tried(0, 4, "failed", each) for each in first]
    assert next_one(done, 1) == first[0]
    done.append(tried(1, 4, "failed", first[0]))
    assert next_one(done, 1, first[:1]) == second[0]
    done += [tried(1, 4, "unaided", each) for each in second]
    assert next_one(done, 1, [first[0], *second]) == first[1]


def test_what_fails_is_left_for_another_day_if_there_is_anything_else() -> None:
    begun, failed = ITEMS[:3], ITEMS[1]
    done = [tried(0, 2, "unaided", each) for each in begun] + [tried(1, 2, "failed", failed)]
    assert next_one(done, 1, [failed], items=begun) in {ITEMS[0], ITEMS[2]}
    assert next_one(done, 1, [failed], items=[failed]) == failed


def test_what_is_known_and_due_comes_before_anything_new() -> None:
    line = item("top-cross", "line")
    assert next_one(known(line, 0), 40) == line
    assert next_one(known(line, 0), 40, [line]) != line
    assert next_one(known(line, 0), 1) != line, "it is not due yet"


def test_what_was_done_alone_on_the_fewest_days_comes_first_and_then_what_was_longest_ago() -> None:
    often, seldom, early, late = DO[:4]
    done = [*learned(often, 0), *learned(often, 3), *learned(early, 0), *learned(late, 2)]
    done.append(tried(3, 4, "failed", seldom))
    session: list[Item] = []
    for _ in range(4):
        session.append(next_one(done, 4, session, [often, late, early, seldom]) or DO[-1])
    assert session == [seldom, early, late, often]


def test_what_was_begun_of_a_sequence_comes_before_another_sequence_of_its_step() -> None:
    begun = of_sequence("flip-by-the-right")
    chosen = next_one(learned(begun[0], 0))
    assert chosen == begun[1]


def test_new_things_come_in_the_order_of_teaching_whatever_lessons_have_led_through() -> None:
    """Lessons practise the lower layers, too: that is no reason to begin there."""
    cases = (("middle-edges", "from-front"), ("bottom-corners", "faces-up"), ("top-edges", "no-side"))
    done = [each for step, case in cases
            for each in learned(item(step, case), 0)]  # fmt: skip
    assert next_one(done).step == "top-cross"  # type: ignore[union-attr]
    session = [each.item for each in done[-1:]]
    assert next_one(done, 9, session).step == "top-cross"  # type: ignore[union-attr]


def test_who_has_much_due_begins_with_it_though_none_of_it_is_known() -> None:
    done = [tried(0, 4, "unaided", each) for each in of_sequence("right-join")]
    assert next_one(done, 9) in of_sequence("right-join")


def test_once_all_was_tried_everything_comes_in_turn() -> None:
    done = [each for one in DO for each in learned(one, 0)]
    session: list[Item] = []
    for _ in range(2 * len(DO)):
        chosen = next_one(done, session=session, items=DO)
        assert chosen and chosen not in session[-1:]
        session.append(chosen)
        done.append(tried(0, 1, "unaided", chosen))
    assert set(map(session.count, DO)) == {2}


def test_with_a_wish_for_a_step_only_that_step_is_practised() -> None:
    wish = [each for each in ITEMS if each.step == "top-face"]
    assert next_one(known(item("top-cross", "line"), 0), 40, items=wish) == wish[0]


def test_what_is_no_sequence_is_no_trouble() -> None:
    choosing = Item("top-face", "", "choose", METHOD.name)
    assert next_one([tried(0, 4, "failed", choosing)]) == ITEMS[0]


_TRIES = st.tuples(st.integers(0, 9), st.sampled_from(ITEMS), st.integers(0, 4), st.sampled_from(RESULTS))


@given(st.lists(_TRIES, max_size=40))
def test_there_is_always_something_to_practise(made: list[tuple[int, Item, int, Result]]) -> None:
    done = [tried(day, help, result, which) for day, which, help, result in sorted(made, key=lambda each: each[0])]
    session = [each.item for each in done if each.day == later(9)]
    assert next_one(done, 9, session) in ITEMS
