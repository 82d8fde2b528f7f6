"""The spoken words of a method: what contradicts the data is refused, what only words it otherwise is not."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, permutations, product
from pathlib import Path

import pytest

from coach.method import Condition, MethodError, default_method, load, read
from coach.method.loading import DEFAULT_FILE
from coach.method.wording_check import check_words, hold_fault

DEFAULT = DEFAULT_FILE.read_text("utf-8")
CASES = [(step, case) for step in default_method().top_steps for case in step.cases if case.sequence]
EDGES = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}
CORNERS = {"U0": ("back", "left"), "U2": ("back", "right"), "U6": ("front", "left"), "U8": ("front", "right")}
SIDES = {"F": "front", "B": "back", "L": "left", "R": "right"}
TWISTED = {
    "F0": ("front left", "F"), "F2": ("front right", "F"), "R0": ("front right", "R"), "R2": ("back right", "R"),
    "B0": ("back right", "B"), "B2": ("back left", "B"), "L0": ("back left", "L"), "L2": ("front left", "L"),
}  # fmt: skip
"""Where each upper corner sticker of a side is: the corner, and the face it is on (the geometry of the cube)."""
POINTS = {"F": "towards you", "B": "to the back", "L": "left", "R": "to the right"}


def refusal(tmp_path: Path, old: str, new: str) -> str:
    """What is said to the default method with one thing changed; nothing where it passes."""
    assert DEFAULT.count(old) >= 1
    path = tmp_path / "own.toml"
    path.write_text(DEFAULT.replace(old, new, 1), "utf-8")
    try:
        check_words(read(path))
    except MethodError as error:
        return str(error)
    return ""


# Every hold of the default method with the words of every other


@pytest.mark.parametrize("number", range(len(CASES)))
def test_the_words_of_another_hold_are_refused(number: int) -> None:
    case = CASES[number][1]
    for _, other in CASES:
        fault = hold_fault(other.say("en", "hold"), case.hold)
        assert bool(fault) == (case.hold != other.hold), (case.id, other.id, fault)


@pytest.mark.parametrize("one", range(len(CASES)))
def test_a_file_with_the_words_of_another_hold_is_refused(tmp_path: Path, one: int) -> None:
    (step, case), (_, elsewhere) = CASES[one], CASES[one - 1]
    before, id_line, rest = DEFAULT.partition(f'id = "{case.id}"\n')
    rest = rest.replace(case.say("en", "hold"), elsewhere.say("en", "hold"), 1)
    path = tmp_path / "own.toml"
    path.write_text(before + id_line + rest, "utf-8")
    if case.hold == elsewhere.hold:
        load(path)
        return
    with pytest.raises(MethodError) as raised:
        load(path)
    message = str(raised.value)
    assert message.startswith(f"In case {case.id!r} of step {step.id!r}: en.hold is ")
    assert elsewhere.say("en", "hold") in message
    assert message.endswith((".", "?"))


# Every place with the words of every place


def _agree(holds: dict[tuple[str, ...], list[str]], same: bool = False) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Sentences, each with every hold, where the check takes a right one for wrong or a wrong one for right."""
    for (told, sentences), hold in product(holds.items(), holds):
        condition = Condition(same=(hold,)) if same else Condition(shows=hold)
        for sentence in sentences:
            if (hold_fault(sentence, condition) == "") != (set(told) == set(hold)):
                yield sentence, hold


def test_every_pair_of_edges() -> None:
    holds = {}
    for (one, first), (other, second) in combinations(EDGES.items(), 2):
        holds[one, other] = [
            f"The {first} edge and the {second} edge {{are_up}} on top.",
            f"The {second} and {first} edges {{are_up}} on top.",
            f"One edge with {{up}} is at the {first}, the other at the {second}.",
            f"Hold the cube so that the two edges are at the {first} and at the {second}.",
        ]
    holds["U3", "U5"] += ["The line runs from left to right.", "The line lies across.", "The line goes sideways."]
    holds["U1", "U7"] += ["The line runs from front to back.", "The line runs away from you."]
    holds["U1", "U3"] += ["The corner shape is at the back left.", "Its arms point to the back and to the left."]
    assert list(_agree(holds)) == []


def test_every_single_edge() -> None:
    holds = {(place,): [f"The edge is at the {word}.", f"The {word} edge {{is_up}}."] for place, word in EDGES.items()}
    holds["U7",] += ["The edge is the one facing you.", "The edge that is up is nearest to you."]
    holds["U1",] += ["The edge is away from you.", "The edge is at the far side."]
    assert list(_agree(holds)) == []


