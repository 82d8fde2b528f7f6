"""`turncaller practise` typed, with somebody who knows only the session log, their cube and the sequences on paper."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.people.cube import HOLDS, Cube

Line = dict[str, Any]

COLOURS = {"U": "yellow", "R": "orange", "F": "green", "D": "white", "L": "red", "B": "blue"}
ON_PAPER = {
    "dot": "F U R U' R' F'", "corner": "F U R U' R' F'", "line": "F R U R' U' F'", "none-up": "R U R' U R U2 R'",
    "one-up": "R U R' U R U2 R'", "two-up": "R U R' U R U2 R'",
}  # fmt: skip
"""The sequences as the person has them on paper, by case."""
HELD = {
    "dot": "", "corner": "U1 U3", "line": "U3 U5", "none-up": "L2", "one-up": "U6", "two-up": "F0",
}  # fmt: skip
"""The places that are yellow once the cube is held for the case."""
SAID = {"R": "right up", "R'": "right down", "U": "top left", "U'": "top right", "F": "front clockwise",
        "F'": "front anticlockwise", "U2": "top left, twice"}  # fmt: skip
TOLD = {"dot": "a dot", "corner": "a corner, back and left", "line": "a line, from left to right"}


class Learner:
    """Does what is called, knows some sequences, and answers truly."""

    def __init__(self) -> None:
        self.cube = Cube()
        self.asked: Line = {}
        self.called: list[str] = []

    def hear(self, line: Line) -> None:
        match line.get("act"):
            case "turn":
                self.called = [line["turn"]] if line["n"] == 1 else [*self.called, line["turn"]]
                self.asked = {}
                self.cube.do(line["turn"])
            case "rotate":
                self.cube.do(line["rotation"])
            case "ask":
                self.asked = line

    def answer(self) -> str:
        match self.asked.get("asks"):
            case "do":
                self.do(self.asked)
                return "done"
            case "recite":
                return ", ".join(SAID[turn] for turn in ON_PAPER[self.asked["case"]].split())
            case "hold":
                return TOLD[self.asked["case"]]
            case "claim":
                shown = (COLOURS[self.cube[f"{face}{place}"]] == word for face, place, word in self.asked["claim"])
                return "yes" if all(shown) else "no"
            case "row":
                first = 3 * self.asked["row"] - 3
                face = self.asked["face"]
                return ", ".join(COLOURS[self.cube[f"{face}{place}"]] for place in range(first, first + 3))
            case "other":
                return "no" if self.asked.get("about") == "solve-last" else "yes"
        return ""

    def do(self, asked: Line) -> None:
        """Hold the cube for the case, unless that was called, and do what is left of the sequence."""
        turns = ON_PAPER[asked["case"]].split()
        if asked["help"] == 2:
            turns = turns[1:]
        else:
            held = [hold for hold in HOLDS if self.fits(self.cube.copy().do(hold), asked["case"])]
            self.cube.do(held[0])
        self.cube.do(" ".join(turns))

    def fits(self, cube: Cube, case: str) -> bool:
        return cube["U4"] == "U" and all(cube[place] == "U" for place in HELD[case].split())


def session(tmp_path: Path, learner: Learner, *arguments: str) -> Iterator[Line]:
    """A session, line by line of its log; whoever reads them hears them first."""
    fifo = tmp_path / "log"
    os.mkfifo(fifo)
    command = [sys.executable, "-m", "coach", "practise", "--typed", "--log", str(fifo), *arguments]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, bufsize=1,
        env={**os.environ, **{f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("DATA", "CONFIG", "STATE")}},
    ) as coach:  # fmt: skip
        assert coach.stdin and coach.stderr
        with fifo.open(encoding="utf-8") as log:
            for text in log:
                line = json.loads(text)
                learner.hear(line)
                yield line
                if line["event"] == "listen":
                    print(learner.answer(), file=coach.stdin, flush=True)
        coach.stdin.close()
        assert not coach.stderr.read() and coach.wait() == 0


def run(tmp_path: Path, *arguments: str, name: str) -> str:
    env = {**os.environ, **{f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("DATA", "CONFIG", "STATE")}}
    command = [sys.executable, "-m", "coach", name, *arguments]
    return subprocess.run(command, env=env, capture_output=True, text=True, check=True, timeout=60).stdout


@pytest.fixture(scope="module")
def lines(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[Line], str]:
    """The log of a session of a learner of whom records are kept, and what `progress` says of them then."""
    path = tmp_path_factory.mktemp("practise")
    log = [*session(path, Learner(), "--learner", "Robin", "--minutes", "20")]
    return log, run(path, "--learner", "robin", name="progress")


def test_a_learner_with_the_sequences_on_paper_succeeds_all_along(lines: tuple[list[Line], str]) -> None:
    log, _ = lines
    exercises = [line for line in log if line["event"] == "exercise"]
    assert len(exercises) >= 8
    assert {line["result"] for line in exercises} == {"unaided"}
    done = [line for line in exercises if line["kind"] == "do"]
    helps = [line["help"] for line in done if line["case"] == done[0]["case"]]
    assert len(helps) > 1 and helps == [4, 3, 2, 1, 0, 0, 0][: len(helps)]
    assert log[-1]["event"] == "end" and log[-1]["outcome"] == "done"


def test_the_log_names_what_is_asked(lines: tuple[list[Line], str]) -> None:
    log, _ = lines
    asked = [line for line in log if line.get("asks") in ("do", "recite", "hold")]
    assert asked and all({"step", "case", "help"} <= line.keys() for line in asked)
    assert log[0]["event"] == "session" and log[0]["learner"] == "Robin"


def test_what_was_practised_is_kept(lines: tuple[list[Line], str]) -> None:
    log, told = lines
    exercises = [line for line in log if line["event"] == "exercise"]
    assert f"{len(exercises)} exercises on 1 day" in told
    assert "top cross" in told


def test_the_end_of_input_ends_it_in_good_order(tmp_path: Path) -> None:
    learner = Learner()
    log = tmp_path / "log.jsonl"
    env = {**os.environ, **{f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("DATA", "CONFIG", "STATE")}}
    command = [sys.executable, "-m", "coach", "practise", "--typed", "--log", str(log)]
    done = subprocess.run(command, env=env, input="yes\n\n\n", capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0 and not done.stderr
    written = [json.loads(line) for line in log.read_text("utf-8").splitlines()]
    for line in written:
        learner.hear(line)
    assert written[-1]["event"] == "end" and written[-1]["outcome"] == "stopped"
    assert any(line.get("act") == "bye" for line in written)


@pytest.mark.parametrize("minutes", ("0", "121", "soon"))
def test_a_time_that_cannot_be_is_told(minutes: str) -> None:
    command = [sys.executable, "-m", "coach", "practise", "--minutes", minutes]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 2 and "minutes" in done.stderr
