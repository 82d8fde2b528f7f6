"""Reading a whole cube: what follows from the stickers known, and which row tells most.

The number of legal cubes (43,252,003,274,489,856,000) is a value from memory, and common knowledge.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from itertools import permutations, product
from math import log2

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.belief.reading.completion import CORNER_KIND, EDGE_KIND, Completions
from coach.belief.reading.rows import Row, next_row, row_bits
from coach.belief.reading.stickers import KnownStickers, completions, forced, solution, ways
from coach.cube import (
    CORNERS,
    EDGES,
    FACE_TURNS,
    FACES,
    PLACE_NAMES,
    PLACE_NUMBER,
    POSITIONS,
    ROTATIONS,
    Cube,
    Turn,
    parse,
)

STICKERS = tuple(place for place in PLACE_NAMES if not place.endswith("4"))


def scrambled(seed: int) -> Cube:
    """A scrambled cube, held in any way."""
    rng = random.Random(seed)
    return Cube().do([*rng.choices(FACE_TURNS, k=60), *rng.choices(ROTATIONS, k=3)])


def seen(cube: Cube, places: tuple[str, ...]) -> dict[str, str]:
    return {place: cube.faces[PLACE_NUMBER[place]] for place in places}


def odd(order: list[int]) -> bool:
    return sum(a > b for i, a in enumerate(order) for b in order[i + 1 :]) % 2 == 1


def brute_force(cube: Cube, edges: list[str], corners: list[str], known: dict[str, str]) -> Iterator[str]:
    """The faces of all legal cubes that differ from the upright `cube` in the pieces at these positions only
    and agree with `known`: every arrangement is tried, and judged by the laws as one would by hand."""
    for order, flips in product(permutations(edges), product((0, 1), repeat=len(edges))):
        for corner_order, twists in product(permutations(corners), product((0, 1, 2), repeat=len(corners))):
            if sum(flips) % 2 or sum(twists) % 3:
                continue
            if odd([edges.index(e) for e in order]) != odd([corners.index(c) for c in corner_order]):
                continue
            faces = list(cube.faces)
            moves = ((EDGE_KIND, edges, order, flips), (CORNER_KIND, corners, corner_order, twists))
            for kind, to, come, turns in moves:
                for position, piece, turn in zip(to, come, turns, strict=True):
                    here, there = (kind.places[kind.names.index(name)].tolist() for name in (position, piece))
                    for which, place in enumerate(there):
                        faces[here[(which + turn) % len(here)]] = cube.faces[place]
            if all(faces[PLACE_NUMBER[place]] == face for place, face in known.items()):
                yield "".join(faces)


def places_of(*positions: str) -> set[str]:
    return {PLACE_NAMES[place] for position in positions for place in POSITIONS[position]}


class TestWhatIsLeft:
    def test_all_legal_cubes_at_the_start(self) -> None:
        assert ways(KnownStickers.of(Cube())) == 43_252_003_274_489_856_000

    def test_the_laws_split_all_arrangements_into_twelve_equal_parts(self) -> None:
        parts = Completions(np.ones((54, 6))).by_law
        assert parts.shape == (2, 2, 3)
        assert parts.min() == parts.max()

    @pytest.mark.parametrize("seed", range(6))
    def test_the_count_and_every_sticker_agree_with_trying_all(self, seed: int) -> None:
        rng = random.Random(seed)
        cube = scrambled(seed).upright
        edges, corners = rng.sample(list(EDGES), 3), rng.sample(list(CORNERS), 2 + seed % 2)
        hidden = places_of(*edges, *corners)
        hidden -= set(rng.sample(sorted(hidden), seed))
        reading = KnownStickers.of(cube, [place for place in STICKERS if place not in hidden])
        cubes = list(brute_force(cube, edges, corners, seen(cube, reading.read)))
        assert ways(reading) == len(cubes)
        for place in range(54):
            counted = Counter(faces[place] for faces in cubes)
            assert completions(reading).stickers()[place].tolist() == [counted[face] for face in FACES]

    @pytest.mark.parametrize("seed", range(6))
    def test_what_a_row_tells_agrees_with_trying_all(self, seed: int) -> None:
        cube = scrambled(seed + 10).upright
        edges, corners = ["UF", "UR", "UB"], ["UFR", "UFL"]
        reading = KnownStickers.of(cube, [p for p in STICKERS if p not in places_of(*edges, *corners)])
        cubes = list(brute_force(cube, edges, corners, {}))
        for row in (Row((), "U", 3), Row((), "U", 1), Row((), "F", 1), Row((Turn("U", 1, 3),), "U", 2)):
            looks = Counter(tuple(faces[place] for place in sorted(row.line)) for faces in cubes)
            shares = [count / len(cubes) for count in looks.values()]
            assert row_bits(reading, row) == pytest.approx(-sum(share * log2(share) for share in shares))

    def test_a_contradiction_leaves_nothing(self) -> None:
        reading = KnownStickers.of(Cube()).seeing({"U7": "R", "F1": "L"})
        assert ways(reading) == 0
        assert (forced(reading), solution(reading), next_row(reading)) == ({}, None, None)

    def test_a_piece_read_twice_is_a_contradiction(self) -> None:
        reading = KnownStickers.of(Cube()).seeing({"U7": "U", "F1": "F", "U1": "U", "B1": "F"})
        assert ways(reading) == 0


class TestWhatFollows:
    def test_nothing_at_the_start(self) -> None:
        assert forced(KnownStickers.of(scrambled(1))) == {}

    def test_the_third_sticker_of_a_corner(self) -> None:
        assert forced(KnownStickers.of(Cube(), ["U8", "F2"])) == {"R0": "R"}

    def test_the_last_edge_follows_from_the_others_and_lies_as_the_flips_demand(self) -> None:
        hidden = places_of("UF")
        reading = KnownStickers.of(scrambled(2), [place for place in STICKERS if place not in hidden])
        assert forced(reading) == seen(scrambled(2), tuple(hidden))

    def test_the_last_two_corners_follow_from_parity_but_not_their_twists(self) -> None:
        hidden = places_of("UFR", "DBL")
        reading = KnownStickers.of(Cube(), [place for place in STICKERS if place not in hidden])
        assert ways(reading) == 3
        assert solution(reading) is None
        assert solution(reading.seeing({"U8": "U"})) == Cube()

    @settings(max_examples=25, deadline=None)
    @given(st.integers(0, 10**6), st.sets(st.sampled_from(STICKERS)))
    def test_what_follows_is_true_and_what_is_read_is_no_contradiction(
        self, seed: int, places: set[str]
    ) -> None:
        cube = scrambled(seed)
        reading = KnownStickers.of(cube, places)
        follows = forced(reading)
        assert ways(reading) >= 1
        assert follows == seen(cube, tuple(follows))
        assert not set(follows) & set(reading.read)
        assert ways(reading.seeing(follows)) == ways(reading)
        assert solution(reading) in (None, cube)
        assert (solution(reading) is None) == (len(follows) + len(reading.read) < 48)

    @settings(max_examples=15, deadline=None)
    @given(st.integers(0, 10**6), st.sets(st.sampled_from(STICKERS), min_size=1), st.sampled_from(ROTATIONS))
    def test_turning_the_whole_cube_changes_nothing_but_the_names(
        self, seed: int, places: set[str], rotation: Turn
    ) -> None:
        reading = KnownStickers.of(scrambled(seed), places)
        held = reading.after([rotation])
        assert ways(held) == ways(reading)
        assert reading.seeing(forced(reading)).after([rotation]) == held.seeing(forced(held))


class TestReading:
    def test_the_centres_are_known_from_the_hold_and_cannot_change(self) -> None:
        reading = KnownStickers.of(Cube().do("y"))
        assert reading.centres == "RLBFUD"
        assert reading.read == ()
        with pytest.raises(ValueError, match="centre"):
            reading.seeing({"F4": "F"})

    def test_stickers_can_be_taken_back(self) -> None:
        reading = KnownStickers.of(Cube(), ["U0"])
        assert reading.without(["U0"]) == KnownStickers.of(Cube())

    @pytest.mark.parametrize("pattern", ["", "U" * 54, Cube().faces[:-1] + "X"])
    def test_what_is_no_pattern_is_refused(self, pattern: str) -> None:
        with pytest.raises(ValueError, match=r"needed|centre"):
            KnownStickers(pattern)


class TestRows:
    def test_the_first_row_is_one_in_front_without_any_turning(self) -> None:
        assert next_row(KnownStickers.of(Cube())) in (Row((), "F", 1), Row((), "F", 2), Row((), "F", 3))

    def test_a_row_says_where_its_stickers_are_in_the_new_hold(self) -> None:
        row = Row(parse("y"), "F", 1)
        assert row.places == ("F0", "F1", "F2")
        assert {PLACE_NAMES[place] for place in row.line} == {"R0", "R1", "R2"}

    @settings(max_examples=15, deadline=None)
    @given(st.integers(0, 10**6), st.sets(st.sampled_from(STICKERS)))
    def test_a_row_asked_for_always_tells_something(self, seed: int, places: set[str]) -> None:
        reading = KnownStickers.of(scrambled(seed), places)
        row = next_row(reading)
        assert (row is None) == (ways(reading) == 1)
        if row is not None:
            held = reading.after(row.rotation)
            assert not set(row.places) <= set(forced(held)) | set(held.read)
            assert row_bits(reading, row) > 0

    def test_only_the_faces_allowed_are_read_and_only_as_held(self) -> None:
        reading = KnownStickers.of(Cube(), [place for place in STICKERS if place[0] == "F"])
        row = next_row(reading, look={"F": 0, "B": 0}, turning=False)
        assert row is not None
        assert (row.face, row.rotation) == ("B", ())
        assert next_row(reading, look={"F": 0}, turning=False) is None

    def test_twenty_cubes_are_read_with_at_most_38_colours_on_average(self) -> None:
        counts = [colours_needed(scrambled(1000 + seed)) for seed in range(20)]
        assert sum(counts) / len(counts) <= 38
        assert max(counts) <= 45

    @pytest.mark.parametrize("seed", range(3))
    def test_one_hold_and_all_six_faces_will_do(self, seed: int) -> None:
        assert colours_needed(scrambled(seed), look=dict.fromkeys(FACES, 0.0), turning=False) <= 40


def colours_needed(cube: Cube, **options: object) -> int:
    """How many colours are said until the cube is known; the cube found must be the true one."""
    reading, said = KnownStickers.of(cube), 0
    while (found := solution(reading)) is None:
        row = next_row(reading, **options)  # type: ignore[arg-type]
        assert row is not None
        cube, reading = cube.do(row.rotation), reading.after(row.rotation)
        reading = reading.seeing(seen(cube, row.places))
        said += len(row.places)
    assert found == cube
    return said
