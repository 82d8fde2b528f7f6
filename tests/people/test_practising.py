"""What is recorded of somebody's practice is what their own cube shows."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from coach.learning.exercise import Exercise, Item
from coach.method import default_method
from coach.records.store import Store
from tests.people import heart, words
from tests.people.cube import Cube
from tests.people.holding import hold
from tests.people.practising import Practising, Ways
from tests.people.starts import start
from tests.people.tries import Count, Try, instead, reached, upright

WELL = Ways(slips=0, hints=0, gives_up=0, doubts=0, careless=0, misheard=0)
BADLY = Ways(slips=0.4, notices=0.2, doubts=0, misheard=0)


def practised(home: Path, random: Random) -> None:
    """Some practice of the last layer, a week ago, so that each level of help comes up."""
    store, method = Store(home / "turncaller" / "records.sqlite"), default_method().name
    for step, case in heart.SEQUENCES:
        for number in range(random.randrange(5) if step.startswith("top") else 0):
            when = datetime.now() - timedelta(days=9 - number)
            store.add("Robin", Exercise(Item(step, case, "do", method), when, 4 - number, "unaided", "practice"))
    store.close()


def held(command: str, seed: int, ways: Ways, home: Path) -> Practising:
    """Somebody after a lesson or some practice."""
    random = Random(f"{command} {seed}")
    cube = start("top-cross", random) if command == "lesson" else Cube()
    person = Practising(cube, words.USUAL, random, "top-cross", ways)
    practised(home, random)
    chosen = ["--from", "top-cross"] if command == "lesson" else ["--minutes", "10"]
    lesson = hold(person, ["--learner", "Robin", *chosen], home, command=command)
    assert not lesson.error
    assert lesson.end["outcome"] == "done"
    return person


class TestRecords:
    @pytest.mark.parametrize("command", ["lesson", "practise"])
    def test_who_knows_it_all_does_it_unaided(self, command: str, tmp_path: Path) -> None:
        person = held(command, 1, WELL, tmp_path)
        done = [line for line, _ in person.recorded if line["kind"] == "do"]
        assert len(done) == sum(each.kind == "do" for each in person.tries) > 2
        assert {line["result"] for line in done} == {"unaided"}

    @pytest.mark.parametrize("command", ["lesson", "practise"])
    def test_no_success_becomes_a_failure(self, command: str, tmp_path: Path) -> None:
        count = held(command, 1, BADLY, tmp_path).count()
        assert count.tries > 2
        assert (count.failed_though_right, count.unknown) == ([], [])


class TestTries:
    def tried(self, right: bool, told: bool = False) -> Try:
        return Try("do", "top-cross", "line", 1, Cube(), right=right, told=told)

    def test_what_a_mistake_is(self) -> None:
        assert self.tried(right=True).mistaken("failed") == "failed"
        assert self.tried(right=False).mistaken("unaided") == "success"
        assert self.tried(right=False).mistaken("helped") == "success"

    def test_and_what_is_none(self) -> None:
        assert not any(self.tried(right=True).mistaken(result) for result in ("unaided", "helped", "unclear"))
        assert not any(self.tried(right=False).mistaken(result) for result in ("failed", "unclear"))
        assert not self.tried(right=False, told=True).mistaken("helped")

    def test_a_lesson_looks_only_at_what_was_placed(self) -> None:
        turned = Cube().do("U y")
        assert reached(turned, Cube(), "middle-edges", lesson=True)
        assert not reached(turned, Cube(), "middle-edges", lesson=False)
        assert not reached(Cube().do("F"), Cube(), "middle-edges", lesson=True)
        assert reached(Cube().do("R U R'"), Cube().do("R U R' U"), "top-cross", lesson=True)

    @pytest.mark.parametrize("slip", ["left-out", "other-way", "doubled", "other-face", "top-extra"])
    @pytest.mark.parametrize("turn", ["R", "U'", "F2"])
    def test_a_slip_is_never_the_turn(self, slip: str, turn: str) -> None:
        for number in range(5):
            assert not reached(Cube().do(instead(slip, turn, Random(number))), Cube().do(turn), "", lesson=False)

    def test_counts_add_up(self) -> None:
        one = Count()
        one.add(self.tried(right=True), "failed")
        both = one + one
        assert (both.tries, len(both.failed_though_right), both.wrong) == (2, 2, 0)


class TestHeart:
    def test_the_hold_for_a_case_is_found_on_the_cube(self) -> None:
        line = Cube().do("F U R U' R' F' F U R U' R' F'")  # the corner shape
        (way,) = heart.ways(line, "top-cross", "corner")
        after = line.do(way).do(" ".join(heart.SEQUENCES["top-cross", "corner"]))
        assert [after[spot] for spot in ("U1", "U3", "U5", "U7")] == ["U"] * 4
        assert heart.ways(Cube(), "top-cross", "line") == []

    def test_a_cube_is_the_same_in_every_hold(self) -> None:
        assert upright(Cube().do("R U x y'")) == upright(Cube().do("R U"))
