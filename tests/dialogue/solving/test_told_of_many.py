"""What is told of a turn that is counted, or of a whole part, is read as the turns that it may be; nothing is known by
it alone, and nothing is put right for a remark that tells nothing."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.slips.repairs import without_waste
from coach.cube import inverse, join, parse
from coach.dialogue import Act, Ask, Event, Heard, Listen, Say, SlipFound
from coach.dialogue.lesson import Lesson
from coach.dialogue.meant import meant
from coach.language.en.slips.tellings import telling
from coach.method import default_method
from coach.simulation import holding, random_cube
from coach.simulation.slipping import SlippingLearner
from tests.loaded import load

LANGUAGE = load()
CALLS = parse("R U R' U' R' F R2 U' R' U' R U R' F'")
PARTS = (range(4), range(4, 8), range(8, 11), range(11, 14))

COUNTED = [
    # what is said once all turns have been called, and the calls that may be meant (1: the first)
    ("i think i missed the first front one", [[6]]),
    ("oh i forgot the first one, the front clockwise", [[6]]),
    ("no. i think i missed the front one, oops", [[6], [14]]),
    ("I missed the last front turn", [[14]]),
    ("I think I forgot to do the whole first part, lift slide lower", [[1, 2, 3, 4]]),
    ("sorry, I skipped the last part", [[12, 13, 14]]),
    ("I left out the third bit", [[9, 10, 11]]),
    ("I did the sixth turn the wrong way", [[6]]),
    ("the second right one I did twice", [[3]]),
    ("I forgot the second turn, the top to the left", [[2], [12]]),
    ("the first right turn I went down instead of up", [[1]]),
    ("I missed the first two", []),
    ("I missed the ninth front one", []),
    ("I did the first turn", []),
    ("one of the first turns was wrong", []),
]


@pytest.mark.parametrize(("text", "may_be"), COUNTED)
def test_a_turn_that_is_counted_is_found_by_its_number(text: str, may_be: list[list[int]]) -> None:
    slips = meant(telling(text), CALLS, [0], PARTS, over=True)
    assert [[slip.at + 1 for slip in each] for each in slips] == may_be


def test_it_may_be_counted_from_the_part_they_are_at() -> None:
    """In the third part, which begins with call 9."""
    told = meant(telling("I forgot the first one"), CALLS[:10], [0], PARTS)
    assert [slip.at + 1 for (slip,) in told] == [1, 9]


def test_one_that_is_not_in_the_last_run_is_looked_for_before() -> None:
    """The last run turns only the top."""
    told = meant(telling("I missed the first front one"), (*CALLS, *parse("U2")), [0, 14], (), over=True)
    assert [slip.at + 1 for (slip,) in told] == [6]


def lesson_with(missed: set[int], says: dict[str, str]) -> tuple[list[Act], SlippingLearner]:
    """A lesson from the top corners in which those calls are not done; `says` has what is said at the first check
    after them, by the kind of question."""
    cube = random_cube("top-corners", Random(1))
    learner = SlippingLearner(cube, Random(1), lambda number, say: "left-out" if number + 1 in missed else "")
    lesson = Lesson(default_method(), LANGUAGE.sentences, "top-corners", None, LANGUAGE.offers)
    truth, left = holding.answering(learner, LANGUAGE), dict(says)

    def answer(listen: Listen) -> Event:
        if learner.calls >= max(missed) and listen.asked in left:
            text = left.pop(listen.asked)
            return Heard.read(text, LANGUAGE.read(text, listen.asked, listen.scene), listen.asked)
        return truth(listen)

    return holding.hold(lesson, learner, answer), learner


def said_until_found(acts: list[Act], word: str) -> list[Say]:
    """What is said from the first sentence with `word` until a slip is found."""
    after = next(at for at, act in enumerate(acts) if isinstance(act, Say) and word in act.text)
    end = next(at for at, act in enumerate(acts) if isinstance(act, SlipFound))
    return [act for act in acts[after:end] if isinstance(act, Say)]


@pytest.mark.parametrize(
    "text",
    ["i think i missed the first front one", "oh i forgot the first one, the front clockwise"],
)
def test_the_turn_told_by_its_number_is_put_right_and_made_sure_of(text: str) -> None:
    acts, learner = lesson_with({6}, {"claim": text})
    found = [act for act in acts if isinstance(act, SlipFound)]
    assert len(found) == 1
    assert parse(found[0].explains)[:14] == (*CALLS[:5], *CALLS[6:])
    told = [act.text for act in acts if isinstance(act, Say) and "sixth turn" in act.text]
    assert told == ["I think the sixth turn was left out."], "told, not known"
    after = acts[acts.index(found[0]) :]
    assert next(act for act in after if isinstance(act, Ask)).query.asks == "claim"
    assert learner.cube.solved


def test_where_it_fits_several_turns_they_are_asked() -> None:
    acts, _ = lesson_with({6}, {"claim": "no. i think i missed the front one, oops"})
    assert any(isinstance(say, Ask) for say in said_until_found(acts, "find out what happened"))
    found = next(act for act in acts if isinstance(act, SlipFound))
    assert parse(found.explains)[:14] == (*CALLS[:5], *CALLS[6:])


def test_a_whole_part_left_out_is_told_as_one() -> None:
    acts, learner = lesson_with({1, 2, 3, 4}, {"claim": "I think I forgot to do the whole first part"})
    told = [act.text for act in acts if isinstance(act, Say) and "4 turns were left out" in act.text]
    assert len(told) == 1
    assert learner.cube.solved


@pytest.mark.parametrize("remark", ["the lower layers are broken", "something went wrong"])
def test_a_remark_that_tells_nothing_of_a_turn_is_asked_about_before_anything_is_put_right(remark: str) -> None:
    acts, _ = lesson_with({6}, {"claim": remark})
    assert any(isinstance(say, Ask) for say in said_until_found(acts, "find out what happened"))


@pytest.mark.parametrize(
    ("first", "then", "less"),
    [
        ("R U D2", "D2 F R", ("R U", "F R")),
        ("R U D", "D F", ("R U", "D2 F")),
        ("D2", "D2 F", ("F", "")),
        ("R U D", "D' U' R' F", ("F", "")),
        ("R U", "F R", ("R U", "F R")),
    ],
)
def test_two_turns_in_a_row_that_cancel_are_not_called(first: str, then: str, less: tuple[str, str]) -> None:
    done = without_waste(parse(first), parse(then))
    assert done == (parse(less[0]), parse(less[1]))
    assert join((*done[0], *done[1], *inverse(parse(f"{first} {then}")))) == ()
