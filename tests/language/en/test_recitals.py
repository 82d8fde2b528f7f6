"""Turns said from memory are read as they were said, in every style of call, whichever hand turns most."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest

from coach.cube import FACE_TURNS, Turn, write
from coach.language import Meaning, Scene
from coach.language.en.reader.turns import are_broken, plainly
from coach.method import default_method, mirrored_method
from tests.loaded import load

LANGUAGE = load()
CALLS = LANGUAGE.sentences
STYLES = ("plain", "clock", "letters")
METHODS = (default_method(), mirrored_method(default_method()))
SEQUENCES = {write(sequence.turns): sequence.turns for method in METHODS for sequence in method.sequences}
PEOPLE = Path(__file__).parents[3] / "models/answers-en/recitals"


def understood(text: str) -> Meaning | None:
    return LANGUAGE.understand(text, "recite", Scene())


def bare(text: str) -> str:
    """As a recogniser may write it: without marks and capitals."""
    return " ".join("".join(each if each.isalnum() or each in "' " else " " for each in text).lower().split())


def shortened(call: str) -> str:
    """As learners say a call back: "the right layer goes up" is "right up"."""
    return " ".join(word for word in call.split() if word not in ("the", "layer", "goes"))


def said(turns: tuple[Turn, ...], style: str) -> Iterator[str]:
    """The turns as the coach calls them, shortened, and joined in several ways."""
    called = [CALLS.call(turn, style) for turn in turns]
    for calls in (called, [shortened(call) for call in called]):
        yield from (joint.join(calls) for joint in (", ", " ", ", then ", ". ", " and "))


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("turns", SEQUENCES.values(), ids=SEQUENCES)
def test_every_sequence_is_read_turn_by_turn(turns: tuple[Turn, ...], style: str) -> None:
    for text, form in product(said(turns, style), (str, bare)):
        meaning = understood(form(text))
        assert meaning == Meaning(turns=tuple(map(str, turns))), form(text)


@pytest.mark.parametrize("style", STYLES)
def test_any_two_turns_are_read_whatever_would_be_expected(style: str) -> None:
    turns = [turn for turn in FACE_TURNS if turn.face != "B"]
    for pair in product(turns, repeat=2):
        for text in said(pair, style):
            assert plainly(text.split()) == tuple(map(str, pair)), text


@pytest.mark.parametrize(
    ("text", "turns"),
    [
        ("right up, um, top right right down", "R U' R'"),
        ("Then it's the right layer up and the top to the left", "R U"),
        ("right half a turn, top anti-clockwise", "R2 U'"),
        ("a half turn", ""),
        ("top goes back to the right, right goes up, front anticlockwise", "U' R F'"),
        ("right goes up, top goes left and the right comes down again", "R U R'"),
        ("right down again, and the front the other way, anticlockwise", "R' F'"),
        ("oh right down I meant", "R'"),
        ("right up, top left and the other way", ""),
        ("front anticlockwise, I think, or clockwise", ""),
        ("turn the top left two times", "U2"),
        ("are you are prime you prime", "R U R' U'"),
        ("r2 u' f", "R2 U' F"),
        ("U two, R prime twice", ""),
        ("right up, top", ""),
        ("right left", ""),
        ("top up", ""),
        ("front to the left", ""),
        ("right up, no, right down", "R'"),
        ("right up, top left, no sorry, I mean top right", "R U'"),
        ("right up, right... no hang on, top left", "R U"),
        ("no, right down", "R'"),
        ("R U no U prime", "R U'"),
        ("right up, no, that's wrong", ""),
        ("right up, wait, right down", ""),
        ("not the right layer up", ""),
        ("give me a hint", ""),
        ("", ""),
    ],
)
def test_what_is_plain_needs_no_learning_and_the_rest_is_left_to_the_reader(text: str, turns: str) -> None:
    assert plainly(text.split()) == tuple(turns.split())


@pytest.mark.parametrize("text", ["front anticlockwise, I think, or clockwise", "top left or right", "maybe right up"])
def test_a_doubt_is_no_answer(text: str) -> None:
    assert understood(text) is None


def test_a_turn_said_instead_of_another_takes_it_back() -> None:
    assert "corrects" in LANGUAGE.aside("oh right down I meant", "recite", Scene()).marks


@pytest.mark.parametrize(
    ("text", "broken"),
    [
        ("F two prime", True), ("right up top", True), ("top up", True), ("then the", False), ("right up", False),
        ("R U", False), ("give me a hint", False), ("right up no top left", False), ("", False),
    ],
)  # fmt: skip
def test_calls_that_make_no_turns_were_not_said(text: str, broken: bool) -> None:
    assert are_broken(text.split()) == broken
    assert (LANGUAGE.respell(text, "recite") == "") == (broken or not text)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Top and the clockwise, right onto clockwise.", "Top anticlockwise, right anticlockwise."),
        ("Front goes empty clockwise", "Front goes anticlockwise"),
        ("right clock rise, top lockwise", "right clockwise, top clockwise"),
        ("left anti clockwise", "left anticlockwise"),
        ("left and di clockwise", "left anticlockwise"),
        ("Right down, front, then clockwise.", "Right down, front anticlockwise."),
        ("the front layer goes back the clockwise", "the front layer goes anticlockwise"),
        ("the front layer goes then the clockwise", "the front layer goes anticlockwise"),
        ("the front layer goes, then, clockwise", "the front layer goes anticlockwise"),
        ("front the clockwise way", "front the clockwise way"),
        ("Right down, then front clockwise.", "Right down, then front clockwise."),
        ("right up to times", "right up two times"),
        ("leftwise, right have a turn", "left twice, right half a turn"),
        ("right up and top left", "right up and top left"),
        ("right clockwise and top clockwise", "right clockwise and top clockwise"),
    ],
)
def test_what_sounds_like_a_call_is_written_as_one(written: str, meant: str) -> None:
    assert LANGUAGE.respell(written, "recite") == meant


@pytest.mark.parametrize(
    ("text", "corrects"),
    [
        ("no, right down", True), ("sorry, I mean top left", True), ("right up", False),
        ("right up, no, right down", False),
    ],
)  # fmt: skip
def test_what_takes_back_the_turn_before_is_told_apart(text: str, corrects: bool) -> None:
    assert ("corrects" in LANGUAGE.aside(text, "recite").marks) == corrects


def test_a_reading_that_is_sure_enough_to_act_on_is_heard() -> None:
    reading = LANGUAGE.settle([("right up and top left", 0.9), ("wipe up and top loft", 0.1)], "recite", Scene())
    assert reading.acts
    assert reading.asks


@pytest.mark.parametrize(("name", "right", "wrong"), [("mended", 0.93, 0.03), ("unseen", 0.82, 0.08)])
def test_people_are_read(name: str, right: float, wrong: float) -> None:
    """Whole lines, typed with marks and bare."""
    lines = [json.loads(line) for line in (PEOPLE / f"{name}.jsonl").read_text("utf-8").splitlines()]
    told = [(tuple(line["true"]), understood(form(line["said"]))) for line in lines for form in (str, bare)]
    verdicts = [meaning.turns == true if meaning else None for true, meaning in told]
    assert verdicts.count(True) >= right * len(told)
    assert verdicts.count(False) <= wrong * len(told) + 1


@pytest.mark.parametrize("answer, meant", [
    ("lift, slide, lower", "R U R'"),
    ("Lift slide and lower", "R U R'"),
    ("slide, lift, slide twice, lower", "U R U2 R'"),
    ("lift, slide, lower, and then slide, lift, slide twice, lower", "R U R' U R U2 R'"),
    ("lift slide lower then top left, right up, top twice, right down", "R U R' U R U2 R'"),
])  # fmt: skip
def test_the_name_of_a_part_stands_for_its_turns(answer: str, meant: str) -> None:
    sequence = next(each for each in METHODS[0].sequences if each.id == "three-twist")
    calls = (", then ".join(CALLS.call(turn, "plain") for turn in group.turns) for group in sequence.groups)
    parts = tuple(zip((group.say("en", "name") for group in sequence.groups), calls, strict=True))
    assert LANGUAGE.understand(answer, "recite", Scene(parts=parts)) == Meaning(turns=tuple(meant.split()))
