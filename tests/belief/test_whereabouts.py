"""Where pieces are, held against real cubes."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.belief.top import any_top
from coach.belief.top.belief import order_states
from coach.belief.whereabouts import (
    candidates,
    certain,
    home,
    only_centres,
    placements,
    possible_tops,
    whereabouts,
    with_home,
    with_piece,
)
from coach.cube import FACE_PLACES, FACE_TURNS, FACES, PLACE_NAMES, POSITIONS, ROTATIONS, Cube, Turn, turned
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.method.last_layer import build, orders, orientation_states


def scrambled(seed: int) -> Cube:
    random = Random(seed)
    return Cube().do(random.choices(FACE_TURNS, k=25)).do(random.choices(ROTATIONS, k=3))


def lies(cube: Cube, piece: str) -> tuple[int, ...]:
    """Where the stickers of `piece` are on `cube`, by its letters; from the stickers alone."""
    for places in POSITIONS.values():
        there = {cube.faces[place]: place for place in places}
        if set(there) == set(piece):
            return tuple(there[face] for face in piece)
    raise AssertionError(piece)


@pytest.mark.parametrize("piece", POSITIONS)
def test_a_piece_lies_in_24_ways_all_different(piece: str) -> None:
    found = placements(piece)
    assert len(found) == len(set(found)) == 24


@pytest.mark.parametrize("seed", range(6))
def test_a_piece_that_was_told_is_followed_through_turns(seed: int) -> None:
    random = Random(seed)
    cube = scrambled(seed)
    reading = KnownStickers.of(cube)
    told = random.sample(list(POSITIONS), 4)
    for piece in told:
        reading = with_piece(reading, piece, lies(cube, piece))
    for turn in random.choices((*FACE_TURNS, *ROTATIONS), k=30):
        cube, reading = cube.do((turn,)), reading.after((turn,))
        for piece in told:
            assert whereabouts(reading, piece) == lies(cube, piece)


@pytest.mark.parametrize("seed", range(6))
def test_home_is_beside_the_centres_of_its_colours_in_any_hold(seed: int) -> None:
    turns = Random(seed).choices(ROTATIONS, k=3)
    held = Cube().do(turns)
    for piece in POSITIONS:
        assert home(KnownStickers.of(held), piece) == lies(held, piece)


def test_a_piece_of_which_nothing_is_known_is_nowhere() -> None:
    assert whereabouts(KnownStickers.of(Cube()), "UF") is None


def test_the_last_piece_follows_from_the_others() -> None:
    cube = scrambled(3)
    reading = KnownStickers.of(cube, PLACE_NAMES).without(PLACE_NAMES[place] for place in lies(cube, "DFR"))
    assert whereabouts(reading, "DFR") == lies(cube, "DFR")


@pytest.mark.parametrize("seed", range(4))
def test_what_is_said_truly_of_a_piece_keeps_the_place_where_it_is(seed: int) -> None:
    cube = scrambled(seed)
    reading = KnownStickers.of(cube)
    for piece in POSITIONS:
        true = lies(cube, piece)
        name = next(name for name, places in POSITIONS.items() if set(places) == set(true))
        shows = {piece[0]: FACES[true[0] // 9]}
        assert candidates(reading, piece, name, shows) == (true,)
        assert true in candidates(reading, piece, None, shows)
        assert len(candidates(reading, piece, name, {})) == len(piece)


def test_no_piece_is_where_another_is_known_to_be() -> None:
    cube = Cube()
    reading = with_home(KnownStickers.of(cube), ["UF"])
    assert candidates(reading, "UB", "UF", {}) == ()
    assert len(candidates(reading, "UB", None, {})) == 22


@pytest.mark.parametrize("hold", ROTATIONS, ids=str)
def test_the_tops_that_are_possible_in_any_hold(hold: Turn) -> None:
    held = Cube().do((hold,))
    reading = with_home(only_centres(KnownStickers.of(held)), LOWER_PIECES)
    tops = possible_tops(reading, ordered=False)
    assert tops.patterns == {turned(p, (hold,)) for p in any_top().patterns}


def test_what_is_known_of_top_stickers_narrows_the_tops() -> None:
    cube = orientation_states()[101]
    reading = with_home(only_centres(KnownStickers.of(cube)), LOWER_PIECES)
    seen = reading.seeing({PLACE_NAMES[place]: cube.faces[place] for place in FACE_PLACES["U"]})
    tops = possible_tops(seen, ordered=False).patterns
    assert 1 <= len(tops) < 216
    # The colours of the top that are not up are known too now, and none of them is the top's.
    assert all((pattern[i] == "U") == (cube.faces[i] == "U") for pattern in tops for i in FACE_PLACES["U"])


def test_288_orders_are_possible_of_a_top_in_one_colour() -> None:
    reading = with_home(only_centres(KnownStickers.of(Cube())), LOWER_PIECES)
    assert possible_tops(reading, ordered=True) == order_states()


def test_a_whole_cube_leaves_one_top() -> None:
    edges, corners = orders()[77]
    cube = build(edges=edges, corners=corners)
    assert possible_tops(KnownStickers.of(cube, PLACE_NAMES), ordered=True).patterns == {cube.faces}


def test_certain_is_what_all_patterns_have_in_common() -> None:
    reading = certain(KnownStickers.of(Cube()), any_top())
    for number, place in enumerate(PLACE_NAMES):
        letters = {pattern[number] for pattern in any_top().patterns}
        known = letters.pop() if len(letters) == 1 else UNKNOWN
        assert reading.pattern[number] == known, place


def test_knowledge_moves_with_the_cube_and_forgets_what_it_is_told_to() -> None:
    knowledge = Knowledge(with_home(KnownStickers.of(Cube()), LOWER_PIECES))
    knowledge.open_top(ordered=False)
    cube = orientation_states()[150]
    turns = [*FACE_TURNS[:5], *ROTATIONS[:2]]
    knowledge.move(turns)
    real = cube.do(turns).faces
    assert all(known in (UNKNOWN, true) for known, true in zip(knowledge.reading.pattern, real, strict=True))
    knowledge.forget_all()
    assert knowledge.reading.read == ()
    assert not knowledge.top
    assert knowledge.reading.centres == cube.do(turns).centres
