"""Shortest and cheapest turns to a goal over a few pieces."""

import heapq
import os
import random
import subprocess
import sys
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cube import (
    CORNERS,
    EDGES,
    FACE_TURNS,
    POSITIONS,
    ROTATIONS,
    Cube,
    Turn,
    inverse,
    parse,
    solved,
    write,
)
from coach.cube.distance import CROSS, UNREACHED, distance_table, places
from coach.cube.search import AT_HAND, EFFORT, cheapest, cheapest_between, cheapest_moves, effort, plan, reach
from tests.cube.random_cubes import cubes, face_turns, stickers_moved

LOWER_CORNERS = ("DFR", "DFL", "DBL", "DBR")
MIDDLE_EDGES = ("FR", "FL", "BL", "BR")
ONE_EACH = dict.fromkeys(FACE_TURNS, 1.0)


def at_home(cube, pieces):
    return places(cube.upright, pieces) == places(solved(), pieces)


def face_turn_count(turns):
    return sum(not turn.whole for turn in turns)


def test_optimal_lengths_of_the_bottom_cross():
    # The distribution in the half-turn metric, 0 to 8 turns: published, value from memory.
    counts = distance_table(CROSS).counts()
    assert counts == (1, 15, 158, 1394, 9809, 46381, 97254, 34966, 102)
    assert sum(counts) == 190_080 == 24 * 22 * 20 * 18


def test_any_cross_needs_as_many_turns():
    top = distance_table(("UF", "UL", "UB", "UR"))
    assert top.counts() == distance_table(CROSS).counts()


def test_one_turn_from_home():
    for piece in ("UF", "UFR"):
        table = distance_table((piece,))
        assert sum(table.counts()) == 24
        assert table.counts()[0] == 1
        # One turn moves a piece to 3 other places on each of its faces.
        assert table.counts()[1] == 3 * len(piece)


@given(face_turns)
def test_a_shortest_cross_has_as_many_turns_as_the_table_says(turns):
    cube = solved().do(turns)
    table = distance_table(CROSS)
    solution = table.solve(places(cube, CROSS))
    assert len(solution) == table.distance(places(cube, CROSS)) <= min(8, len(turns))
    assert at_home(cube.do(solution), CROSS)


def test_placements_that_no_cube_has():
    table = distance_table(CROSS)
    with pytest.raises(ValueError, match="two pieces in one position"):
        table.distance((10, 10, 10, 10))
    assert (table.distances == UNREACHED).sum() == 24**4 - 190_080
    with pytest.raises(ValueError, match="1 to 5 pieces"):
        distance_table(tuple(EDGES))


def test_fewer_turns_lead_less_far():
    only_top_and_right = tuple(turn for turn in FACE_TURNS if turn.face in "UR")
    table = distance_table(("UF",), only_top_and_right)
    with pytest.raises(ValueError, match="no turns lead home"):
        table.distance((POSITIONS["DL"][0],))
    assert table.distance((POSITIONS["UR"][0],)) == 1


@settings(max_examples=40)
@given(cubes)
def test_a_bottom_cross_never_needs_more_than_eight_turns_in_any_hold(cube):
    turns = cheapest(cube, CROSS)
    assert turns is not None
    assert face_turn_count(turns) <= 8
    assert at_home(cube.do(turns), CROSS)
    assert all(turn.face != "B" for turn in turns)


@settings(max_examples=40)
@given(face_turns)
def test_with_equal_costs_the_cheapest_is_the_shortest(turns):
    cube = solved().do(turns)
    shortest = distance_table(CROSS).distance(places(cube, CROSS))
    found = cheapest(cube, CROSS, ONE_EACH)
    assert found is not None
    assert len(found) == shortest
    if shortest:
        assert cheapest(cube, CROSS, ONE_EACH, most=shortest - 1) is None
    assert len(cheapest(cube, CROSS, ONE_EACH, most=shortest)) == shortest


