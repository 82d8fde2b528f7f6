"""A misread sticker, a wrong turn and a cube put together wrong are told apart, at every possible place.

The damages are made here by exchanging the pieces' stickers by name, apart from the code under test.
"""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from coach.belief.reading.correction import likelihoods
from coach.belief.reading.diagnosis import diagnose
from coach.belief.reading.stickers import KnownStickers
from coach.cube import (
    CORNERS,
    EDGES,
    FACE_TURNS,
    FACES,
    PLACE_NAMES,
    PLACE_NUMBER,
    Cube,
    Turn,
)
from coach.cube.geometry import clockwise_stickers
from coach.cube.problems import FlippedEdge, SwappedPieces, TwistedCorner

STICKERS = tuple(place for place in PLACE_NAMES if not place.endswith("4"))
PAIRS = (*combinations(EDGES, 2), *combinations(CORNERS, 2))


def scrambled(seed: int) -> Cube:
    return Cube().do(random.Random(seed).choices(FACE_TURNS, k=60))


def rearranged(cube: Cube, places: tuple[int, ...], sources: tuple[int, ...]) -> KnownStickers:
    letters = list(cube.faces)
    for place, source in zip(places, sources, strict=True):
        letters[place] = cube.faces[source]
    return KnownStickers("".join(letters))


def flipped(cube: Cube, edge: str) -> KnownStickers:
    return rearranged(cube, EDGES[edge], EDGES[edge][::-1])


def twisted(cube: Cube, corner: str, thirds: int) -> KnownStickers:
    cycle = clockwise_stickers(corner)
    return rearranged(cube, cycle, cycle[thirds:] + cycle[:thirds])


def swapped(cube: Cube, one: str, other: str, turned: int = 0) -> KnownStickers:
    here, there = ((EDGES[p] if p in EDGES else clockwise_stickers(p)) for p in (one, other))
    there = there[turned:] + there[:turned]
    return rearranged(cube, here + there, there + here)


def misread(cube: Cube, place: str, rng: random.Random) -> KnownStickers:
    true = KnownStickers.of(cube, STICKERS)
    letter = true.pattern[PLACE_NUMBER[place]]
    return true.seeing({place: rng.choice([face for face in FACES if face != letter])})


class TestUnknownCube:
    """Nothing is known beforehand of the cube that was read."""

    def test_a_cube_in_order(self) -> None:
        diagnosis = diagnose(KnownStickers.of(scrambled(1), STICKERS))
        assert diagnosis.kind == "legal"
        assert diagnosis.sure > 0.99
        assert not diagnosis.correction.changed

    def test_a_cube_read_in_part_is_probably_in_order(self) -> None:
        diagnosis = diagnose(KnownStickers.of(scrambled(1), STICKERS[:20]))
        assert (diagnosis.kind, diagnosis.problems) == ("legal", ())
        assert 0.9 < diagnosis.sure < 1

    @pytest.mark.parametrize("number", range(0, 48, 3))
    def test_a_misread_sticker(self, number: int) -> None:
        cube = scrambled(number)
        diagnosis = diagnose(misread(cube, STICKERS[number], random.Random(number)))
        assert diagnosis.kind == "misread"
        assert diagnosis.sure > 0.9
        assert set(diagnosis.correction.changed) == {STICKERS[number]}

    @pytest.mark.parametrize("edge", EDGES)
    def test_a_flipped_edge(self, edge: str) -> None:
        diagnosis = diagnose(flipped(scrambled(2), edge))
        assert diagnosis.kind == "flipped edge"
        assert diagnosis.sure > 0.9
        assert not diagnosis.correction.changed
        assert [type(problem) for problem in diagnosis.problems] == [FlippedEdge]

    @pytest.mark.parametrize("corner", CORNERS)
    @pytest.mark.parametrize("thirds", [1, 2])
    def test_a_twisted_corner(self, corner: str, thirds: int) -> None:
        diagnosis = diagnose(twisted(scrambled(3), corner, thirds))
        assert diagnosis.kind == "twisted corner"
        assert diagnosis.sure > 0.9
        assert [type(problem) for problem in diagnosis.problems] == [TwistedCorner]

    @pytest.mark.parametrize(("one", "other"), PAIRS)
    def test_a_swapped_pair(self, one: str, other: str) -> None:
        diagnosis = diagnose(swapped(scrambled(4), one, other))
        assert diagnosis.kind == "swapped pair"
        assert [type(problem) for problem in diagnosis.problems] == [SwappedPieces]

    def test_several_damages_are_a_cube_that_was_taken_apart(self) -> None:
        both = Cube(bytes(range(54)))
        letters = list(flipped(both, "UF").pattern)
        for place, source in zip(clockwise_stickers("DBL"), clockwise_stickers("DBL")[1:] * 2, strict=False):
            letters[place] = both.faces[source]
        diagnosis = diagnose(KnownStickers("".join(letters)))
        assert diagnosis.kind == "taken apart"
        assert {type(problem) for problem in diagnosis.problems} == {FlippedEdge, TwistedCorner}

    def test_a_flipped_edge_and_a_misread_sticker(self) -> None:
        reading = flipped(scrambled(5), "DR")
        place = "U0"
        said = next(face for face in FACES if face != reading.pattern[0])
        diagnosis = diagnose(reading.seeing({place: said}))
        assert diagnosis.kind == "flipped edge"
        assert set(diagnosis.correction.changed) == {place}
        assert [type(problem) for problem in diagnosis.problems] == [FlippedEdge]

    def test_all_edges_are_enough_to_see_that_one_is_flipped(self) -> None:
        on_edges = [PLACE_NAMES[place] for places in EDGES.values() for place in places]
        reading = flipped(scrambled(6), "UB")
        corners = [place for place in STICKERS if place not in on_edges]
        assert diagnose(reading.without(corners)).kind == "flipped edge"


