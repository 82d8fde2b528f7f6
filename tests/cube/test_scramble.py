"""Scrambles are random states as the WCA Regulations (4b3) ask for, and the turns lead there without the back."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from coach.cube import CORNERS, EDGES, Cube, find_problems, opposite, parse
from coach.cube.scramble import random_state, scramble
from coach.cube.two_stages import way_home

DRAWN = 3000


@pytest.fixture(scope="module")
def states() -> list[Cube]:
    random = Random(7)
    return [random_state(random) for _ in range(DRAWN)]


def _spread(counts: Counter[object], ways: int) -> float:
    """The chi-square statistic against all ways being equally likely, for each degree of freedom: about 1 if so."""
    expected = counts.total() / ways
    found = sum((count - expected) ** 2 / expected for count in counts.values())
    return (found + expected * (ways - len(counts))) / (ways - 1)


def test_every_state_drawn_can_be_reached(states: list[Cube]) -> None:
    assert not any(find_problems(cube.faces) for cube in states)
    assert len({cube.stickers for cube in states}) == DRAWN


def test_no_place_of_any_sticker_is_likelier_than_another(states: list[Cube]) -> None:
    for kind, ways in ((EDGES, 24), (CORNERS, 24)):
        for piece in kind:
            placements = Counter[object](cube.pieces[piece][1][0] for cube in states)
            assert _spread(placements, ways) < 2.2


def test_half_of_the_states_are_an_odd_number_of_swaps_away(states: list[Cube]) -> None:
    def odd(cube: Cube) -> bool:
        order = [list(CORNERS).index(cube.piece_at(position)) for position in CORNERS]
        return sum(a > b for at, a in enumerate(order) for b in order[at:]) % 2 == 1

    assert abs(sum(map(odd, states)) / DRAWN - 0.5) < 0.04


def test_pieces_lie_independently_of_each_other(states: list[Cube]) -> None:
    pairs = Counter[object]((cube.twist_at("UFR"), cube.twist_at("DBL"), cube.flip_at("UF")) for cube in states)
    assert _spread(pairs, 18) < 2.6
    orders = Counter[object]((cube.piece_at("UF"), cube.piece_at("UB")) for cube in states)
    assert _spread(orders, 12 * 11) < 1.6


@pytest.mark.parametrize("seed", range(6))
def test_a_scramble_is_short_has_no_turn_of_the_back_and_wastes_none(seed: int) -> None:
    turns = scramble(Random(seed))
    assert len(turns) <= 26
    assert not any(turn.face == "B" or turn.layers != 1 for turn in turns)
    for before, turn, after in zip(("", *turns), turns, (*turns[1:], ""), strict=False):
        assert not before or before.face != turn.face  # type: ignore[union-attr]
        between = before and after and turn.face == opposite(before.face)  # type: ignore[union-attr]
        assert not between or before.face != after.face  # type: ignore[union-attr]


def test_the_turns_lead_to_the_state_that_was_drawn() -> None:
    cube = random_state(Random(2))
    assert cube.do(way_home(cube)) == Cube()
    assert Cube().do(scramble(Random(2))) == cube


def test_the_same_seed_gives_the_same_scramble() -> None:
    assert scramble(Random(4)) == scramble(Random(4)) != scramble(Random(5))


@pytest.mark.parametrize("turns", ["", "U", "B", "R2 L2", "F B'", "U2 D2 R2 L2 F2 B2"])
def test_cubes_near_home_have_a_way_home_too(turns: str) -> None:
    cube = Cube().do(parse(turns))
    assert cube.do(way_home(cube)) == Cube()
