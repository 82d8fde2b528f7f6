"""Telling for the lower steps and what comes next, in spoken words: the sequence and where the piece comes for it, the
next piece, the next step."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from coach.cube import Cube
from coach.dialogue import Act, Ask, Event, Listen, Say
from coach.dialogue.practice.choosing import all_items, kinds
from coach.dialogue.practice.placing import NEXT_PIECE, NEXT_STEP, next_piece, next_step, of_case
from coach.dialogue.practice.telling import Matter, TellingCase
from coach.dialogue.talk import Talk
from coach.learning.exercise import Item, Result
from coach.method import Hand, PlacingCase, Step, cases_of, default_method
from tests.dialogue.hearing import utter
from tests.dialogue.practice.pupil import Practising, fresh, practice
from tests.dialogue.practice.pupil import hold as hold_practice
from tests.loaded import load

LANGUAGE = load()
METHOD = default_method()
ITEMS = [
    item for item in kinds(all_items(METHOD), "hold")
    if item.case == NEXT_STEP or not isinstance(METHOD.step(item.step), Step)
]  # fmt: skip
CASES = [item for item in ITEMS if item.case not in (NEXT_PIECE, NEXT_STEP)]
PIECES = [item for item in ITEMS if item.case == NEXT_PIECE]
STEPS = [item for item in ITEMS if item.case == NEXT_STEP]
WHERE = {
    "UF": "at the front", "UR": "on the right", "UL": "on the left", "DF": "at the front", "FR": "at the front right",
    "FL": "at the front left", "UFR": "at the front right", "UFL": "at the front left", "DFR": "at the front right",
    "DFL": "at the front left",
}  # fmt: skip


def case_of(item: Item, hand: Hand = "right") -> PlacingCase:
    found = next(case for case in cases_of(default_method(hand).step(item.step)) if case.id == item.case)
    assert isinstance(found, PlacingCase)
    return found


def matter(talk: Talk, item: Item, number: int, hand: Hand) -> Matter:
    method = default_method(hand)
    step = method.step(item.step)
    if item.case == NEXT_STEP:
        return next_step(talk, method, item.step)
    assert not isinstance(step, Step)
    if item.case == NEXT_PIECE:
        one, talk.others = next_piece(talk, step, number)
        return one
    return of_case(talk, step, case_of(item, hand), number)


def tell(item: Item, help: int, *said: str, number: int = 0, hand: Hand = "right") -> tuple[Result | None, list[Act]]:
    """The result of these answers, None if it is not over then; and all acts."""
    talk = Talk(LANGUAGE.sentences, method=lambda: default_method(hand))
    flow = TellingCase(talk, item, help, matter(talk, item, number, hand)).go()
    acts: list[Act] = []
    left, event = [*said], None
    while True:
        try:
            act = flow.send(event)
        except StopIteration as over:
            return over.value, acts
        acts.append(act)
        event = None
        if isinstance(act, Listen):
            if not left:
                return None, acts
            text = left.pop(0)
            event = utter(text, LANGUAGE.understand(text, act.asked, act.scene), at=act)


def texts(acts: Sequence[Act]) -> list[str]:
    return [act.text for act in acts if isinstance(act, Say)]


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("help", [0, 4])
def test_who_names_the_sequence_and_the_place_is_right_in_every_case(help: int, hand: Hand) -> None:
    method = default_method(hand)
    items = [item for item in kinds(all_items(method), "hold") if not isinstance(method.step(item.step), Step)]
    for item in items:
        if item.case in (NEXT_PIECE, NEXT_STEP):
            continue
        case = case_of(item, hand)
        name = case.named.say("en", "name")
        for number in range(4):
            for answer in (f"{WHERE[case.at]}, and then {name}", f"{name}, I bring it {WHERE[case.at]}"):
                result, acts = tell(item, help, answer, number=number, hand=hand)
                assert result == "unaided", (item, texts(acts))
                asked = [act.query for act in acts if isinstance(act, Ask)]
                assert {(query.asks, query.step, query.case) for query in asked} == {("hold", item.step, item.case)}


@pytest.mark.parametrize("item", CASES, ids=[item.case for item in CASES])
def test_the_description_gives_neither_the_name_away_nor_the_place_that_is_asked_for(item: Item) -> None:
    case, talk = case_of(item), Talk(LANGUAGE.sentences)
    name = case.named.say("en", "name").removeprefix("the ")
    for number in range(4):
        one = matter(talk, item, number, "right")
        assert name not in one.seen and (one.given.hold or f"{WHERE[case.at]}," not in one.seen.partition("edge")[2])


def test_both_parts_may_be_said_one_after_the_other() -> None:
    result, acts = tell(CASES[0], 1, "at the front", "the join on the right")
    assert result == "unaided"
    assert any(text == "And which sequence takes it in?" for text in texts(acts))
    result, acts = tell(CASES[0], 1, "the join on the right", "it comes to the front")
    assert result == "unaided"


@pytest.mark.parametrize(
    ("case", "answer"),
    [
        ("faces-up", "the right-hand lift"), ("faces-right", "the double lift"), ("faces-front", "side door"),
        ("edge-up", "at the front, the side door"), ("edge-front", "at the back, then the side door"),
        ("from-front", "the join in front, at the front"), ("edge-below", "at the back left, the join on the right"),
        ("edge-up", "I don't know"), ("faces-up", "no idea"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_the_right_answer(case: str, answer: str) -> None:
    item = next(item for item in CASES if item.case == case)
    result, acts = tell(item, 1, answer)
    assert result == "failed"
    begins = "That's all right. " if answer in ("I don't know", "no idea") else "Not quite. "
    assert texts(acts)[-1].startswith(begins) and case_of(item).named.say("en", "name") in texts(acts)[-1]


def test_a_hint_tells_it_and_is_help() -> None:
    result, _ = tell(CASES[0], 1, "give me a hint", "at the front, the join on the right")
    assert result == "helped"


def test_what_is_not_understood_counts_for_nothing() -> None:
    for item in (CASES[0], PIECES[0], STEPS[0]):
        result, acts = tell(item, 1, "hm", "blah blah", "the weather", "mumble")
        assert result == "unclear", (item, texts(acts))


def test_answers_that_never_settle_it_end_it() -> None:
    result, acts = tell(CASES[0], 1, *["at the front"] * 20)
    assert result == "unclear" and sum(isinstance(act, Ask) for act in acts) < 10


@pytest.mark.parametrize("item", PIECES, ids=[item.step for item in PIECES])
@pytest.mark.parametrize("number", range(6))
def test_the_next_piece_is_chosen_by_its_colours_its_layer_or_its_order(item: Item, number: int) -> None:
    step, talk = METHOD.step(item.step), Talk(LANGUAGE.sentences)
    assert not isinstance(step, Step)
    one, told = next_piece(talk, step, number)
    assert told[0] != told[1]
    right = next(colours for colours in told if " and ".join((", ".join(colours[:-1]), colours[-1])) in one.told)
    wrong = next(colours for colours in told if colours != right)
    where = "first" if told[0] == right else "second"
    layers = one.told.partition(" layer")[0].rpartition(" ")[2]
    for answer in (f"the {' and '.join(right)} one", f"the {where} one", f"the one in the {layers} layer"):
        assert tell(item, 1, answer, number=number)[0] == "unaided", answer
    assert tell(item, 1, f"the {' and '.join(wrong)} one", number=number)[0] == "failed"


@pytest.mark.parametrize("item", STEPS, ids=[item.step for item in STEPS])
def test_the_next_step_is_told_by_its_name(item: Item) -> None:
    name = LANGUAGE.sentences.part(f"steps.{item.step}")
    result, acts = tell(item, 1, f"the {name}")
    assert result == "unaided" and name not in texts(acts)[0]
    other = "top edges" if name != "top edges" else "middle edges"
    assert tell(item, 1, other, "yes")[0] == "failed"
    assert tell(item, 1, other, "no", name)[0] == "unaided", "a doubt is asked about and does not count"


@pytest.mark.parametrize("said", ["the corners of the bottom", "now the white corners", "let's do the bottom corners"])
def test_the_next_step_may_be_described(said: str) -> None:
    assert tell(STEPS[0], 1, said)[0] == "unaided"


def test_in_a_session_all_of_it_is_asked_and_rightly_answered() -> None:
    """The whole course of them, at a level at which nothing is told first."""
    items = [*CASES[:2], *PIECES[:1], *STEPS[:2]]
    one = practice(fresh(), 45.0)
    one._items = tuple(items)

    def answer(pupil: Practising) -> Event:
        query = pupil.question.query
        if pupil.listen.asked != "hold":
            return pupil.answer()
        if query.case == NEXT_STEP:
            said = LANGUAGE.sentences.part(f"steps.{query.step}")
        elif query.case == NEXT_PIECE:
            said = f"the one in the {pupil.higher_layer} layer"
        else:
            case = case_of(Item(query.step, query.case, "hold", METHOD.name))
            said = f"{WHERE[case.at]}, {case.named.say('en', 'name')}"
        return utter(said, LANGUAGE.understand(said, "hold", pupil.listen.scene), at=pupil.listen)

    pupil = hold_practice(one, Practising(Cube()), answer)
    done = {(each.step, each.case) for each in pupil.practised}
    assert done == {(item.step, item.case) for item in items}
    assert {each.result for each in pupil.practised} == {"unaided"}
