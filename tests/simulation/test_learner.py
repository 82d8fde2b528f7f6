"""The simulated learner: does what it is told and says only what is so."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from coach.cube import FACE_PLACES, PLACE_NAMES, Cube, Turn, all_shown, parse, shown
from coach.dialogue import Ask, CallTurn, Claimed, Query, Rotate, Tell
from coach.dialogue.solving.knowledge import LOWER_PIECES
from coach.language.meaning import Meaning, Question, Scene
from coach.method.last_layer import build, lower_layers_whole, orientation_states
from coach.simulation import COLOURS, Learner, random_cube, scrambled
from tests.loaded import load

LANGUAGE = load()


def ask(learner: Learner, query: Query) -> Meaning:
    """The learner's answer to a question, understood."""
    learner.hear(Ask("?", query))
    text = learner.answer()
    meaning = LANGUAGE.understand(text, query.asks, Scene(piece=query.piece))
    assert meaning is not None, text
    return meaning


def test_it_turns_faces_and_the_whole_cube_as_told() -> None:
    learner = Learner(Cube(), Random(1))
    learner.hear(CallTurn("Right side up.", Turn("R"), 1, 2))
    learner.hear(Rotate("Turn the whole cube.", Turn("U", 3, 3)))
    assert learner.cube == Cube().do(parse("R y'"))


def test_what_is_only_told_changes_nothing_and_asks_for_no_answer() -> None:
    learner = Learner(Cube(), Random(1))
    learner.hear(Tell("Right side up."))
    assert learner.cube == Cube()
    assert learner.answer() == ""


def test_after_a_turn_there_is_nothing_to_answer() -> None:
    learner = Learner(Cube(), Random(1))
    learner.hear(Ask("Ready?", Query("ready")))
    assert learner.answer()
    learner.hear(CallTurn("Right side up.", Turn("R"), 1, 1))
    assert learner.answer() == ""


@pytest.mark.parametrize("moment", ["turn", "ready"])
def test_where_nothing_is_asked_it_says_nothing(moment: Question) -> None:
    learner = Learner(Cube(), Random(1))
    learner.hear(Ask("Is it?", Query("claim", claim=(Claimed("U", 0, "yellow"),))))
    assert learner.answer(moment) == ""
    assert learner.answer("claim")


def test_it_tells_where_a_piece_is_unless_the_one_before_it_is_not_in() -> None:
    learner = Learner(Cube(), Random(1))
    query = Query("piece", piece=("white", "green"), about="placed", claim=(Claimed("F", 4, "green"),))
    learner.hear(Ask("Where?", query))
    assert "bottom layer, front" in learner.answer("piece")
    learner.hear(Ask("Where?", replace(query, claim=(Claimed("F", 4, "red"),))))
    assert learner.answer("piece") in ("no", "nope", "no it's not")


@pytest.mark.parametrize("number", range(0, 216, 3))
def test_its_looks_are_understood_and_true(number: int) -> None:
    cube = orientation_states()[number]
    learner = Learner(cube, Random(number))
    edges = ask(learner, Query("look-top-edges"))
    up = {place: all_shown(cube.faces, [place]) for place in ("U1", "U3", "U5", "U7")}
    assert all(up[place] == shown for place, shown in edges.look.items() if place in up)
    assert edges.edges in (None, sum(up.values()))
    assert edges.look or edges.shape or edges.edges is not None
    corners = ask(learner, Query("look-top-corners"))
    up = {place: all_shown(cube.faces, [place]) for place in ("U0", "U2", "U6", "U8")}
    assert all(up[place] == shown for place, shown in corners.look.items() if place in up)
    assert corners.corners in (None, sum(up.values()))


@pytest.mark.parametrize("seed", range(4))
def test_it_says_where_each_piece_is(seed: int) -> None:
    cube = scrambled(Random(seed))
    learner = Learner(cube, Random(seed))
    for home in LOWER_PIECES:
        colours = tuple(COLOURS[face] for face in home)
        meaning = ask(learner, Query("piece", piece=colours))
        where, stickers = cube.pieces[home]
        assert meaning.place == where
        assert dict(meaning.shows)[colours[0]] == PLACE_NAMES[stickers[0]][0]


@pytest.mark.parametrize(("face", "row"), [("U", 1), ("F", 2), ("L", 3)])
def test_it_reads_rows_left_to_right(face: str, row: int) -> None:
    cube = scrambled(Random(9))
    start = FACE_PLACES[face][3 * row - 3]
    assert ask(Learner(cube, Random(1)), Query("row", face=face, row=row)).colours == tuple(
        COLOURS[letter] for letter in cube.faces[start : start + 3]
    )


def test_it_says_yes_only_where_all_of_a_claim_holds() -> None:
    learner = Learner(Cube(), Random(1))
    top = Claimed("U", 1, "yellow")
    assert ask(learner, Query("claim", claim=(top, Claimed("F", 0, "green")))).command == "yes"
    assert ask(learner, Query("claim", claim=(top, Claimed("F", 0, "red")))).command == "no"


def test_the_same_seed_says_the_same_words() -> None:
    def words(seed: int) -> list[str]:
        learner = Learner(build(), Random(seed))
        learner.hear(Ask("?", Query("look-top-edges")))
        return [learner.answer() for _ in range(20)]

    assert words(5) == words(5)
    assert len(set(words(5))) > 1


def test_cubes_for_a_step_are_at_its_beginning() -> None:
    for seed in range(30):
        cross = random_cube("top-cross", Random(seed))
        face = random_cube("top-face", Random(seed))
        assert lower_layers_whole(cross)
        assert lower_layers_whole(face)
        assert all_shown(face.faces, ("U1", "U3", "U5", "U7"))
        assert not lower_layers_whole(random_cube("bottom-cross", Random(seed)))
    assert len({random_cube("top-cross", Random(seed)) for seed in range(30)}) > 25


@pytest.mark.parametrize("seed", range(8))
def test_it_says_what_is_up_of_any_cube(seed: int) -> None:
    """Also of a top that cannot be once the lower layers are done: one edge or three, three corners."""
    cube = scrambled(Random(seed))
    up = {*shown(cube.faces, [f"U{i}" for i in range(9)])}
    learner = Learner(cube, Random(seed))
    for query, places in ((Query("look-top-edges"), "1357"), (Query("look-top-corners"), "0268")):
        meaning = ask(learner, query)
        assert {place for place, shown in meaning.look.items() if shown and place[1] in places} <= up