class TestExpectedCube:
    """The coach knows the cube; what it is told differs."""

    def test_as_expected(self) -> None:
        cube = scrambled(7).do("y x'")
        diagnosis = diagnose(KnownStickers.of(cube, STICKERS), expected=cube)
        assert diagnosis.kind == "legal"
        assert diagnosis.sure > 0.99

    @pytest.mark.parametrize("number", range(0, 48, 3))
    def test_a_misread_sticker(self, number: int) -> None:
        cube = scrambled(number)
        reading = misread(cube, STICKERS[number], random.Random(number))
        diagnosis = diagnose(reading, expected=cube)
        assert diagnosis.kind == "misread"
        assert dict(diagnosis.correction.changed) == {
            STICKERS[number]: cube.faces[PLACE_NUMBER[STICKERS[number]]]
        }

    @pytest.mark.parametrize("turn", FACE_TURNS, ids=str)
    def test_a_wrong_turn(self, turn: Turn) -> None:
        cube = scrambled(8)
        diagnosis = diagnose(KnownStickers.of(cube.turn(turn), STICKERS), expected=cube)
        assert (diagnosis.kind, diagnosis.turn) == ("wrong turn", turn)
        assert diagnosis.sure > 0.99

    @pytest.mark.parametrize("turn", FACE_TURNS, ids=str)
    def test_a_wrong_turn_shows_on_the_top_and_the_front_alone(self, turn: Turn) -> None:
        cube = scrambled(9)
        places = [place for place in STICKERS if place[0] in "UF"]
        if turn.face == "B":
            places += ["R2", "R5", "R8"]
        diagnosis = diagnose(KnownStickers.of(cube.turn(turn), places), expected=cube)
        assert (diagnosis.kind, diagnosis.turn) == ("wrong turn", turn)

    @pytest.mark.parametrize("edge", EDGES)
    def test_a_flipped_edge(self, edge: str) -> None:
        cube = scrambled(10)
        diagnosis = diagnose(flipped(cube, edge), expected=cube)
        assert (diagnosis.kind, diagnosis.positions) == ("flipped edge", (edge,))
        assert diagnosis.sure > 0.9

    @pytest.mark.parametrize("corner", CORNERS)
    @pytest.mark.parametrize("thirds", [1, 2])
    def test_a_twisted_corner(self, corner: str, thirds: int) -> None:
        cube = scrambled(11)
        diagnosis = diagnose(twisted(cube, corner, thirds), expected=cube)
        assert (diagnosis.kind, diagnosis.positions) == ("twisted corner", (corner,))
        assert diagnosis.sure > 0.9

    @pytest.mark.parametrize(("one", "other"), PAIRS)
    def test_a_swapped_pair(self, one: str, other: str) -> None:
        cube = scrambled(12)
        diagnosis = diagnose(swapped(cube, one, other, turned=1), expected=cube)
        assert (diagnosis.kind, diagnosis.positions) == ("swapped pair", (one, other))

    def test_another_cube(self) -> None:
        diagnosis = diagnose(KnownStickers.of(scrambled(13), STICKERS), expected=scrambled(14))
        assert diagnosis.kind == "another cube"
        assert diagnosis.correction.reading == KnownStickers.of(scrambled(13), STICKERS)

    def test_two_things_at_once_are_judged_by_the_laws_alone(self) -> None:
        cube = scrambled(16)
        diagnosis = diagnose(flipped(cube.do("R U"), "UF"), expected=cube)
        assert (diagnosis.kind, diagnosis.positions) == ("flipped edge", ())

    def test_a_sticker_heard_badly_leaves_the_cube_as_expected(self) -> None:
        cube = scrambled(15)
        said = KnownStickers.of(cube, ["F0"]).seeing({"F1": "L" if cube.faces[19] != "L" else "R"})
        assert diagnose(said, likelihoods(said, {"F1": 0.1}), cube).kind == "misread"

    def test_the_hold_must_be_the_same(self) -> None:
        with pytest.raises(ValueError, match="held"):
            diagnose(KnownStickers.of(Cube().do("x")), expected=Cube())
