"""What is practised next: reviews first, then one new thing at a time, then everything in turn."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from coach.dialogue.practice.choosing import MOST_TRIES, all_items, choose, for_now, holds, kinds, wished
from coach.learning.exercise import RESULTS, Exercise, Item, Result
from coach.learning.schedule import Fsrs
from coach.method import cases_of, default_method
from tests.learning.made import later, tried

METHOD = default_method()
ITEMS = all_items(METHOD)
DO = kinds(ITEMS, "do")
PLANNER = Fsrs()


def item(step: str, case: str, kind: str = "do") -> Item:
    return Item(step, case, kind, METHOD.name)  # type: ignore[arg-type]


def known(which: Item, day: int) -> list[Exercise]:
    """An item that was learned on that day."""
    return [tried(day, help, "unaided", which) for help in (4, 3, 2, 1)]


def next_one(exercises: Sequence[Exercise], day: int = 0, session: Sequence[Item] = (), items: Sequence[Item] = ITEMS,
             cost=lambda item: 0) -> Item | None:  # type: ignore[no-untyped-def]  # fmt: skip
    return choose(items, exercises, session, later(day), PLANNER, cost)


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
        session.append(choose(wished("words", ITEMS, session), [], session, later(0), PLANNER) or ITEMS[0])
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


def test_a_new_thing_stays_until_it_holds() -> None:
    first, done = ITEMS[0], []
    for help in (4, 3, 2):
        done.append(tried(0, help, "unaided", first))
        assert next_one(done, session=[each.item for each in done]) == first
    done.append(tried(0, 1, "unaided", first))
    assert holds(done)
    assert next_one(done, session=[each.item for each in done]) != first


def test_what_never_holds_is_left_for_another_day() -> None:
    done = [tried(0, 4, "failed", ITEMS[0])] * MOST_TRIES
    assert next_one(done, session=[ITEMS[0]] * MOST_TRIES) not in (None, ITEMS[0])
    assert next_one(done, session=[ITEMS[0]] * MOST_TRIES, items=ITEMS[:1]) == ITEMS[0]


def test_what_is_due_comes_before_anything_new() -> None:
    done = known(item("top-cross", "line"), 0)
    assert next_one(done, 8) == item("top-cross", "line")


def test_what_was_begun_comes_before_anything_new() -> None:
    begun = item("top-edges", "no-side")
    done = [tried(0, 4, "unaided", begun), *known(item("top-cross", "line"), 0)]
    assert next_one(done) == begun


def test_what_the_cube_offers_is_preferred() -> None:
    line = item("top-cross", "line")
    assert next_one([], cost=lambda each: 0 if each == line else 6) == line
    two = item("top-face", "two-up")
    done = known(line, 0) + known(two, 0)
    assert next_one(done, 8, cost=lambda each: 0 if each == two else 6) == two
    assert next_one(done, 8, cost=lambda each: 0 if each == line else 6) == line


def test_once_all_holds_everything_comes_in_turn() -> None:
    done = [each for one in DO for each in known(one, 0)]
    session: list[Item] = []
    for _ in range(2 * len(DO)):
        chosen = next_one(done, session=session, items=DO)
        assert chosen and chosen not in session[-1:]
        session.append(chosen)
        done.append(tried(0, 1, "unaided", chosen))
    assert set(map(session.count, DO)) == {2}


def test_with_a_wish_for_a_step_only_that_step_is_practised() -> None:
    assert {each.step for each in all_items(METHOD) if each.step == "top-face"} == {"top-face"}
    wish = [each for each in ITEMS if each.step == "top-face"]
    assert next_one(known(item("top-cross", "line"), 0), 8, items=wish) == wish[0]


_TRIES = st.tuples(st.integers(0, 9), st.sampled_from(ITEMS), st.integers(0, 4), st.sampled_from(RESULTS))


@given(st.lists(_TRIES, max_size=40))
def test_there_is_always_something_to_practise(made: list[tuple[int, Item, int, Result]]) -> None:
    done = [tried(day, help, result, which) for day, which, help, result in sorted(made, key=lambda each: each[0])]
    session = [each.item for each in done if each.day == later(9)]
    assert next_one(done, 9, session) in ITEMS