def test_a_cross_of_eight_turns_is_not_done_in_seven():
    table = distance_table(CROSS)
    draw = random.Random(7)
    hard = next(
        cube
        for cube in (solved().do(draw.choices(FACE_TURNS, k=20)) for _ in range(100_000))
        if table.distance(places(cube, CROSS)) == 8
    )
    assert cheapest(hard, CROSS, most=7) is None
    assert face_turn_count(cheapest(hard, CROSS, most=8)) == 8


def least_effort(cube, pieces, cost):
    """The cost of the cheapest turns that bring `pieces` home, by trying all in the order of their cost."""
    tie = count()
    queue = [(0.0, next(tie), cube)]
    done = set()
    while queue:
        spent, _, cube = heapq.heappop(queue)
        state = (cube.centres, places(cube, pieces))
        if state in done:
            continue
        done.add(state)
        if at_home(cube, pieces):
            return spent
        for turn, price in cost.items():
            heapq.heappush(queue, (spent + price, next(tie), cube.turn(turn)))
    raise AssertionError("never home")


@st.composite
def costs(draw):
    """Costs of a few faces, not the same in both directions, and of rotations about one axis or two."""
    cost = {}
    faces, axes = draw(st.sampled_from([("R", "UF"), ("L", "UR"), ("UR", "U"), ("URF", "U"), ("URL", "R")]))
    for face in faces:
        quarter, back = draw(st.integers(4, 6)), draw(st.integers(4, 6))
        half = draw(st.integers(4, 8))
        cost |= {Turn(face, 1): quarter, Turn(face, 3): back, Turn(face, 2): half}
    for axis in axes:
        cost |= {turn: draw(st.integers(1, 12)) for turn in ROTATIONS if turn.face == axis}
    return cost


@settings(max_examples=25)
@given(cubes, costs(), st.sampled_from([("DF", "DFR"), ("UL", "UF"), ("DFR", "DBL")]))
def test_no_turns_cost_less_than_the_cheapest(cube, cost, pieces):
    turns = cheapest(cube, pieces, cost)
    assert turns is not None
    assert effort(turns, cost) == least_effort(cube, pieces, cost)
    assert at_home(cube.do(turns), pieces)


@pytest.mark.parametrize("scramble", ["R B'", "F2 D", "B2 U R", "L D' B"])
def test_no_turns_cost_less_than_the_cheapest_with_the_usual_effort(scramble):
    cube, pieces = solved().do(scramble), ("UFR", "DBL", "DF")
    turns = cheapest(cube, pieces)
    assert at_home(cube.do(turns), pieces)
    assert effort(turns) == pytest.approx(least_effort(cube, pieces, EFFORT))


@pytest.mark.parametrize("seed", range(4))
def test_no_turns_cost_less_where_anticlockwise_is_dear(seed):
    price = {1: 1.0, 2: 2.0, 3: 3.0}
    cost = {turn: price[turn.quarters] for turn in FACE_TURNS if turn.face in "URF"}
    cube = solved().do(random.Random(seed).choices(list(cost), k=30))
    pieces = ("UFR", "UBL", "UR")
    turns = cheapest(cube, pieces, cost)
    assert effort(turns, cost) == least_effort(cube, pieces, cost)


def test_the_back_is_turned_by_turning_the_whole_cube():
    turns = cheapest(solved().do("B"), POSITIONS)
    assert write(turns) in ("y R'", "y' L'")
    assert write(cheapest(solved().do("B"), POSITIONS, dict.fromkeys(FACE_TURNS, 1.0))) == "B'"


def test_what_is_at_home_needs_no_turns():
    assert cheapest(solved().do("y x"), POSITIONS) == ()
    assert cheapest(solved().do("U2"), CROSS) == ()
    assert cheapest_moves((), ()) == ()


