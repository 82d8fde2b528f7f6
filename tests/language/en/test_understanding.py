"""How well answers are understood: of speakers kept apart, in every wording of every state, and facts that never fail.

The lines of models/answers-en/calibration and unseen were written by speakers of whom nothing was learned. Bounds are
some points below what was measured (scripts/benches/FIGURES.md), so that a worse reader fails and a chance flip does
not.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from coach.language import USUAL_COLOURS, Meaning, Question, Scene
from coach.language.en.understand import _sides_alone
from scripts.benches.answers import judged, kind_of, lines, question_of, scene_of
from tests.language.en.wordings import CORNERS, EDGES, TWISTS, corner_wordings, edge_wordings, states
from tests.loaded import load, load_anew

LANGUAGE = load()
DATA = Path(__file__).parents[3] / "models" / "answers-en"
APART = sorted((*DATA.glob("calibration/*.jsonl"), *DATA.glob("unseen/*.jsonl")))


def look(text: str, asked: Question = "look-top-edges", scene: Scene | None = None) -> dict[str, bool]:
    meaning = LANGUAGE.understand(text, asked, scene)
    return dict(meaning.look) if meaning else {}


def command(text: str, asked: Question, scene: Scene | None = None) -> str | None:
    meaning = LANGUAGE.understand(text, asked, scene)
    return meaning.command if meaning else None


@pytest.fixture(scope="module")
def verdicts() -> dict[str, Counter[str]]:
    found: dict[str, Counter[str]] = {"told": Counter(), "talk": Counter()}
    for line in lines(APART):
        kind = "talk" if kind_of(line).startswith("talk") else "told"
        if line.get("complete", True):
            meaning = LANGUAGE.understand(line["said"], question_of(line), scene_of(line))  # type: ignore[arg-type]
            found[kind][judged(line, meaning)] += 1
    return found


def test_descriptions_of_speakers_kept_apart_are_read(verdicts: dict[str, Counter[str]]) -> None:
    told = verdicts["told"]
    assert told["right"] >= 0.90 * told.total()
    assert told["wrong"] <= 0.04 * told.total()


def test_what_they_say_beside_answers_is_acted_on_as_they_mean_it(verdicts: dict[str, Counter[str]]) -> None:
    talk = verdicts["talk"]
    assert talk["right"] >= 0.88 * talk.total()
    assert talk["wrong"] <= 0.025 * talk.total()


def test_without_marks_and_capitals_as_much_is_read() -> None:
    right: Counter[bool] = Counter()
    for line in lines(APART):
        if "true" in line and line.get("complete", True):
            bare = " ".join("".join(c if c.isalnum() or c in "' " else " " for c in line["said"]).lower().split())
            right[judged(line, LANGUAGE.understand(bare, question_of(line), scene_of(line))) == "right"] += 1  # type: ignore[arg-type]
    assert right[True] >= 0.87 * right.total()


def test_every_state_of_the_edges_is_read_in_nearly_every_wording() -> None:
    read: Counter[str] = Counter()
    for edges in {edges for edges, _ in states()}:
        true = {EDGES[name] for name in edges}
        for text in edge_wordings(edges):
            said = look(text)
            right = all(shown == (cell in true) for cell, shown in said.items() if cell in EDGES.values())
            read["right" if right and len(said) == 4 else "again" if right else "wrong"] += 1
    assert read["right"] >= 0.95 * read.total()
    assert read["wrong"] <= 0.02 * read.total()


def test_every_state_of_the_corners_is_read_in_nearly_every_wording() -> None:
    every = list(states())
    assert len(every) == 216
    read: Counter[str] = Counter()
    for corners in {tuple(corners.items()): corners for _, corners in every}.values():
        true = {CORNERS[name] for name, place in corners.items() if place == "up"}
        sides = {TWISTS[CORNERS[name]][place] for name, place in corners.items() if place != "up"}
        for text in corner_wordings(corners):
            said = look(text, "look-top-corners")
            right = all(shown == (cell in true) for cell, shown in said.items() if cell in CORNERS.values())
            right = right and {cell for cell, shown in said.items() if shown and cell[0] != "U"} <= sides
            whole = set(CORNERS.values()) <= said.keys()
            read["right" if right and whole else "again" if right else "wrong"] += 1
    assert read["right"] >= 0.90 * read.total()
    assert read["wrong"] <= 0.03 * read.total()


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("all but the left one", 3), ("only the left one", 1), ("three of them, all but the back one", 3),
        ("left", 1), ("just front", 1), ("left, right and back", 3), ("the back, the front, the right one", 3),
    ],
)
def test_a_slip_is_told_as_it_was_seen(text: str, count: int) -> None:
    """One or three edges cannot be up where the lower layers are whole: that is not explained away."""
    assert sum(look(text).values()) == count


@pytest.mark.parametrize("text", ["left, not right", "no left one", "left or right", "the left corner", "it's left"])
def test_sides_that_are_not_named_alone_are_left_to_the_reader(text: str) -> None:
    assert look(text) != {"U3": True, "U5": True}
    assert not _sides_alone(text.split())


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("a line", Meaning(shape="line", edges=2)),
        ("two edges, next to each other", Meaning(shape="corner", edges=2)),
        ("two edges", Meaning(edges=2)),
        ("just a corner", Meaning(shape="corner", edges=2)),
    ],
)
def test_shapes_and_counts_without_places_stay_without_places(text: str, meaning: Meaning) -> None:
    assert LANGUAGE.understand(text, "look-top-edges") == meaning


def test_of_a_look_only_the_pieces_asked_about_count() -> None:
    assert set(look("left and right, and the front left corner is yellow too")) <= set(EDGES.values())


@pytest.mark.parametrize("mark", ["bumpy", "smooth", "ridges", "sandpaper"])
def test_any_mark_reads_as_its_colour_does(mark: str) -> None:
    scene = Scene({**USUAL_COLOURS, "U": mark})
    for text in ("the {} ones are back and left", "only the front left one is {}", "no {} corners"):
        for asked in ("look-top-edges", "look-top-corners"):
            assert look(text.format(mark), asked, scene) == look(text.format("yellow"), asked)


@pytest.mark.parametrize(
    ("claim", "answers"),
    [
        ({"U3": True, "U5": True}, {"left to right": "yes", "a line from left to right": "yes",
                                    "it goes from front to back": "no"}),
        ({"U1": True, "U7": True}, {"a line from left to right": "no", "from front to back": "yes"}),
        ({"U3": True}, {"the left and the front ones are yellow": "yes", "only the front one": "no"}),
    ],
)  # fmt: skip
def test_a_claim_may_be_answered_by_a_description(claim: dict[str, bool], answers: dict[str, str]) -> None:
    for text, answer in answers.items():
        assert command(text, "claim", Scene(claim=claim)) in (answer, None), text


@pytest.mark.parametrize("text", ["no", "nope", "um no it is not"])
def test_that_the_piece_before_is_in_may_be_denied(text: str) -> None:
    scene = Scene(piece=("white", "red"), about="placed")
    assert LANGUAGE.understand(text, "piece", scene) == Meaning(command="no")


@pytest.mark.parametrize(
    ("text", "piece", "place", "shows"),
    [
        ("top front, white's up", ("white", "green"), "UF", {"white": "U", "green": "F"}),
        ("middle layer, back left, red on the left", ("red", "blue"), "BL", {"red": "L", "blue": "B"}),
        ("front right on top, white faces me", ("white", "green", "orange"), "UFR",
         {"white": "F", "green": "U", "orange": "R"}),
    ],
)  # fmt: skip
def test_a_piece_is_placed_by_its_place_and_its_facing(
    text: str, piece: tuple[str, ...], place: str, shows: dict[str, str]
) -> None:
    """How the other colours lie follows: a corner has its colours in one turning order (any cube, by mathematics)."""
    assert LANGUAGE.understand(text, "piece", Scene(piece=piece)) == Meaning(place=place, shows=shows)


def test_no_corner_is_made_of_a_middle_layer() -> None:
    """What contradicts itself is not forced into sense."""
    for text in ("middle layer, back left, white faces left", "in the middle layer at the front right"):
        assert command(text, "piece", Scene(piece=("white", "green", "orange"))) is None


@pytest.mark.parametrize(
    ("text", "colours"),
    [
        ("white, white, red", ("white", "white", "red")),
        ("three greens", ("green",) * 3),
        ("blue blue and then yellow", ("blue", "blue", "yellow")),
        ("all orange", ("orange",) * 3),
        ("red at both ends and white in the middle", ("red", "white", "red")),
        ("white, green, can't see the last", ("white", "green", "?")),
    ],
)
def test_a_row_is_read_in_order(text: str, colours: tuple[str, ...]) -> None:
    assert LANGUAGE.understand(text, "row") == Meaning(colours=colours)


def test_a_colour_that_was_not_named_was_not_said() -> None:
    for text in ("white yellow blue", "red green red", "orange, then two of white"):
        meaning = LANGUAGE.read(text, "row").best
        assert meaning is None or all(colour in text for colour in meaning.colours)


@pytest.mark.parametrize(
    ("asked", "text", "meant"),
    [
        ("turn", "next one", "next"), ("ready", "ready", "ready"), ("claim", "yes", "yes"), ("claim", "no", "no"),
        ("turn", "stop", "stop"), ("turn", "on my word", "on-my-word"), ("turn", "what?", "repeat"),
        ("look-top-corners", "I can't tell", "unsure"), ("turn", "I turned the wrong side", "mistake"),
        ("claim", "no doubt", "yes"), ("claim", "what a lovely day", None), ("turn", "put the kettle on, love", None),
    ],
)  # fmt: skip
def test_commands(asked: Question, text: str, meant: str | None) -> None:
    assert command(text, asked) in (meant, "wait" if meant is None else meant)


@pytest.mark.parametrize("text", ["", "   ", "...", "!?", "\x00\x01\xff", "«»", "12345"])
def test_what_says_nothing_means_nothing(text: str) -> None:
    for asked in ("look-top-edges", "look-top-corners", "turn", "piece", "claim"):
        assert LANGUAGE.understand(text, asked) is None


def test_only_english_is_here() -> None:
    with pytest.raises(ValueError, match="no language 'xx'"):
        load_anew("xx")


@pytest.mark.parametrize("text", ["is that how it should be", "hm, are they meant to look like this?"])
def test_a_question_by_its_order_is_no_yes(text: str) -> None:
    assert LANGUAGE.understand(text, "claim") != Meaning(command="yes")


@pytest.mark.parametrize("text", ["no it's not in place, something else is there", "not in its place"])
def test_a_piece_that_is_not_in_its_place_is_not_taken_to_be_there(text: str) -> None:
    scene = Scene(piece=("white", "green", "orange"), about="placed")
    assert LANGUAGE.understand(text, "piece", scene) == Meaning(command="no")


@pytest.mark.parametrize(
    "text",
    ["no, there's blue in front", "no there's still a red one at the back", "nope, white facing me",
     "no not yet, there's a blue bit on the right", "nah, I see red underneath", "um no, it's green on the left",
     "no it is not at the front left, it's at the back right", "no, top front, white up"],
)  # fmt: skip
def test_a_no_with_its_reason_denies_that_the_piece_is_in_and_tells_no_place_of_the_next(text: str) -> None:
    scene = Scene(piece=("white", "green", "red"), about="placed", others=(("white", "blue", "red"),))
    assert LANGUAGE.understand(text, "piece", scene) == Meaning(command="no")


@pytest.mark.parametrize("text", ["no idea", "no wait, top front left, white faces me", "no I mean top front left"])
def test_not_every_no_denies_that_the_piece_is_in(text: str) -> None:
    scene = Scene(piece=("white", "green", "red"), about="placed")
    assert LANGUAGE.understand(text, "piece", scene) != Meaning(command="no")


@pytest.mark.parametrize(
    "text", ["no wait, on that other one the white looks at me", "the edge from before, it's at the back",
             "I said front but it was back", "last one was back, not front"],
)  # fmt: skip
def test_the_piece_told_of_last_is_put_right_without_its_colours(text: str) -> None:
    scene = Scene(piece=("white", "green"), others=(("white", "red"),))
    meaning = LANGUAGE.understand(text, "piece", scene)
    assert meaning and meaning.command == "correct" and meaning.piece == ("white", "red")
    alone = LANGUAGE.understand(text, "piece", Scene(piece=("white", "green")))
    assert not (alone and alone.piece)


def test_a_yes_takes_nothing_back_and_a_no_denies_the_place() -> None:
    yes = LANGUAGE.understand("yes I said that", "claim")
    assert yes and yes.command == "yes"
    scene = Scene(piece=("green", "red"), about="placed")
    no = LANGUAGE.understand("No, I am afraid it isn't there, and a white corner has come out too.", "piece", scene)
    assert no and no.command == "no"


@pytest.mark.parametrize(
    ("text", "command"),
    [
        ("I have done the last one.", "next"),
        ("And that is the last one done.", "next"),
        ("I have done that. Which turn is this, by the way?", "next"),
        ("I turned the last one wrong", "mistake"),
        ("i'm bored of reading", None),
        ("oh, I read it from wrong side. It is orange red yellow", None),
        ("everything is wrong, let me read you the whole cube", "read"),
    ],
)
def test_what_is_said_of_a_turn_that_is_done(text: str, command: str | None) -> None:
    meaning = LANGUAGE.understand(text, "turn")
    assert (meaning.command if meaning else None) == command
