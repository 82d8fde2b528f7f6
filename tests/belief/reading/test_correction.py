"""Stickers misheard or misread: found, corrected, or asked about."""

from __future__ import annotations

import random

import numpy as np
import pytest

from coach.belief.reading.completion import Completions
from coach.belief.reading.correction import SELDOM, USUAL_CONFUSION, after, likelihoods, most_probable
from coach.belief.reading.rows import check_row
from coach.belief.reading.stickers import KnownStickers, by_hold, solution, ways
from coach.cube import FACE_TURNS, FACES, PLACE_NAMES, PLACE_NUMBER, ROTATIONS, Cube, parse

STICKERS = tuple(place for place in PLACE_NAMES if not place.endswith("4"))
U0 = PLACE_NUMBER["U0"]


def read_cube(seed: int) -> KnownStickers:
    """All 48 stickers of a scrambled cube, held in any way."""
    rng = random.Random(seed)
    cube = Cube().do([*rng.choices(FACE_TURNS, k=60), *rng.choices(ROTATIONS, k=3)])
    return KnownStickers.of(cube, STICKERS)


def letter(reading: KnownStickers, place: str) -> str:
    return reading.pattern[PLACE_NUMBER[place]]


class TestLikelihoods:
    def test_every_true_colour_is_said_as_something(self) -> None:
        said = [likelihoods(KnownStickers.of(Cube()).seeing({"U0": face}))[U0] for face in FACES]
        assert np.sum(said, axis=0) == pytest.approx(np.ones(6))

    def test_alike_colours_are_taken_for_each_other_more_easily(self) -> None:
        said = likelihoods(KnownStickers.of(Cube()).seeing({"U0": "L"}))[U0]
        chance = dict(zip(FACES, said.tolist(), strict=True))
        assert chance["R"] == USUAL_CONFUSION["R", "L"]
        assert chance["D"] == SELDOM
        assert max(chance, key=lambda face: chance[face]) == "L"

    def test_other_colours_may_be_alike(self) -> None:
        said = likelihoods(KnownStickers.of(Cube()).seeing({"U0": "U"}), confusion={("R", "U"): 0.03})[U0]
        assert dict(zip(FACES, said.tolist(), strict=True))["R"] == 0.03

    def test_what_is_not_read_and_not_understood_tells_nothing(self) -> None:
        table = likelihoods(KnownStickers.of(Cube(), ["U0"]), {"U0": 0.0})
        assert set(table[PLACE_NUMBER["U1"]]) == {1.0}
        assert np.ptp(table[PLACE_NUMBER["U0"]]) == 0

    def test_a_confirmed_sticker_is_all_but_certain(self) -> None:
        said = likelihoods(KnownStickers.of(Cube(), ["U0"]), confirmed=["U0"])[U0]
        assert sorted(said)[-2] < 1e-5

    def test_they_turn_with_the_cube(self) -> None:
        reading = read_cube(1)
        turned = reading.after(parse("y x"))
        assert (after(likelihoods(reading), parse("y x")) == likelihoods(turned)).all()


class TestCorrection:
    def test_stickers_that_fit_are_not_corrected(self) -> None:
        correction = most_probable(read_cube(1))
        assert (correction.reading, correction.changed, correction.doubtful) == (read_cube(1), {}, ())

    @pytest.mark.parametrize("seed", range(40))
    def test_one_misread_sticker_of_48_is_found(self, seed: int) -> None:
        true, rng = read_cube(seed), random.Random(seed)
        place = STICKERS[(7 * seed + 3) % 48]
        said = true.seeing({place: rng.choice([face for face in FACES if face != letter(true, place)])})
        correction = most_probable(said)
        assert correction.reading == true
        assert correction.changed == {place: letter(true, place)}
        assert correction.sure > 0.9

    @pytest.mark.parametrize("seed", range(6))
    def test_two_misread_stickers_are_corrected_or_asked_about(self, seed: int) -> None:
        true, rng = read_cube(seed), random.Random(seed)
        places = rng.sample(STICKERS, 2)
        said = true.seeing({p: rng.choice([f for f in FACES if f != letter(true, p)]) for p in places})
        correction = most_probable(said)
        assert ways(said) == 0
        assert solution(correction.reading) is not None
        for place in places:
            assert letter(correction.reading, place) == letter(true, place) or place in correction.doubtful

    def test_an_edge_read_twice_is_doubted_where_colours_look_alike(self) -> None:
        """Twice yellow and red: one of the two red ones is orange, rather than any other slip."""
        said = KnownStickers.of(Cube()).seeing({"U7": "U", "F1": "L", "U3": "U", "L1": "L"})
        correction = most_probable(said)
        assert correction.changed in ({"F1": "R"}, {"L1": "R"})
        assert set(correction.doubtful[:2]) == {"F1", "L1"}

    def test_the_sticker_heard_badly_is_the_one_in_doubt(self) -> None:
        said = KnownStickers.of(Cube()).seeing({"U7": "U", "F1": "L", "U3": "U", "L1": "L"})
        correction = most_probable(said, likelihoods(said, {"F1": 0.3}))
        assert set(correction.changed) == {"F1"}
        assert correction.doubtful[0] == "F1"

    def test_a_confirmed_sticker_is_believed(self) -> None:
        said = KnownStickers.of(Cube()).seeing({"U7": "U", "F1": "L", "U3": "U", "L1": "L"})
        correction = most_probable(said, likelihoods(said, confirmed=["F1", "U7", "U3"]))
        assert set(correction.changed) == {"L1"}
        assert "F1" not in correction.doubtful

    def test_the_most_probable_cube_outweighs_all_others_tried(self) -> None:
        """No cube one or two turns from the most probable explains what was said better."""
        rng = random.Random(5)
        true = read_cube(5)
        said = true.seeing({place: rng.choice(FACES) for place in rng.sample(STICKERS, 5)})
        table = likelihoods(said)
        best = solution(most_probable(said).reading)
        assert best is not None

        def weight(cube: Cube) -> float:
            return float(table[range(54), [FACES.index(face) for face in cube.faces]].prod())

        others = [best.do((one, two)) for one in FACE_TURNS for two in FACE_TURNS if one.face != two.face]
        assert weight(best) > max(map(weight, others))
        heaviest = Completions(np.log(by_hold(said, np.maximum(table, 1e-300))), best=True).total
        assert np.log(weight(best)) == pytest.approx(heaviest)


class TestCheck:
    def test_a_check_is_of_stickers_that_were_not_said(self) -> None:
        upper = KnownStickers.of(Cube(), [place for place in STICKERS if place[0] != "D"])
        reading = upper.without(["L6", "L7", "L8"])
        assert solution(reading) == Cube()
        row = check_row(reading)
        assert row is not None
        held = reading.after(row.rotation)
        assert not set(row.places) <= set(held.read)

    def test_no_check_before_the_cube_is_known_nor_when_all_is_confirmed(self) -> None:
        assert check_row(KnownStickers.of(Cube())) is None
        reading = KnownStickers.of(Cube(), STICKERS)
        assert check_row(reading, likelihoods(reading, confirmed=STICKERS)) is None
