"""How well answers of many speakers are understood, and facts about single turns of phrase."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from measure import measure, read
from wordings import CORNERS, EDGES, TWISTS, corner_wordings, edge_wordings, states

from coach.language import USUAL_COLOURS, Meaning, Question, Scene, load

LANGUAGE = load()
SHARED = Path(os.environ.get("TURNCALLER_SHARED", Path(__file__).parents[3] / "shared"))
HERE = Path(__file__).parent
ANSWERS = [HERE / "answers.jsonl", HERE / "phrasings.jsonl", SHARED / "examples" / "learner_answers.jsonl"]


def look(text: str, asked: Question = "look-top-edges", scene: Scene | None = None) -> dict[str, bool]:
    meaning = LANGUAGE.understand(text, asked, scene)
    return dict(meaning.look) if meaning else {}


def up(text: str, asked: Question) -> set[str]:
    """The edges or corners said to be up, where all four are settled."""
    said, cells = look(text, asked), EDGES if asked == "look-top-edges" else CORNERS
    assert set(cells.values()) <= said.keys(), text
    return {cell for cell in cells.values() if said[cell]}


def command(text: str, asked: Question) -> str | None:
    meaning = LANGUAGE.understand(text, asked)
    return meaning.command if meaning else None


@pytest.mark.parametrize("path", ANSWERS, ids=lambda path: path.stem)
@pytest.mark.parametrize("know_piece", [False, True], ids=["piece unknown", "piece known"])
def test_answers_of_many_speakers_are_understood(path: Path, know_piece: bool) -> None:
    if not path.exists():
        pytest.skip(f"{path} is not here")
    scores = list(measure(read(path), know_piece))
    for result, answer, meaning in scores:
        if result != "right":
            print(result, answer["asked"], "|", answer["said"], "|", meaning and meaning.to_json())
    counts = Counter(result for result, _, _ in scores)
    assert counts["right"] >= 0.97 * len(scores)
    assert counts["wrong"] <= 0.003 * len(scores)


def test_every_state_of_the_edges_is_understood_in_every_wording() -> None:
    for edges in {edges for edges, _ in states()}:
        for text in edge_wordings(edges):
            assert up(text, "look-top-edges") == {EDGES[name] for name in edges}, text


def test_every_state_of_the_corners_is_understood_in_every_wording() -> None:
    every = list(states())
    assert len(every) == 216
    for corners in {tuple(corners.items()): corners for _, corners in every}.values():
        true = {CORNERS[name] for name, place in corners.items() if place == "up"}
        sides = {TWISTS[CORNERS[name]][place] for name, place in corners.items() if place != "up"}
        for text in corner_wordings(corners):
            assert up(text, "look-top-corners") == true, text
            shown = {cell for cell, value in look(text, "look-top-corners").items() if value and cell[0] != "U"}
            assert shown <= sides, text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("left", {"U3": True}),
        ("the left one, not the right", {"U3": True, "U5": False}),
        ("not the back one", {"U1": False}),
        ("neither the left nor the right", {"U3": False, "U5": False}),
        ("the left isn't, the front isn't", {"U3": False, "U7": False}),
        ("the left one, and I'd have to look again", {"U3": True}),
    ],
)
def test_only_what_was_said_of_the_edges_is_in_the_meaning(text: str, said: dict[str, bool]) -> None:
    assert look(text) == said


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("a line", Meaning(shape="line")),
        ("two edges, next to each other", Meaning(shape="corner", edges=2)),
        ("two edges", Meaning(edges=2)),
        ("three edges", Meaning(edges=3)),
        ("just a corner", Meaning(shape="corner")),
    ],
)
def test_shapes_and_counts_without_places_stay_without_places(text: str, meaning: Meaning) -> None:
    assert LANGUAGE.understand(text, "look-top-edges") == meaning


def test_one_corner_on_a_side_leaves_two_places_open() -> None:
    assert LANGUAGE.understand("one corner, at the back", "look-top-corners") == Meaning(
        {"U6": False, "U8": False}, corners=1
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("one, front left. the front right one's yellow is facing me", {"F2"}),
        ("none, two yellows on the left side, one at each end", {"L0", "L2"}),
        ("no corners. On the right side I see one at the far end.", {"R2"}),
        ("back two, and the front ones are both facing me", {"F0", "F2"}),
        ("back two. The two at the front stick out to the sides, one left and one right.", set()),
    ],
)
def test_side_stickers_are_told_by_side_and_end(text: str, said: set[str]) -> None:
    shown = {cell for cell, value in look(text, "look-top-corners").items() if value and cell[0] != "U"}
    assert shown == said


@pytest.mark.parametrize("first", EDGES)
@pytest.mark.parametrize("second", EDGES)
@pytest.mark.parametrize("mark", ["no wait", "no, sorry", "I mean", "or rather", "scratch that"])
def test_a_self_correction_replaces_what_went_before(first: str, second: str, mark: str) -> None:
    assert look(f"the {first} one, {mark}, the {second} one") == {EDGES[second]: True}


def test_a_correction_that_opens_the_answer_is_about_the_last_answer() -> None:
    meaning = LANGUAGE.understand("no wait, I mean the left one, not the right", "look-top-edges")
    assert meaning == Meaning({"U3": True, "U5": False}, command="correct")


@pytest.mark.parametrize("mark", ["bumpy", "dotted", "smooth"])
def test_marks_felt_with_the_fingers_mean_their_colour(mark: str) -> None:
    scene = Scene({**USUAL_COLOURS, "U": mark})
    for text in ("the {} ones are back and left", "only the front left one is {}", "no {} corners"):
        for asked in ("look-top-edges", "look-top-corners"):
            assert look(text.format(mark), asked, scene) == look(text.format("yellow"), asked)


def test_another_colour_on_top_is_asked_for_by_its_name() -> None:
    scene = Scene({**USUAL_COLOURS, "U": "white", "D": "yellow"})
    assert look("the left one is white and the front one is white", scene=scene) == look("left and front")
    assert look("the left one is yellow", scene=scene) == {"U3": False}


@pytest.mark.parametrize(
    "text",
    [
        "I skipped a turn", "oops I did it twice", "I left one out", "I forgot a turn", "I turned it too far",
        "that's wrong", "no, it's wrong", "something went wrong", "it doesn't look right",
    ],
)  # fmt: skip
def test_what_went_wrong_may_be_told_in_the_pause(text: str) -> None:
    assert LANGUAGE.understand(text, "turn") == Meaning(command="mistake")


def test_stickers_that_point_outwards_show_on_the_sides_that_are_told() -> None:
    said = "The two at the back have yellow stickers pointing out, one to the left and one to the right."
    assert {"B0", "B2"}.isdisjoint(look(said, "look-top-corners"))


@pytest.mark.parametrize(
    ("claim", "answers"),
    [
        ({"U3": True, "U5": True}, {"left to right": "yes", "a line from left to right": "yes", "front to back": "no",
                                    "it goes from front to back": "no", "the left one": None}),
        ({"U1": True, "U7": True}, {"a line from left to right": "no", "from front to back": "yes"}),
        ({"U3": True}, {"the left one": "yes", "it's green": "no", "the left and the front ones are yellow": "yes",
                        "only the front one": "no", "it's yellow": "yes", "it's facing left": None}),
        ({"U6": True}, {"front left": "yes", "it's on the side": None, "one at the back": "no", "none of them": "no"}),
    ],
)  # fmt: skip
def test_a_claim_may_be_answered_by_a_description(claim: dict[str, bool], answers: dict[str, str | None]) -> None:
    for text, answer in answers.items():
        meaning = LANGUAGE.understand(text, "claim", Scene(claim=claim))
        assert (meaning.command if meaning else None) == answer, text


def test_it_is_means_yes_only_where_it_says_no_more() -> None:
    yes = ("it is", "they are", "it is yellow", "there is one", "yes it is", "it's there now")
    assert {command(text, "claim") for text in yes} == {"yes"}
    other = ("it is blue", "it's something else", "they are on the sides", "it's broken", "it is the front one")
    assert {command(text, "claim") for text in other} == {None}


def test_wrong_is_not_taken_for_the_yes_that_its_words_begin_with() -> None:
    assert [command(text, "claim") for text in ("it is wrong", "no, that's wrong", "it's not wrong")] == [
        "no", "no", "yes",
    ]  # fmt: skip
    assert [command(text, "continue") for text in ("it is wrong", "that was wrong")] == ["mistake", "mistake"]


@pytest.mark.parametrize("text", ["no", "nope", "no it's not", "no it isn't", "um no it is not"])
def test_that_the_piece_before_is_in_may_be_denied(text: str) -> None:
    scene = Scene(piece=("white", "red"), about="placed")
    assert LANGUAGE.understand(text, "piece", scene) == Meaning(command="no")


def test_a_place_counts_for_more_than_a_no_before_it() -> None:
    meaning = LANGUAGE.understand("no, top layer, front", "piece", Scene(piece=("white", "red"), about="placed"))
    assert meaning is not None
    assert meaning.place == "UF"


@pytest.mark.parametrize(
    ("text", "piece", "place", "shows"),
    [
        ("top front, white's up", ("white", "green"), "UF", {"white": "U", "green": "F"}),
        ("bottom right, white on the right", (), "DR", {"white": "R"}),
        ("middle layer, back left, red on the left", ("red", "blue"), "BL", {"red": "L", "blue": "B"}),
        ("front right on top, white faces me", ("white", "green", "orange"), "UFR",
         {"white": "F", "green": "U", "orange": "R"}),
        ("back left... no, back right, at the bottom, white underneath", (), "DBR", {"white": "D"}),
        ("it's in the bottom layer, white's facing left", ("white", "red", "green"), None, {"white": "L"}),
        ("white's up", ("white", "green"), None, {"white": "U"}),
    ],
)  # fmt: skip
def test_a_piece_is_placed_by_its_place_and_its_facing(
    text: str, piece: tuple[str, ...], place: str | None, shows: dict[str, str]
) -> None:
    meaning = LANGUAGE.understand(text, "piece", Scene(piece=piece))
    assert meaning == Meaning(place=place, shows=shows)


@pytest.mark.parametrize(
    ("text", "colours"),
    [
        ("white, white, red", ("white", "white", "red")),
        ("three greens", ("green",) * 3),
        ("blue blue and then yellow", ("blue", "blue", "yellow")),
        ("all orange", ("orange",) * 3),
        ("white, red, no, white, blue", ("white", "white", "blue")),
        ("red at both ends and white in the middle", ("red", "white", "red")),
        ("white, green, can't see the last", ("white", "green")),
    ],
)
def test_a_row_is_read_in_order(text: str, colours: tuple[str, ...]) -> None:
    assert LANGUAGE.understand(text, "row") == Meaning(colours=colours)


@pytest.mark.parametrize(
    ("asked", "text", "meant"),
    [
        ("turn", "go", "next"),
        ("ready", "go", "ready"),
        ("claim", "yes", "yes"),
        ("claim", "no", "no"),
        ("turn", "stop", "stop"),
        ("turn", "up", None),
        ("turn", "seven", None),
        ("turn", "on my word", "on-my-word"),
        ("turn", "what?", "repeat"),
        ("look-top-edges", "scratch that, I said it wrong", "correct"),
        ("look-top-corners", "I can't tell", "unsure"),
        ("look-top-edges", "my bottom layers are broken", "layers-broken"),
        ("look-top-corners", "that's the end", "stop"),
        ("look-top-corners", "that's the far end", None),
        ("piece", "at the other end", None),
    ],
)
def test_commands(asked: Question, text: str, meant: str | None) -> None:
    assert command(text, asked) == meant


def test_a_no_carries_what_is_there_instead() -> None:
    assert LANGUAGE.understand("nope, just a line thing", "claim") == Meaning(shape="line", command="no")


@pytest.mark.parametrize("text", ["", "   ", "...", "!?", "\x00\x01\xff", "«»", "12345", "日本語", "🙂"])
def test_what_says_nothing_means_nothing(text: str) -> None:
    for asked in ("look-top-edges", "look-top-corners", "turn", "piece", "row", "claim"):
        assert LANGUAGE.understand(text, asked) is None


def test_only_english_is_here() -> None:
    with pytest.raises(ValueError, match="no language 'xx'"):
        load("xx")
