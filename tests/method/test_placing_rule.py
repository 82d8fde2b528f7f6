"""The rules by which a person places pieces: which is next, what brings it home, and that this always ends."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import product
from pathlib import Path
from random import Random

import pytest

from coach.cube import EDGES, PLACE_NAMES, POSITIONS, Cube, Turn
from coach.cube.distance import CROSS, distance_table, places
from coach.method import MethodError, PlacingStep, PlannedStep, default_method, last_turn, mirrored_method
from coach.method.placing import layer_of
from coach.method.placing_proof import placements
from coach.method.whole_placing import every_state
from tests.method.refusing import DEFAULT, refusal

METHOD = default_method()


def rules(left: bool = False) -> list[PlacingStep]:
    steps = (mirrored_method(METHOD) if left else METHOD).steps[:3]
    found = [step.rule if isinstance(step, PlannedStep) else step for step in steps]
    return [step for step in found if isinstance(step, PlacingStep)]


CROSS_RULE = rules()[0]


def held_alike(cube: Cube) -> Cube:
    """The cube with the whole of it turned back."""
    return cube.upright


def place_all(cube: Cube, step: PlacingStep, choose: Random) -> tuple[Cube, int, int]:
    """The cube once its pieces are placed by the rule, the face turns that took, and how often a move was made. Done
    with real turns of a whole cube, which the proof knows nothing of."""
    turns = moves = 0
    while away := {piece: cube.pieces[piece][1] for piece in step.pieces if cube.pieces[piece][1] != POSITIONS[piece]}:
        piece = choose.choice(step.next_pieces(away))
        home_before = {p for p in step.pieces if p not in away}
        move = step.move(away[piece], POSITIONS[piece])
        cube = held_alike(cube.do(move.turns))
        assert all(cube.pieces[p][1] == POSITIONS[p] for p in home_before), (piece, move)
        turns, moves = turns + len(move.top) + len(move.sequence), moves + 1
        assert moves <= 8, "each of four is taken out at most once and put in once"
    return cube, turns, moves


# The whole of it, by exhaustion


def test_every_way_the_four_edges_of_the_cross_can_lie_ends_with_them_home() -> None:
    """12 x 11 x 10 x 9 places and two ways round for each: 190,080, elementary; as the distance table counts them."""
    proof = every_state(CROSS_RULE)
    assert proof.states == 12 * 11 * 10 * 9 * 2**4 == sum(distance_table(CROSS).counts()) == 190_080
    assert proof.worst_turns == 32
    assert proof.mean_turns == pytest.approx(17.45, abs=0.01)


def test_every_way_corners_and_middle_edges_can_lie_ends_with_them_home() -> None:
    corners, edges = map(every_state, rules()[1:])
    assert (corners.states, edges.states) == (8 * 7 * 6 * 5 * 3**4, 8 * 7 * 6 * 5 * 2**4)
    assert corners.worst_turns <= 4 * 11 and edges.worst_turns <= 4 * 17


def test_where_pieces_were_taken_out_before_others_go_in_it_would_never_end() -> None:
    with pytest.raises(MethodError, match=r"'bottom-corners' does not end: it comes back to where it was, DFR at "):
        every_state(replace(rules()[1], layers=("D", "U")))


def test_the_rule_never_beats_the_shortest_way() -> None:
    random = Random(3)
    for _ in range(200):
        cube = Cube().do([Turn(random.choice("URFDLB"), random.choice((1, 2, 3))) for _ in range(30)])
        _, turns, _ = place_all(cube, CROSS_RULE, random)
        assert turns >= distance_table(CROSS).distance(places(cube, CROSS))


@pytest.mark.parametrize("left", [False, True], ids=["right", "left"])
def test_with_real_turns_the_two_lower_layers_are_built_by_the_rules_alone(left: bool) -> None:
    random = Random(5)
    for _ in range(60):
        cube = Cube().do([Turn(random.choice("URFDLB"), random.choice((1, 2, 3))) for _ in range(30)])
        for step in rules(left):
            cube, _, _ = place_all(cube, step, random)
        assert all(cube.pieces[name][1] == places for name, places in POSITIONS.items() if "U" not in name)


def test_a_single_edge_from_each_of_its_24_places() -> None:
    """In the top layer no more than the turn of the top and a sequence; lower, what takes it out before."""
    for piece, (name, flipped) in product(CROSS, product(EDGES, (False, True))):
        lies = EDGES[name][::-1] if flipped else EDGES[name]
        moves = list(CROSS_RULE.moves(lies, POSITIONS[piece]))
        home = lies == POSITIONS[piece]
        assert len(moves) == (0 if home else 1 if "U" in name else 2)
        assert all(move.case.takes_out for move in moves[:-1])
        assert not any(move.case.takes_out for move in moves[-1:])


# Which is next


def test_next_comes_what_is_in_the_top_layer_before_the_middle_and_the_bottom() -> None:
    up, middle, below = EDGES["UB"], EDGES["BL"], EDGES["DR"][::-1]
    assert [layer_of(lies) for lies in (up, middle, below)] == ["U", "M", "D"]
    away = {"DF": below, "DL": middle, "DB": up, "DR": EDGES["UL"]}
    assert CROSS_RULE.next_pieces(away) == ("DB", "DR")
    assert CROSS_RULE.next_pieces({"DF": below, "DL": middle}) == ("DL",)
    assert CROSS_RULE.next_pieces({"DF": below}) == ("DF",)
    assert CROSS_RULE.next_pieces({}) == ()


def test_every_step_says_which_is_next_and_what_there_is_at_its_end() -> None:
    for step in METHOD.steps:
        assert step.say("en", "done")
        assert bool(step.say("en", "next")) != bool(step.say("en", "look"))


def test_the_next_step_is_the_first_that_is_not_done_however_the_cube_is_turned_round() -> None:
    random = Random(11)
    cube = Cube().do("R U F L2 D' B R' U2 F' L")
    for step, rule in zip(METHOD.steps, rules(), strict=False):
        assert METHOD.next_step(cube.do("y")) is METHOD.next_step(cube) is step
        cube, _, _ = place_all(cube, rule, random)
    for step in METHOD.top_steps:
        while not step.done(cube.faces):
            assert METHOD.next_step(cube) is step
            case = step.case_of(cube.faces)
            cube = cube.do((*case.holds(cube.faces)[0], *case.sequence))
    assert METHOD.next_step(cube.do("U")) is METHOD.steps[-1], "the last turn is missing"
    cube = cube.do(last_turn(cube.faces))
    assert cube.solved and METHOD.next_step(cube) is None


# What the words say of the hold


MIDDLES = {"the front": "F", "the front and the right side": "FR", "the right side": "R"}


@pytest.mark.parametrize("left", [False, True], ids=["right", "left"])
def test_the_stickers_that_should_match_the_middles_do(left: bool) -> None:
    """Each case that puts a piece in, with its piece as `at`, `colour` and `on` say, the slot being the place it
    belongs to."""
    checked = 0
    for step in rules(left):
        home = POSITIONS[step.slot]
        for case in step.cases:
            if case.takes_out:
                continue
            lies = next(p for p in placements(step, step.slot) if case.meets(p, home))
            shows = {PLACE_NAMES[then][0]: PLACE_NAMES[now][0] for then, now in zip(home, lies, strict=True)}
            hold = case.say("en", "hold")
            found = re.search(r"match(?:es)? the middles? of (.*)\.$", hold)
            assert found, hold
            middles = MIDDLES[found[1].replace("left", "right")].replace("R", "L" if left else "R")
            if "its side sticker" in hold:
                assert shows[middles] == middles
            else:
                assert {*shows} == {*middles, "D"}
            checked += 1
    assert checked == 7


# Files that are wrong


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('next = ["top", "middle", "bottom"]', 'next = ["top", "bottom"]', ("step 'bottom-cross'", "middle layer")),
        ('next = ["top", "bottom"]', 'next = ["top"]', ("step 'bottom-corners'", "bottom layer")),
        ('next = ["top", "bottom"]', 'next = ["bottom", "top"]', ("step 'bottom-corners'", "must begin with the top")),
        ('next = ["top", "bottom"]', 'next = ["up"]', ("'up'", "no layer", "top, middle, bottom")),
        ('next = ["top", "bottom"]\n', "", ("step 'bottom-corners'", "layer")),
        ('at = "FR"\nsequence = "right-lift"', 'at = "UF"\nsequence = "right-lift"', ("at is 'UF'", "one of DF, DB")),
        ('at = "DFR"\nsequence', 'at = "DFR"\non = "R"\nsequence', ("colour is missing", "case 'corner-below'")),
        ("en.done = \"The whole top", "en.look2 = \"The whole top", ("en.look2", "step 'top-face'")),
        ("en.done = \"On every side, the two", "en.don = \"On every side, the two", ("en.done", "step 'top-corners'")),
        ('en.align = "Turn', 'en.done = "Turn', ("TOML",)),
    ],
)
def test_rules_that_leave_something_out(tmp_path: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    message = refusal(tmp_path, old, new)
    for word in words:
        assert word in message


def test_an_aligned_step_must_say_how_to_tell_the_last_turn(tmp_path: Path) -> None:
    start = DEFAULT.index("en.align")
    line = DEFAULT[start : DEFAULT.index("\n", start) + 1]
    assert "en.align is needed" in refusal(tmp_path, line, "")
