"""A class of another make is led to solved cubes, or those who are not there are told so."""

from __future__ import annotations

from random import Random

import pytest

from tests.people.class_lesson import ClassHeld, class_of, lead
from tests.people.class_of import Class, Pupil, Ways, said, worded
from tests.people.cube import Cube
from tests.people.holding import hold_outside
from tests.people.words import ARRANGEMENTS, USUAL, option

FAULTLESS = Ways(miscounted=0.0)


def pupil(turns: str, ways: Ways = FAULTLESS) -> Pupil:
    return Pupil(Cube().do(turns), USUAL, Random(1), ways)


class LeavesOut(Pupil):
    """Leaves out one turn, by its number."""

    def __init__(self, pupil: Pupil, turn: int) -> None:
        super().__init__(pupil.cube, pupil.words, pupil.random, pupil.ways)
        self.left = turn

    def _turn(self, turn: str) -> None:
        self.left -= 1
        if self.left == 0:
            self._slip(f"nothing for {turn}")
        else:
            super()._turn(turn)


def held(seed: int, ways: Ways = FAULTLESS, number: int = 25, scrambled: bool = False) -> ClassHeld:
    """A lesson with a class; it ends in good order, and nobody is left with a cube of which nobody knows."""
    lesson = lead(class_of(number, seed, ways, scrambled), seed if scrambled else None)
    assert not lesson.loop
    assert lesson.end["outcome"] == "done"
    assert not lesson.room.lost
    return lesson


class TestPupils:
    def test_who_does_not_see_it_rests_up_to_the_next_run(self) -> None:
        somebody = pupil("")
        somebody.hear({"act": "run", "cases": ["dot", [["U", 4, "white"]]], "step": "top-cross"})
        somebody.hear({"act": "turn", "turn": "R"})
        assert somebody.cube.solved
        somebody.hear({"act": "run", "cases": ["dot", [["U", 4, "yellow"]]], "step": "top-cross"})
        somebody.hear({"act": "turn", "turn": "R"})
        assert not somebody.cube.solved

    def test_the_first_rotation_that_is_true_is_the_only_one(self) -> None:
        somebody = pupil("")
        somebody.hear({"act": "run", "cases": ["cross"], "step": "top-cross"})
        for _ in range(2):
            somebody.hear({"act": "rotate", "rotation": "y", "if": [["U", 4, "yellow"]]})
        assert somebody.cube.stickers == Cube().do("y").stickers

    @pytest.mark.parametrize(
        ("turns", "case"),
        [
            ("F R U R' U' F'", "corner"), ("F U R U' R' F'", "line"), ("R U R' U R U2 R'", "one-up"),
            ("", "cross"), ("", "all-sides"), ("U", "all-pairs"),
        ],
    )  # fmt: skip
    def test_they_know_a_case_however_they_hold_it(self, turns: str, case: str) -> None:
        seen = [pupil(f"{turns} {way}".strip()).sees(case) for way in ("", "y", "y2", "y'")]
        assert seen == [seen[0]] * 4
        assert case in (known for known in ("corner", "line", "one-up", "two-up", "cross", "all-sides", "all-pairs")
                        if pupil(turns).sees(known))  # fmt: skip

    def test_a_raised_hand_loses_the_hold(self) -> None:
        somebody, fronts = pupil(""), set()
        for _ in range(40):
            somebody.hear({"act": "ask", "asks": "hands", "about": "cross"})
            fronts.add(somebody.cube["F4"])
        assert fronts == set("FRBL")

    def test_a_count_in_words(self) -> None:
        words = [worded(number) for number in (0, 7, 13, 20, 24)]
        assert words == ["nobody", "seven", "thirteen", "twenty", "twenty four"]
        told = {said(23, 25, Random(seed)) for seed in range(60)}
        assert {"twenty three", "all but two", "23"} <= told


class TestAClass:
    @pytest.mark.parametrize("seed", range(2))
    def test_who_turns_rightly_is_led_to_a_solved_cube(self, seed: int) -> None:
        lesson = held(seed)
        assert not lesson.room.sent
        assert lesson.runs_to_one_colour <= 5
        assert lesson.counts_to_one_colour <= 12

    @pytest.mark.parametrize("seed", range(100, 102))
    def test_nobody_is_lost_without_a_word(self, seed: int) -> None:
        lesson = held(seed, Ways(slips=0.01, miscounted=0.0))
        assert all(pupil.slips for pupil in lesson.room.sent)

    def test_nearly_all_who_hold_the_cube_another_way_stay_with_the_class(self) -> None:
        room = held(500, Ways(misheld=0.02, miscounted=0.0)).room
        assert len(room.sent) <= 2 < sum(bool(pupil.slips) for pupil in room.pupils)

    def test_a_wrong_count_sends_nobody_off(self) -> None:
        assert not held(210, Ways(miscounted=0.05)).room.sent

    def test_who_leaves_is_not_missed(self) -> None:
        lesson = held(400, Ways(leave=2, miscounted=0.0))
        assert len(lesson.room.pupils) < 25
        assert not lesson.room.sent

    def test_a_scramble_makes_all_cubes_alike(self) -> None:
        assert not held(300, scrambled=True, number=8).room.sent

    @pytest.mark.parametrize("turn", [30, 45])
    def test_who_leaves_out_a_turn_of_a_lower_step_is_helped(self, turn: int) -> None:
        room = class_of(6, 300, FAULTLESS, scrambled=True)
        room.pupils[2] = LeavesOut(room.pupils[2], turn)
        lesson = lead(room, 300)
        assert room.pupils[2].slipped_in in ("bottom-cross", "bottom-corners")
        assert (lesson.end["outcome"], room.sent, room.lost) == ("done", [], [])

    def test_a_class_is_led_by_the_command_line(self) -> None:
        words = ARRANGEMENTS["mirrored"]
        cubes = [Cube().do(turns) for turns in ("F R U R' U' F'", "R U R' U R U2 R'")]
        room = Class(cubes, words, Random(3), FAULTLESS)
        lesson = hold_outside(room, ["--colours", option(words)], command="class")
        assert (lesson.error, lesson.end["outcome"], lesson.solved) == ("", "done", True)
