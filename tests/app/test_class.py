"""`turncaller class` as it is used, typed: a class that knows the log and its own cubes answers line by line."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import Any

import pytest

from coach.cube import PLACE_NUMBER, Cube
from coach.language.meaning import USUAL_COLOURS
from coach.method import TURNS_ABOUT_UP, default_method
from coach.method.last_layer import all_states

CASES = {case.id: case for step in default_method().top_steps for case in step.cases}
Line = dict[str, Any]


class Cubes:
    """The cubes of a class, each in some hold, that do what the log says."""

    def __init__(self, cubes: Sequence[Cube], seed: int) -> None:
        self.random = Random(seed)
        self.cubes = [cube.do(self.random.choice(TURNS_ABOUT_UP)) for cube in cubes]
        self._turns = self._turned = [False] * len(cubes)

    def has(self, cube: Cube, seen: Any) -> bool:
        faces = cube.faces
        if isinstance(seen, str):
            return CASES[seen].fits(faces)
        return all(USUAL_COLOURS[faces[PLACE_NUMBER[f"{face}{place}"]]] == colour for face, place, colour in seen)

    def hear(self, line: Line) -> None:
        if line.get("act") == "run":
            self._turns = [any(self.has(cube, seen) for seen in line["cases"]) for cube in self.cubes]
            self._turned = [False] * len(self.cubes)
        for number in range(len(self.cubes)):
            if self._turns[number]:
                self._obey(line, number)

    def _obey(self, line: Line, number: int) -> None:
        cube = self.cubes[number]
        if "if" not in line:
            self.cubes[number] = cube.do(line.get("turn") or line.get("rotation") or "")
        elif not self._turned[number] and self.has(cube, line["if"]):
            self.cubes[number], self._turned[number] = cube.do(line["rotation"]), True

    def answer(self, asked: Line) -> str:
        if asked["asks"] == "hands" and asked["about"] == "size":
            return f"we are {len(self.cubes)}"
        if asked["asks"] == "hands":
            up = sum(self.has(cube, asked["about"]) for cube in self.cubes)
            self.cubes = [cube.do(self.random.choice(TURNS_ABOUT_UP)) for cube in self.cubes]
            return "everybody" if up == len(self.cubes) else "nobody" if not up else f"{up} hands"
        return "ready" if asked["asks"] == "ready" else ""


def lead(tmp_path: Path, cubes: Cubes, *options: str) -> tuple[list[Line], list[str]]:
    """Hold a class to its end; the result is the log and what was printed."""
    log, printed = tmp_path / "class.fifo", tmp_path / "printed.txt"
    os.mkfifo(log)
    command = [sys.executable, "-m", "coach", "class", "--typed", "--log", str(log), *options]
    lines: list[Line] = []
    with (
        printed.open("w") as out,
        subprocess.Popen(command, stdin=subprocess.PIPE, stdout=out, text=True, bufsize=1) as coach,
        log.open() as told,
    ):
        assert coach.stdin
        asked: Line = {"asks": ""}
        for text in told:
            line = json.loads(text)
            lines.append(line)
            cubes.hear(line)
            if line["event"] == "say" and line["act"] != "tell":
                asked = line if line["act"] == "ask" else {"asks": ""}
            if line["event"] == "listen":
                coach.stdin.write(cubes.answer(asked) + "\n")
                asked = {"asks": ""}
        coach.stdin.close()
    assert coach.returncode == 0
    return lines, printed.read_text().splitlines()


def test_a_class_solves_its_cubes(tmp_path: Path) -> None:
    cubes = Cubes(Random(3).sample(tuple(all_states()), 10), 3)
    lines, printed = lead(tmp_path, cubes)
    assert all(cube.solved for cube in cubes.cubes)
    assert lines[-1]["event"] == "end" and lines[-1]["outcome"] == "done"
    silent = [line for line in lines if line["event"] == "say" and not line["text"]]
    assert silent and all(line["act"] == "rotate" and line["if"] for line in silent)
    assert printed == [line["text"] for line in lines if line["event"] == "say" and line["text"]]


@pytest.mark.parametrize("options", [("--scramble",), ("--scramble", "--hand", "left", "--style", "letters")])
def test_a_class_scrambles_and_solves(tmp_path: Path, options: tuple[str, ...]) -> None:
    cubes = Cubes([Cube()] * 6, 1)
    lines, _ = lead(tmp_path, cubes, *options)
    assert all(cube.solved for cube in cubes.cubes)
    asked = {line["asks"] for line in lines if line["event"] == "say" and line["act"] == "ask"}
    assert asked == {"hands", "ready"}


def test_a_class_may_begin_later(tmp_path: Path) -> None:
    ordered = [cube for cube in all_states() if default_method().top_steps[2].ready(cube.faces)]
    cubes = Cubes(Random(1).sample(ordered, 4), 1)
    lines, _ = lead(tmp_path, cubes, "--from", "top-corners")
    assert all(cube.solved for cube in cubes.cubes)
    assert lines[0]["step"] == "top-corners"
