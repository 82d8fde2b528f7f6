"""The method in the mirror: derived from the file, proven like it, and saying left where it means left."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from coach.cube import CORNERS, PLACE_NAMES, Cube, mirrored, write
from coach.cube.geometry import STICKERS
from coach.method import (
    Method,
    MethodError,
    PlacingProof,
    StepProof,
    cases_of,
    default_method,
    load,
    mirrored_method,
    prove,
)
from coach.method.english import mirrored as mirrored_words
from coach.method.loading import DEFAULT_FILE
from coach.method.report import report
from coach.method.sequences import check_groups
from coach.method.whole import last_layer
from coach.method.wording_check import check_words
from tests.method.geometry import effect

RIGHT = default_method()
LEFT = load(DEFAULT_FILE, "left")


def words_of(method: Method) -> list[str]:
    """All that the method says in English."""
    spoken = [*method.steps, *(case for step in method.steps for case in cases_of(step)), *method.sequences]
    groups = [group for sequence in method.sequences for group in sequence.groups]
    return [text for thing in (*spoken, *groups) for text in thing.words.get("en", {}).values()]


def test_the_mirror_of_the_mirror_is_the_method_with_its_words() -> None:
    again = mirrored_method(LEFT)
    assert again == RIGHT and LEFT != RIGHT
    assert words_of(again) == words_of(RIGHT)
    assert (RIGHT.hand, LEFT.hand, again.hand) == ("right", "left", "right")


def test_the_mirror_is_proven_by_the_same_exhaustion_with_the_same_counts() -> None:
    for one, other in zip(prove(RIGHT), prove(LEFT), strict=True):
        if isinstance(one, StepProof) and isinstance(other, StepProof):
            assert [case.states for case in one.cases] == [case.states for case in other.cases]
            assert (one.states, one.worst_runs, one.mean_turns) == (other.states, other.worst_runs, other.mean_turns)
        elif isinstance(one, PlacingProof) and isinstance(other, PlacingProof):
            assert (one.placements, one.worst_turns, one.mean_turns) == (
                other.placements, other.worst_turns, other.mean_turns,
            )  # fmt: skip
        else:
            assert one.step.id == other.step.id == "bottom-cross"


def test_every_last_layer_ends_solved_with_the_left_hand_too() -> None:
    one, other = last_layer(RIGHT), last_layer(LEFT)
    assert one and other
    assert other.states == 62_208
    assert (one.worst_runs, one.worst_turns) == (other.worst_runs, other.worst_turns)
    assert one.mean_turns == pytest.approx(other.mean_turns)


@pytest.mark.parametrize("number", range(len(RIGHT.sequences)))
def test_a_sequence_in_the_mirror_does_what_the_mirror_shows(number: int) -> None:
    """In sticker permutations of SymPy, built anew from space: reflected, the one is the other."""
    one, other = RIGHT.sequences[number], LEFT.sequences[number]
    goes, mirror = effect(write(one.turns)), effect(write(other.turns))
    assert goes.order() == mirror.order() == other.order
    assert len(goes.support()) == len(mirror.support())
    across = {
        place: STICKERS.index(((-spot[0], spot[1], spot[2]), (-facing[0], facing[1], facing[2])))
        for place, (spot, facing) in enumerate(STICKERS)
    }
    before, after = Cube().do(one.turns).stickers, Cube().do(other.turns).stickers
    assert all(after[across[place]] == across[before[place]] for place in range(len(PLACE_NAMES)))


def test_turns_of_the_right_are_turns_of_the_left() -> None:
    faces = {turn.face for sequence in LEFT.sequences for turn in sequence.turns}
    assert faces == {"L", "U", "F"}
    twist = next(sequence for sequence in LEFT.sequences if sequence.id == "three-twist")
    assert write(twist.turns) == "L' U' L U' L' U2 L"
    assert tuple(map(mirrored, twist.turns)) == RIGHT.sequences[LEFT.sequences.index(twist)].turns


def test_places_and_words_change_sides() -> None:
    one_up = next(case for case in LEFT.top_steps[1].cases if case.id == "one-up")
    assert one_up.hold.shows == ("U8",)
    assert one_up.say("en", "hold") == "The front right corner {is_up} on top."
    slots = [step.slot for step in LEFT.steps if isinstance(step, type(RIGHT.steps[1]))]
    assert slots == ["DFL", "FL"]
    assert {case.id for case in cases_of(LEFT.step("top-edges"))} == {
        "no-side", "to-the-left", "to-the-right", "all-sides",
    }  # fmt: skip
    check_groups(LEFT.sequences)
    check_words(LEFT)


def test_the_words_of_the_right_hand_are_refused_with_the_turns_of_the_left() -> None:
    worded = {case.id: case.words for step in RIGHT.top_steps for case in step.cases}
    cases = [replace(case, words=worded.get(case.id, case.words)) for case in LEFT.top_steps[1].cases]
    step = replace(LEFT.top_steps[1], cases=tuple(cases))
    with pytest.raises(MethodError, match="the front right corner"):
        check_words(replace(LEFT, steps=(*LEFT.steps[:4], step, *LEFT.steps[5:])))


def test_a_file_in_whose_mirror_something_is_wrong_is_refused_as_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(DEFAULT_FILE.read_text("utf-8").replace("F R U R' U' F'", "F R U R' U F'"), "utf-8")
    with pytest.raises(MethodError, match="F R U R' U F'"):
        load(path, "left")


def test_the_report_says_for_which_hand_it_is() -> None:
    text = report(LEFT)
    assert text.startswith("Method: layer by layer, mirrored for the left hand\n")
    assert "three-twist        L' U' L | U' L' U2 L " in text and "Proven:" in text
    assert "R" not in {word for line in text.splitlines() if "|" in line for word in line.split()}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("The line runs from left to right.", "The line runs from right to left."),
        ("Right side up, left-hand four.", "Left side up, right-hand four."),
        ("the ring to the right", "the ring to the left"),
        ("ring-to-the-right", "ring-to-the-left"),
        ("The front goes clockwise, then anticlockwise.", "The front goes anticlockwise, then clockwise."),
        ("Slide it rightwards. Leftmost.", "Slide it leftwards. Rightmost."),
        ("Now the right one is bright.", "Now the left one is bright."),
        ("On the left, the {up_sticker} points right.", "On the right, the {up_sticker} points left."),
    ],
)
def test_words_in_the_mirror(one: str, other: str) -> None:
    assert mirrored_words(one) == other
    assert mirrored_words(other) == one


@pytest.mark.parametrize(
    "sentence",
    [
        "All right, go on.", "It lies the right way round.", "When none are left, take one out.",
        "It is right above its place.", "Hold it right.", "No corner is left over.", "Nothing left to do.",
    ],
)  # fmt: skip
def test_words_that_mean_no_side_stay(sentence: str) -> None:
    assert mirrored_words(sentence) == sentence


def test_words_in_a_language_that_nobody_can_mirror_are_left_out() -> None:
    case = replace(RIGHT.top_steps[0].cases[0], words={"en": {"name": "Right."}, "zz": {"name": "Rechts."}})
    step = replace(RIGHT.top_steps[0], cases=(case,))
    found = mirrored_method(Method("own", (step,))).steps[0]
    assert cases_of(found)[0].words == {"en": {"name": "Left."}}


def test_corners_have_their_names_in_the_mirror() -> None:
    assert {case.at for step in LEFT.steps[:3] for case in cases_of(step) if hasattr(case, "at")} <= {
        "UFL", "UF", "UL", "DF", "DFL", "FL", *CORNERS,
    }  # fmt: skip
