"""Lessons hold with people who behave as people do, whatever they call the faces of their cube."""

from __future__ import annotations

from random import Random
from statistics import mean

import pytest

from coach.cube import FACES, parse
from coach.cube import Cube as CoachCube
from tests.people import words
from tests.people.cube import HOLDS, Cube
from tests.people.holding import RETURNS, Held, arguments, hold, hold_outside, hold_two_days, returns
from tests.people.kinds import KINDS, InPain, Newcomer, Stopping
from tests.people.person import Person
from tests.people.starts import STEPS, start

MOST_QUESTIONS = 27
MOST_QUESTIONS_OF_TWO_DAYS = 50
MOST_COLOURS_READ = 38
ANY_WORDS = {**words.ARRANGEMENTS, "marks": dict(zip("FBRLUD", words.MARKS, strict=True))}


def person(kind: str, seed: int, step: str = STEPS[0], called: str = "usual") -> Person:
    """Somebody with a cube that is at the beginning of `step`."""
    random = Random(f"{kind} {seed} {step}")
    return KINDS[kind](start(step, random), ANY_WORDS[called], random, step)


def held(kind: str, seed: int, step: str = STEPS[0], called: str = "usual", told: bool = True) -> Held:
    """A lesson with somebody; it ends in good order, and says nothing beside the lesson."""
    somebody = person(kind, seed, step, called)
    lesson = hold(somebody, arguments(somebody, told))
    warned = "may be understood more surely"  # of marks that are words of the coach's own
    assert not [line for line in lesson.error.splitlines() if warned not in line]
    assert not lesson.loop
    assert lesson.end, "every lesson ends with its line in the log"
    return lesson


class TestTheirCube:
    @pytest.mark.parametrize("turn", ["U", "R", "F", "D", "L", "B", "Rw", "f", "M", "E", "S", "x", "y", "z"])
    def test_four_quarter_turns_change_nothing(self, turn: str) -> None:
        assert Cube().do(f"{turn} {turn}2 {turn}").stickers == Cube().stickers
        assert Cube().do(f"{turn} {turn}'").stickers == Cube().stickers

    def test_the_top_goes_to_the_left_and_the_whole_cube_shows_its_right(self) -> None:
        assert Cube().do("U").row("L", 1) == ["F"] * 3
        assert Cube().do("y").face("F") == ["R"] * 9
        assert Cube().do("x").face("U") == ["F"] * 9

    def test_it_turns_as_the_coach_s_does(self) -> None:
        turns = "R U' F2 x L' D y2 B z' R' U2 F"
        cube, coach = Cube().do(turns), CoachCube().do(parse(turns))
        assert "".join("".join(cube.face(face)) for face in FACES) == coach.faces

    def test_there_are_24_holds(self) -> None:
        assert len({"".join(Cube().do(hold).stickers) for hold in HOLDS}) == 24

    def test_a_piece_is_found_with_its_sides(self) -> None:
        assert Cube().do("F").piece("UF") == {"U": "R", "F": "F"}
        assert Cube().do("R").piece("DFR") == {"D": "F", "F": "U", "R": "R"}


class TestFaultless:
    @pytest.mark.parametrize("called", ANY_WORDS)
    @pytest.mark.parametrize("seed", range(3))
    def test_is_led_to_the_end_without_a_false_alarm(self, called: str, seed: int) -> None:
        lesson = held("colours", seed, called=called, told=seed != 1)
        assert (lesson.solved, lesson.alarms) == (True, [])
        assert lesson.questions <= MOST_QUESTIONS

    @pytest.mark.parametrize("step", STEPS[1:])
    def test_from_every_step(self, step: str) -> None:
        lesson = held("marks", 1, step, "marks")
        assert (lesson.solved, lesson.alarms) == (True, [])

    def test_a_lesson_is_the_same_held_by_another_process(self) -> None:
        one, other = person("colours", 5, "top-face", "mirrored"), person("colours", 5, "top-face", "mirrored")
        inside, outside = hold(one, arguments(one)), hold_outside(other, arguments(other))

        def told(lesson: Held) -> list[dict[str, object]]:
            return [{key: line[key] for key in line if key not in ("t", "date")} for line in lesson.log]

        assert told(inside) == told(outside)
        assert inside.said == outside.said
        assert (inside.solved, outside.solved, inside.error, outside.error) == (True, True, "", "")