def test_every_corner_with_its_sticker_on_top_or_on_a_side() -> None:
    holds = {}
    for place, (one, other) in CORNERS.items():
        holds[place,] = [
            f"The {one} {other} corner {{is_up}} on top.",
            f"That corner is at the {one} {other}.",
            f"That corner is at the {one}, on the {other}.",
            f"The corner is at the {other} of the {one}.",
            f"The {one}-{other} corner points up.",
        ]
    for place, (corner, face) in TWISTED.items():
        side = SIDES[face]
        holds[place,] = [
            f"On the {corner} corner, the {{up_sticker}} points {POINTS[face]}.",
            f"The {{up_sticker}} of the {corner} corner is on its {side} side.",
            f"The {corner} corner has {{up}} on its {side}.",
            f"The {corner} corner has {{up}} at the {side}.",
        ]
    assert list(_agree(holds)) == []


def test_every_pair_of_corners_on_top() -> None:
    holds = {}
    for (one, first), (other, second) in combinations(CORNERS.items(), 2):
        holds[one, other] = [f"One is at the {' '.join(first)}, the other at the {' '.join(second)}."]
        for shared in set(first) & set(second):
            holds[one, other].append(f"Both corners are at the {shared}.")
    holds["U0", "U2"].append("The back left and right corners {are_up} on top.")
    holds["U0", "U6"].append("The front and back left corners {are_up} on top.")
    assert list(_agree(holds)) == []


def test_every_side() -> None:
    holds = {
        (f"{face}0", f"{face}2"): [
            f"The side with the matching corners is on the {word}.",
            f"The finished side is at the {word}.",
            f"The {word} side has two matching corners.",
            f"The finished side points {POINTS[face]}.",
        ]
        for face, word in SIDES.items()
    }
    holds["F0", "F2"] += ["The finished side faces you.", "The side facing you is finished."]
    assert list(_agree(holds, same=True)) == []


# Single sentences


@pytest.mark.parametrize(
    ("hold", "sentence", "fault"),
    [
        (("U3", "U5"), "The line runs from front to back.", "The words say back"),
        (("U3", "U5"), "Any side may face you.", "the left edge has the top colour on top"),
        (("U3", "U5"), "Hold the cube well.", "it names no place"),
        (("U1", "U3"), "One of the edges is at the back.", "in another hold"),
        (("L2",), "The front left corner is up.", "The words say up"),
        (("L2",), "That corner is at the front left.", "in another hold"),
        (("L2",), "On the front left corner, the {up_sticker} points towards you.", "towards the learner"),
        (("U6",), "On the front left corner, the {up_sticker} points left.", "The words say left"),
        ((), "The line runs from left to right.", "the case has no hold"),
        ((), "Keep the dot on the left.", "the case has no hold"),
    ],
)
def test_words_that_contradict_a_hold(hold: tuple[str, ...], sentence: str, fault: str) -> None:
    assert fault in hold_fault(sentence, Condition(shows=hold))


@pytest.mark.parametrize(
    ("hold", "sentence"),
    [
        ((), "Any side may face you."),
        ((), "Hold it however you like."),
        ((), "It doesn't matter which way you hold it."),
        ((), "Hold it as it is."),
        (("U3", "U5"), "Hold the cube in front of you so that the line goes across from left to right."),
        (("U3", "U5"), "The line goes from left to right, not from front to back."),
        (("U3", "U5"), "The line lies flat from left to right in front of you."),
        (("U1", "U3"), "One arm points away from you and the other points left."),
        (("U1", "U3"), "The two yellow edges are behind and to the left."),
        (("U6",), "That corner sits nearest you, on the left."),
        (("L2",), "Take the left side: its front corner has {up}."),
        (("F0",), "The front face has {up} at its left corner."),
        (("U6",), "All right: the corner that's up is at the front left."),
        (("L2",), "The front left corner has {up} on its left side."),
        (("F0",), "The front left corner has {up} on its front."),
        (("F0",), "The {up_sticker} on the front left corner is facing you."),
        (("L0", "L2"), "Both {up} stickers point left."),
    ],
)
def test_words_that_say_the_same_otherwise(hold: tuple[str, ...], sentence: str) -> None:
    assert hold_fault(sentence, Condition(shows=hold)) == ""


@pytest.mark.parametrize("case", ["to-the-right", "to-the-left"])
def test_what_else_a_hold_compares_may_be_told(case: str) -> None:
    hold = default_method().step("top-edges").cases  # type: ignore[union-attr]
    condition = next(one.hold for one in hold if one.id == case)
    way = case.removeprefix("to-the-")
    assert hold_fault(f"The finished side is at the back, and the front edge belongs on the {way}.", condition) == ""
    assert hold_fault("The finished side is at the front.", condition)
    assert hold_fault(f"The front edge belongs on the {way}.", condition)