@settings(max_examples=25)
@given(cubes, st.lists(st.sampled_from(FACE_TURNS), max_size=8))
def test_up_to_eight_wrong_turns_are_repaired_at_no_more_than_their_own_cost(cube, slip):
    after = cube.do(slip)
    repair = cheapest_between(after, cube)
    assert repair is not None
    assert after.do(repair).upright == cube.upright
    assert effort(repair) <= effort(inverse(slip)) + 1e-4


def test_a_repair_may_start_and_end_in_another_hold():
    repair = cheapest_between(solved().do("R U y"), solved().do("x2"))
    assert write(repair) == "U' F'"


# Everything of the two lower layers at home but one piece, which lies in each way it can.
@pytest.mark.parametrize("piece", [*LOWER_CORNERS, *MIDDLE_EDGES])
def test_a_plan_for_one_more_piece_of_the_lower_layers_keeps_the_others(piece):
    group = LOWER_CORNERS if piece in CORNERS else LOWER_CORNERS + MIDDLE_EDGES
    keep = (*CROSS, *(other for other in group if other != piece))
    home = places(solved(), keep)
    kind = CORNERS if piece in CORNERS else EDGES
    free = [place for position, spots in kind.items() if position not in keep for place in spots]
    for place in free:
        start, goal = (*home, place), (*home, POSITIONS[piece][0])
        turns = cheapest_moves(start, goal)
        if turns is None:
            turns = cheapest_moves(start, goal, AT_HAND, 10)
        assert turns is not None
        where = list(start)
        hold = solved()
        for turn in turns:
            where = [turn.permutation.index(spot) for spot in where]
            hold = hold.turn(turn) if turn.whole else hold
        assert tuple(where) == tuple(hold.stickers.index(spot) for spot in goal)


def test_a_plan_where_eight_turns_are_too_few():
    one_flipped_in_its_slot = {"F5": "R3", "R3": "F5", "U7": "F1", "F1": "U7"}
    cube = stickers_moved(solved(), one_flipped_in_its_slot)
    lower = (*CROSS, *LOWER_CORNERS, *MIDDLE_EDGES)
    assert cheapest(cube, lower) is None
    turns = plan(cube, lower)
    assert turns is not None
    assert len(turns) > 8
    assert at_home(cube.do(turns), lower)


def test_reach():
    assert reach(EFFORT) == 8
    assert reach(AT_HAND) == 10
    assert {str(turn)[0] for turn in AT_HAND} == set("URFL")


@pytest.mark.parametrize(
    ("cost", "reason"),
    [
        ({Turn("R"): 1.0}, "all need a cost"),
        ({**ONE_EACH, Turn("R"): 0.0}, "greater than 0"),
        ({**ONE_EACH, Turn("R", 1, 2): 1.0}, "face turns and rotations only"),
        ({**ONE_EACH, Turn("R", 2): 3.0}, "more than two"),
        ({}, "greater than 0"),
    ],
)
def test_costs_that_make_no_sense(cost, reason):
    with pytest.raises(ValueError, match=reason):
        cheapest(solved(), CROSS, cost)


def test_every_piece_needs_a_goal():
    with pytest.raises(ValueError, match="start and a goal"):
        cheapest_moves((1, 2), (1,))


def test_places_follow_the_first_sticker():
    assert places(Cube().do(parse("F")), ("UF", "DFR")) == (POSITIONS["FR"][1], POSITIONS["DFL"][2])


def test_of_plans_that_cost_the_same_it_is_always_the_same_one() -> None:
    """Also in another process, where strings have other hashes."""
    script = (
        "from coach.cube import Cube, parse\n"
        "from coach.cube.search import plan\n"
        "from coach.cube.distance import CROSS\n"
        "for turns in ('F B', 'R L U', 'D2 F2', 'L B R F', 'U R2 B L'): print(*plan(Cube().do(parse(turns)), CROSS))"
    )
    plans = {
        subprocess.run(
            [sys.executable, "-c", script], env=os.environ | {"PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2", "3", "5")
    }
    assert len(plans) == 1