class TestOthers:
    @pytest.mark.parametrize("seed", range(4))
    @pytest.mark.parametrize("called", ["usual", "mirrored", "other words", "marks"])
    def test_the_words_may_be_asked_for(self, called: str, seed: int) -> None:
        lesson = held("naming", seed, STEPS[1], called)
        assert (lesson.solved, lesson.alarms) == (True, [])

    @pytest.mark.parametrize("step", STEPS)
    def test_the_first_question_takes_what_people_say(self, step: str) -> None:
        for seed in range(3):
            lesson = held("newcomer", seed, step)
            assert isinstance(lesson.person, Newcomer)
            assert (lesson.person.told, lesson.solved, lesson.alarms) == (1, True, [])

    @pytest.mark.parametrize("seed", range(6))
    def test_the_literal_is_never_led_astray(self, seed: int) -> None:
        lesson = held("literal", seed, STEPS[3])
        assert (lesson.solved, lesson.alarms) == (True, [])

    @pytest.mark.parametrize("seed", range(4))
    def test_the_forgetful_gets_there(self, seed: int) -> None:
        assert held("forgetful", seed, called="marks" if seed % 2 else "usual").solved

    @pytest.mark.parametrize("seed", range(4))
    def test_doubt_is_no_answer(self, seed: int) -> None:
        lesson = held("doubtful", seed)
        assert lesson.doubts_taken == []
        assert (lesson.solved, lesson.alarms) == (True, [])

    @pytest.mark.parametrize("called", ["usual", "mirrored", "other words"])
    @pytest.mark.parametrize("seed", range(3))
    def test_no_answer_hangs_on_colours_that_cannot_be_told_apart(self, called: str, seed: int) -> None:
        lesson = held("confusing", seed, STEPS[3 * (seed % 2)], called)
        assert (lesson.solved, lesson.alarms) == (True, [])

    @pytest.mark.parametrize("seed", range(6))
    def test_nothing_is_called_in_pain(self, seed: int) -> None:
        lesson = held("pain", seed)
        assert isinstance(lesson.person, InPain)
        assert lesson.person.turned_in_pain == 0
        assert lesson.alarms == []
        assert lesson.solved or (lesson.person.stops and lesson.end["outcome"] == "stopped")

    @pytest.mark.parametrize("way", RETURNS)
    @pytest.mark.parametrize("seed", range(3))
    def test_who_stops_and_comes_back_is_not_blamed(self, way: str, seed: int) -> None:
        if way not in returns():
            pytest.skip("the command line has no such way yet")
        somebody = person("stopping", seed)
        assert isinstance(somebody, Stopping)
        first, second = hold_two_days(somebody, way)
        assert second, "nobody stopped"
        assert (first.end["outcome"], second.solved) == ("stopped", True)
        assert (first.alarms, second.alarms) == ([], [])
        assert first.questions + second.questions <= MOST_QUESTIONS_OF_TWO_DAYS

    def test_the_cube_is_read_once(self) -> None:
        lessons = [held("reader", seed, called=called) for seed in range(5) for called in ("usual", "marks")]
        assert [(lesson.solved, lesson.readings) for lesson in lessons] == [(True, 1)] * len(lessons)
        assert all(not lesson.alarms for lesson in lessons)
        assert mean(lesson.colours_read + lesson.colours_confirmed for lesson in lessons) <= MOST_COLOURS_READ

    @pytest.mark.parametrize("seed", range(6))
    def test_an_answer_that_comes_late_counts(self, seed: int) -> None:
        lesson = held("waiting", seed)
        assert (lesson.solved, lesson.alarms) == (True, [])

    @pytest.mark.parametrize("seed", range(14))
    def test_whatever_is_said_the_lesson_ends_in_good_order(self, seed: int) -> None:
        assert held("anything", seed, STEPS[seed % len(STEPS)]).end["outcome"] in ("done", "stopped", "unsolvable")