# Names


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("No corner {is_up} on top.", "One corner {is_up} on top.", "count.corners is 0"),
        ("One corner {is_up} on top.", "Two of the corners {are_up} on top.", "count.corners is 1"),
        ("Two corners {are_up} on top.", "One corner is up.", "count.corners is 2"),
        ("All four corners {are_up} on top.", "Three corners are up.", "count.corners is 4"),
        ("One side has two matching corners.", "Every side has two matching corners.", "count.pairs is 1"),
        ("No side is done yet.", "One side is done.", "count.sides is 0"),
        ("You have a dot.", "You have a line.", "a line has 2 edges"),
        ("You have a cross.", "A dot.", "a dot has 0 edges"),
        ("You have a line.", "A corner shape.", "left and right, make no corner"),
        ("You have a corner shape.", "A line.", "back and left, make no line"),
        ("You have a corner shape.", "Four edges are up.", "count.edges is 2"),
        (
            "On the {piece}, the {down_sticker} points right.", "Its {down} faces you.",
            "on is 'R' and the words say towards",
        ),
        (
            "On the {piece}, the {down_sticker} points right.", "The {down_sticker} is on the left.",
            "the words say left",
        ),
        ("On the {piece}, the {down_sticker} points right.", "It has {down} on top.", "the words say up"),
        (
            "On the {piece}, the {down_sticker} points right.", "It has {down} in front.",
            "the words say towards the learner",
        ),
        (
            "On the {piece}, the {down_sticker} points towards you.", "The {down_sticker} points up.",
            "on is 'F' and the words say up",
        ),
        (
            "On the {piece}, the {down_sticker} points up.", "The {down_sticker} points down.",
            "on is 'U' and the words say down",
        ),
        ("goes from the front down to the right", "goes from the right to the front", "not at the right"),
        ("goes from the right down to the front", "goes down to the left", "does not go left"),
    ],
)
def test_names_that_contradict_the_case(tmp_path: Path, old: str, new: str, fault: str) -> None:
    message = refusal(tmp_path, old, new)
    assert fault in message and "en.name is " in message and "In case " in message


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("No corner {is_up} on top.", "None of the corners is up."),
        ("No corner {is_up} on top.", "The corners are not up, all four corners are on the side."),
        ("One corner {is_up} on top.", "Only one of the four corners is up, and the other three corners are not."),
        ("Two corners {are_up} on top.", "Two of the four corners {are_up} on top."),
        ("All four corners {are_up} on top.", "All the corners are up."),
        ("One side has two matching corners.", "On one side the two corners match."),
        ("One side is done. The other edges", "One side is done. The other three sides"),
        ("You have a dot.", "No line yet, only the middle."),
        ("You have a corner shape.", "An L."),
        ("You have a corner shape.", "Two edges are up, in a corner."),
        ("You have a line.", "Two edges {are_up}, across from each other."),
        ("On the {piece}, the {down_sticker} points right.", "Its {down} faces right."),
        ("On the {piece}, the {down_sticker} points right.", "The {down_sticker} is on the right side."),
        ("On the {piece}, the {down_sticker} points towards you.", "The {down_sticker} is in front."),
        ("On the {piece}, the {down_sticker} points up.", "The {down_sticker} is on top, at the front right."),
        ("The {piece} goes from the front down to the right.", "The edge slots in at the right."),
    ],
)
def test_names_in_other_words(tmp_path: Path, old: str, new: str) -> None:
    assert refusal(tmp_path, old, new) == ""


@pytest.mark.parametrize(("one", "other"), [
    *permutations(("faces-right", "faces-front", "faces-up"), 2), *permutations(("from-front", "from-right"), 2),
    *permutations(("dot", "corner", "line", "cross"), 2), *permutations(("none-up", "one-up", "two-up", "all-up"), 2),
    *permutations(("no-pair", "one-pair", "all-pairs"), 2), *permutations(("no-side", "to-the-left", "all-sides"), 2),
])  # fmt: skip
def test_the_name_of_another_case_of_the_step_is_refused(tmp_path: Path, one: str, other: str) -> None:
    names = {
        case.id: case.say("en", "name") for step in default_method().steps for case in getattr(step, "cases", ())
    }
    _, id_line, rest = DEFAULT.partition(f'id = "{one}"\n')
    assert names[one] in rest
    message = refusal(tmp_path, id_line + rest, id_line + rest.replace(names[one], names[other], 1))
    assert f"In case {one!r} of step " in message and names[other] in message


def test_words_in_other_languages_are_left_alone(tmp_path: Path) -> None:
    german = 'de.name = "Eine Linie."\nde.hold = "Any line from front to back."\n'
    assert refusal(tmp_path, 'en.name = "You have a line."\n', f'{german}en.name = "You have a line."\n') == ""
