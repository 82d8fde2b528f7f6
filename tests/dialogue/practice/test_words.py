"""Exercises in words: sequences said aloud, and cases told apart with their holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from coach.cube import Cube
from coach.dialogue import Act, Ask, Event, Heard, Listen, Say, Silence
from coach.dialogue.practice.choosing import all_items, kinds
from coach.dialogue.practice.placing import NEXT_STEP
from coach.dialogue.practice.telling import Judged, TellingCase, judged, of_top
from coach.dialogue.reciting import Reciting
from coach.dialogue.saying import Talking
from coach.dialogue.talk import Talk
from coach.language.aside import Aside
from coach.language.meaning import Command, Meaning
from coach.learning.exercise import Item, Result
from coach.method import Case, Step
from tests.dialogue.hands import command
from tests.dialogue.hearing import utter
from tests.dialogue.practice.pupil import METHOD, SETUPS, case, told_of
from tests.loaded import load

ITEMS = all_items(METHOD)
SAID = kinds(ITEMS, "recite")
TOLD = [item for item in kinds(ITEMS, "hold") if isinstance(METHOD.step(item.step), Step) and item.case != NEXT_STEP]
FLIP = next(item for item in SAID if item.step == "top-cross")


def turns(said: str) -> Heard:
    return utter(said, Meaning(turns=tuple(said.split())))


def talk_with(flow: Talking[Result], answers: Sequence[Event]) -> tuple[Result | None, list[Act]]:
    """The result once these answers are given, None if it is not over then; and all acts."""
    acts: list[Act] = []
    left = list(answers)
    event: Event | None = None
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
            event = left.pop(0)


def texts(acts: Sequence[Act]) -> list[str]:
    return [act.text for act in acts if isinstance(act, Say)]


def recite(item: Item, help: int, *answers: Event) -> tuple[Result | None, list[Act]]:
    named = case(item.step, item.case).named
    assert named
    return talk_with(Reciting(Talk(load().sentences), named, item, help).go(), answers)


def tell(item: Item, help: int, *answers: Event, number: int = 0) -> tuple[Result | None, list[Act]]:
    step, one = METHOD.step(item.step), case(item.step, item.case)
    assert isinstance(step, Step) and isinstance(one, Case)
    pattern = SETUPS.top.example(step, one, number).faces
    assert step.case_of(pattern) == one
    talk = Talk(load().sentences)
    return talk_with(TellingCase(talk, item, help, of_top(talk, step, one, pattern)).go(), answers)


# Saying a sequence


@pytest.mark.parametrize("item", SAID, ids=[item.case for item in SAID])
@pytest.mark.parametrize("help", range(5))
def test_who_says_all_of_it_in_one_breath_is_right(item: Item, help: int) -> None:
    result, acts = recite(item, help, turns(" ".join(map(str, case(item.step, item.case).sequence))))
    assert result == "unaided"
    asked = [act.query for act in acts if isinstance(act, Ask)]
    assert [(query.asks, query.step, query.case, query.help) for query in asked] == [
        ("recite", item.step, item.case, help)
    ]


@pytest.mark.parametrize("item", SAID, ids=[item.case for item in SAID])
def test_who_says_turn_after_turn_is_followed_silently(item: Item) -> None:
    sequence = case(item.step, item.case).sequence
    result, acts = recite(item, 0, *(turns(str(turn)) for turn in sequence))
    assert result == "unaided"
    assert len(texts(acts)) == 2  # the question, and the end


def test_a_group_that_ends_wrongly_is_put_right_and_goes_on() -> None:
    result, acts = recite(FLIP, 0, turns("F U' R"), turns("U R"), turns("U' R' F'"))
    assert result == "failed"
    assert any("right: the front layer goes clockwise. After that comes: the top" in text for text in texts(acts))


def test_what_was_right_of_a_part_is_told_with_what_comes_after_it() -> None:
    _, acts = recite(FLIP, 0, turns("F U R"), turns("U' R' F"))
    right = "the top layer goes right, then the right layer goes down. After that comes: the front layer"
    assert any(f"turns were right: {right} goes anticlockwise" in text for text in texts(acts)), texts(acts)
    _, acts = recite(FLIP, 0, turns("F U R"), turns("B"), Silence(20.0))
    assert any("out with top, right, front, begins like this: the top layer goes right" in text for text in texts(acts))


def test_an_okay_in_between_is_no_turn_that_was_not_understood() -> None:
    okay = Heard("okay", None, aside=Aside(frozenset({"only-okay"})))
    result, acts = recite(FLIP, 0, turns("F U R"), okay, turns("U' R' F'"))
    assert result == "unaided" and not any("didn't get" in text for text in texts(acts))


@pytest.mark.parametrize("said", (Meaning(turns=("U",)), Meaning(turns=("U",), command="correct")))
def test_a_turn_put_right_within_the_group_is_no_mistake(said: Meaning) -> None:
    corrected = utter("no, top left", said)
    assert recite(FLIP, 0, turns("F U'"), corrected, turns("R U' R' F'"))[0] == "unaided"


def test_who_says_the_whole_part_again_after_a_correction_goes_on() -> None:
    result, acts = recite(FLIP, 0, turns("F U' R"), turns("F U R"), turns("U' R' F'"))
    assert result == "failed"
    assert sum(text.startswith("Almost") for text in texts(acts)) == 1
    assert recite(FLIP, 0, turns("F U' R"), turns("F U R U' R' F'"))[0] == "failed"


def test_after_a_pause_the_coach_helps() -> None:
    result, acts = recite(FLIP, 0, turns("F"), Silence(20.0), turns("U R U' R' F'"))
    assert result == "helped"
    assert any(text.startswith("Next") for text in texts(acts))


@pytest.mark.parametrize("said", ("hint", "unsure", "call-it", "done"))
def test_who_cannot_go_on_is_helped(said: str) -> None:
    assert recite(FLIP, 1, turns("F U R"), command(said), turns("U' R' F'"))[0] == "helped"  # type: ignore[arg-type]


def test_what_is_not_understood_counts_for_nothing() -> None:
    mumbled = utter("mumble")
    assert recite(FLIP, 0, mumbled, mumbled, turns("F U R U' R' F'"))[0] == "unaided"
    assert recite(FLIP, 0, mumbled, mumbled, mumbled)[0] == "unclear"


def test_who_only_thinks_aloud_is_listened_to() -> None:
    hesitant = utter("um")
    result, acts = recite(FLIP, 0, hesitant, hesitant, hesitant, turns("F U R U' R' F'"))
    assert result == "unaided" and len(texts(acts)) == 2


def test_who_never_gets_it_right_is_told_the_whole_of_it() -> None:
    result, acts = recite(FLIP, 0, *[turns("B B B B")] * 6)
    assert result == "failed"
    assert "front layer goes anticlockwise" in texts(acts)[-1]


@pytest.mark.parametrize("help, told", ((4, True), (3, True), (2, False), (1, False), (0, False)))
def test_the_more_help_the_more_is_told_before(help: int, told: bool) -> None:
    _, acts = recite(FLIP, help)
    assert any("the top layer goes left" in text for text in texts(acts)) == told


# Telling cases apart


@pytest.mark.parametrize("item", TOLD, ids=[f"{item.step}-{item.case}" for item in TOLD])
@pytest.mark.parametrize("help", range(5))
def test_who_tells_case_and_hold_is_right(item: Item, help: int) -> None:
    one = case(item.step, item.case)
    assert isinstance(one, Case)
    result, acts = tell(item, help, utter("so", told_of(item.step, one)), number=help)
    assert result == "unaided"
    asked = [act.query for act in acts if isinstance(act, Ask)]
    assert [(query.asks, query.case, query.help) for query in asked] == [("hold", item.case, help)]


@pytest.mark.parametrize("item", TOLD, ids=[f"{item.step}-{item.case}" for item in TOLD])
def test_the_case_is_described_without_its_name_or_its_hold(item: Item) -> None:
    one = case(item.step, item.case)
    for number in range(20):
        asked = " ".join(texts(tell(item, 0, number=number)[1]))
        for what in ("name", "hold"):
            words = one.say("en", what).format(up="yellow", is_up="is yellow", are_up="are yellow", up_sticker="yellow")
            assert words not in asked
        assert not any(word in asked for word in ("line", "dot", "corner shape"))


@pytest.mark.parametrize("item", TOLD, ids=[f"{item.step}-{item.case}" for item in TOLD])
def test_another_case_of_the_step_is_wrong(item: Item) -> None:
    step, one = METHOD.step(item.step), case(item.step, item.case)
    assert isinstance(step, Step) and isinstance(one, Case)
    for other in TOLD:
        if other.step == item.step and other != item:
            wrong = case(other.step, other.case)
            assert isinstance(wrong, Case)
            assert False in (found := judged(step, one, told_of(item.step, wrong)), found.name, found.hold)


def test_name_and_hold_may_come_one_after_the_other() -> None:
    line = next(item for item in TOLD if item.case == "line")
    look = dict(zip(("U1", "U3", "U5", "U7"), (False, True, True, False), strict=True))
    assert tell(line, 0, utter("a line", Meaning(case="line")), utter("across", Meaning(look=look)))[0] == "unaided"


def test_a_hold_that_is_not_understood_is_told_and_asked_about() -> None:
    item = next(item for item in TOLD if item.case == "two-up")
    two, mumbled = utter("two", Meaning(corners=2)), utter("mumble")
    result, acts = tell(item, 0, two, mumbled, mumbled, command("yes"))
    assert result == "unaided"
    assert any("Is that what you meant?" in text for text in texts(acts))
    assert tell(item, 0, two, mumbled, mumbled, command("no"))[0] == "failed"


def test_who_does_not_know_is_told() -> None:
    line = next(item for item in TOLD if item.case == "line")
    result, acts = tell(line, 0, command("unsure"))
    assert result == "failed" and "The line runs from left to right." in texts(acts)[-1]
    assert tell(line, 0, command("hint"), utter("a line", told_of("top-cross", line_case())))[0] == "helped"


def line_case() -> Case:
    one = case("top-cross", "line")
    assert isinstance(one, Case)
    return one


def test_what_is_never_understood_counts_for_nothing() -> None:
    line = next(item for item in TOLD if item.case == "line")
    assert tell(line, 0, utter("mumble"), utter("mumble"))[0] == "unclear"


def test_naming_only_where_the_corner_comes_does_not_count_it() -> None:
    """The front left corner alone may be said where two corners have the colour on top."""
    step, one = METHOD.step("top-face"), case("top-face", "two-up")
    assert isinstance(step, Step) and isinstance(one, Case)
    said = Meaning(look={"U0": False, "U2": False, "U8": False, "U6": True})
    assert judged(step, one, said) == Judged(None, None)


@pytest.mark.parametrize("item", TOLD, ids=[f"{item.step}-{item.case}" for item in TOLD])
def test_examples_of_a_case_differ(item: Item) -> None:
    step, one = METHOD.step(item.step), case(item.step, item.case)
    assert isinstance(step, Step) and isinstance(one, Case)
    found = {SETUPS.top.example(step, one, number) for number in range(12)}
    assert len(found) == 12 and all(isinstance(cube, Cube) and one.fits(cube.faces) for cube in found)


def test_whoever_says_it_rightly_has_the_whole_time_again() -> None:
    named = case(FLIP.step, FLIP.case).named
    assert named
    talk = Talk(load().sentences)
    talk._useless = 8
    result, _ = talk_with(Reciting(talk, named, FLIP, 1).go(), [turns(" ".join(map(str, named.turns)))])
    assert result == "unaided" and talk._useless == 0


# What was not heard surely is asked about before it makes a failure


def half_heard(heard: Heard, confidence: float = 0.7) -> Heard:
    return replace(heard, confidence=confidence)


WRONG_PART = half_heard(turns("F U' R"))


def test_a_part_that_was_misheard_in_a_direction_is_asked_about_and_counts_for_nothing() -> None:
    result, acts = recite(FLIP, 0, WRONG_PART, command("no"), turns("F U R U' R' F'"))
    assert result == "unaided"
    assert sum(text.startswith("F U' R") for text in texts(acts)) == 1


@pytest.mark.parametrize("sure", (None, 0.95))
def test_a_part_that_was_heard_surely_or_typed_is_not_asked_about(sure: float | None) -> None:
    assert recite(FLIP, 0, replace(WRONG_PART, confidence=sure), turns("U R U' R' F'"))[0] == "failed"


def test_who_has_really_said_it_wrongly_or_says_it_twice_has_made_a_mistake() -> None:
    assert recite(FLIP, 0, WRONG_PART, command("yes"), turns("U R U' R' F'"))[0] == "failed"
    again = recite(FLIP, 0, WRONG_PART, command("no"), WRONG_PART, turns("U R U' R' F'"))
    assert again[0] == "failed", "asked once"


def test_what_is_right_is_never_asked_about_however_it_was_heard() -> None:
    result, acts = recite(FLIP, 0, half_heard(turns("F U R U' R' F'"), 0.3))
    assert result == "unaided" and len(texts(acts)) == 2


ACROSS = next(item for item in TOLD if (item.step, item.case) == ("top-cross", "line"))


@pytest.mark.parametrize(("answer", "result"), [("no", "unaided"), ("yes", "failed")])
def test_a_case_or_a_hold_that_was_misheard_is_asked_about(answer: str, result: str) -> None:
    wrong = half_heard(utter("corner", Meaning(shape="corner")))
    right = utter("a line from left to right", Meaning(shape="line", look=line_across()))
    assert tell(ACROSS, 0, wrong, command(answer), right)[0] == result  # type: ignore[arg-type]
    assert tell(ACROSS, 0, replace(wrong, confidence=0.95))[0] == "failed"


def line_across() -> dict[str, bool]:
    return {place: place in ("U3", "U5") for place in ("U1", "U3", "U5", "U7")}


def test_a_word_for_giving_up_that_was_misheard_is_asked_about() -> None:
    right = utter("a line from left to right", Meaning(shape="line", look=line_across()))
    assert tell(ACROSS, 0, half_heard(command("unsure")), command("no"), right)[0] == "unaided"


@pytest.mark.parametrize("wish", ("wait", "help", "how-am-i-doing", "slower"))
def test_whatever_else_a_learner_wants_is_no_answer(wish: Command) -> None:
    item = TOLD[0]
    right = utter("so", told_of(item.step, case(item.step, item.case)))  # type: ignore[arg-type]
    answers = (command(wish), *([command("resume")] if wish == "wait" else []), right)
    result, acts = tell(item, 0, *answers)
    assert result == "unaided"
    assert not any("And which case" in text or "Let's leave that" in text for text in texts(acts))


def test_the_description_is_told_again_whenever_that_is_wanted() -> None:
    item = next(item for item in TOLD if item.case == "line")
    for before in ((), (utter("a line", Meaning(case="line")),)):
        _, acts = tell(item, 0, *before, command("repeat"))
        described = [text for text in texts(acts) if "On top, the edges at" in text]
        assert len(described) > 1 and described[0].split("Which")[0].strip() in described[1]


def test_a_cube_that_is_a_mess_does_not_end_a_question_in_words() -> None:
    item, upset = TOLD[0], []

    def note() -> Talking[None]:
        upset.append(True)
        yield from ()

    one = case(item.step, item.case)
    assert isinstance(one, Case)
    matter = of_top(Talk(load().sentences), METHOD.step(item.step), one,  # type: ignore[arg-type]
                    SETUPS.top.example(METHOD.step(item.step), one, 0).faces)  # type: ignore[arg-type]
    flow = TellingCase(Talk(load().sentences), item, 0, matter, note).go()
    mess = utter("the cube is a mess now", Meaning(command="mistake"))
    result, _ = talk_with(flow, [mess, command("lost"), utter("so", told_of(item.step, one))])
    assert result == "unaided" and upset == [True, True]


def test_who_does_not_know_is_told_without_a_no() -> None:
    result, acts = tell(TOLD[0], 0, command("unsure"), command("yes"))
    assert result == "failed" and not any(text.startswith(("No", "Not")) for text in texts(acts))


def test_who_has_asked_to_wait_and_says_to_go_on_is_given_no_hint() -> None:
    onward = Heard("go on", Meaning(command="hint"), aside=Aside(frozenset({"only-onward"})))
    result, acts = recite(FLIP, 0, command("wait"), onward, turns("F U R U' R' F'"))
    assert result == "unaided" and not any(text.startswith("Next") for text in texts(acts))


def test_who_wants_to_try_it_alone_in_words_is_given_no_turns_to_do() -> None:
    _, acts = recite(FLIP, 0, command("alone"))
    assert "All right. The rest is yours." in texts(acts)
