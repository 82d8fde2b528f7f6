"""The commands as a user runs them, each in a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from coach.dialogue import Say
from coach.learner import Learner, random_cube

COMMANDS = ("lesson", "hear", "understand", "soundcheck", "demo", "method")


def turncaller(*args: str, said: bytes = b"", home: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command; the choices of whoever runs the tests are left alone."""
    done = subprocess.run(
        [sys.executable, "-m", "coach", *args], input=said, capture_output=True, timeout=120,
        env={**os.environ, "XDG_CONFIG_HOME": str(home or "/nonexistent")},
    )  # fmt: skip
    result = subprocess.CompletedProcess(args, done.returncode, done.stdout.decode(), done.stderr.decode())
    assert "Traceback" not in result.stderr + result.stdout
    return result


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_every_command_explains_itself(command: str) -> None:
    result = turncaller(*([command] if command else []), "--help")
    assert result.returncode == 0
    assert "usage: turncaller" in result.stdout


def test_the_method_is_proven_and_shown() -> None:
    result = turncaller("method")
    assert result.returncode == 0
    assert "all 62208 states end solved" in result.stdout


def test_a_wrong_method_is_refused_with_what_breaks_it(tmp_path: Path) -> None:
    from coach.method.loading import DEFAULT_FILE

    file = tmp_path / "own.toml"
    file.write_text(DEFAULT_FILE.read_text("utf-8").replace("F R U R' U' F'", "F R U R' U F'"), "utf-8")
    result = turncaller("method", str(file))
    assert result.returncode == 1
    assert "case 'line'" in result.stderr
    assert turncaller("method", str(tmp_path / "none.toml")).returncode == 1


def test_understanding_is_a_json_line_for_each_line() -> None:
    result = turncaller("understand", "--asked", "look-top-edges", said=b"a line from left to right\n\nblah\n")
    lines = [json.loads(line) for line in result.stdout.splitlines()]
    assert len(lines) == 3
    assert {place: lines[0]["look"][place] for place in ("U1", "U3", "U5", "U7")} == {
        "U1": False, "U3": True, "U5": True, "U7": False,
    }  # fmt: skip
    assert lines[1] is None


def test_a_line_however_long_has_one_meaning() -> None:
    said = b"a" * 10_000 + b"\nyes\n" + b"b" * 25_000 + b"\nno"
    result = turncaller("understand", "--asked", "claim", said=said)
    meanings = [json.loads(line) for line in result.stdout.splitlines()]
    assert meanings == [None, {"command": "yes"}, None, {"command": "no"}]


BAD_INPUT = {
    "nothing": b"",
    "a very long line": b"left " * 2000 + b"\n",
    "binary": bytes(range(256)) * 20 + b"\n",
    "no newline at the end": b"back and left",
    "only silence": b"\n" * 300,
}


@pytest.mark.parametrize("name", BAD_INPUT)
def test_bad_input_ends_the_typed_lesson_in_good_order(name: str, tmp_path: Path) -> None:
    log = tmp_path / "log.jsonl"
    result = turncaller("lesson", "--typed", "--from", "top-cross", "--log", str(log), said=BAD_INPUT[name])
    assert result.returncode == 0
    last = json.loads(log.read_text("utf-8").splitlines()[-1])
    assert (last["event"], last["outcome"]) == ("end", "stopped")


def test_a_foreign_program_leads_itself_through_a_lesson_by_the_log(tmp_path: Path) -> None:
    """It reads the log through a FIFO and answers on stdin, as a program of another make would."""
    fifo = tmp_path / "log"
    os.mkfifo(fifo)
    command = [sys.executable, "-m", "coach", "lesson", "--typed", "--from", "top-cross", "--log", str(fifo)]
    learner = Learner(random_cube("top-cross", Random(11)), Random(11))
    environment = {**os.environ, "XDG_CONFIG_HOME": str(tmp_path)}
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, env=environment) as process:
        assert process.stdin
        with fifo.open(encoding="utf-8") as log:
            for line in log:
                event = json.loads(line)
                if event["event"] == "say":
                    learner.hear(Say(event["text"], event["act"], event))
                elif event["event"] == "listen":
                    process.stdin.write(f"{learner.answer()}\n".encode())
                    process.stdin.flush()
    assert process.returncode == 0
    assert event["outcome"] == "done"
    assert learner.cube.solved


def test_a_reader_of_the_output_that_goes_away_is_no_disaster() -> None:
    command = f"{sys.executable} -m coach lesson --typed --from top-cross | head -n 1"
    said = b"\n" * 50
    done = subprocess.run(["bash", "-c", command], input=said, capture_output=True, timeout=60)
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("command", ["lesson --typed --from top-cross", "method", "understand --asked claim"])
@pytest.mark.parametrize("how", [">/dev/full", "<&-"])
def test_output_without_room_and_no_input_at_all_are_no_disaster(command: str, how: str, tmp_path: Path) -> None:
    log = tmp_path / "log.jsonl"
    rest = f"--log {log}" if command.startswith("lesson") else ""
    said = b"yes\n" * 3
    line = f"exec {sys.executable} -m coach {command} {rest} {how}"
    done = subprocess.run(["bash", "-c", line], input=said, capture_output=True, timeout=60)
    assert b"Traceback" not in done.stderr
    if how == ">/dev/full":
        assert b"No space left" in done.stderr
    assert done.returncode == int(how == ">/dev/full" and not rest)
    if rest:
        last = json.loads(log.read_text("utf-8").splitlines()[-1])
        assert (last["event"], last["outcome"]) == ("end", "stopped")


def test_choices_are_remembered_only_when_asked(tmp_path: Path) -> None:
    options = ("lesson", "--typed", "--from", "top-cross", "--up", "blue", "--front", "white")
    first = turncaller(*options, home=tmp_path)
    assert "blue on top and white facing you" in first.stdout
    assert not list(tmp_path.rglob("profile.json"))
    turncaller(*options, "--remember", home=tmp_path)
    again = turncaller("lesson", "--typed", "--from", "top-cross", home=tmp_path)
    assert "blue on top and white facing you" in again.stdout


@pytest.mark.parametrize(
    ("text", "told"),
    [("{", "cannot be read"), ('{"pause": "long"}', "pause"), ('{"colours": ["red"]}', "six different colours")],
)
def test_a_broken_profile_is_told(tmp_path: Path, text: str, told: str) -> None:
    folder = tmp_path / "turncaller"
    folder.mkdir()
    (folder / "profile.json").write_text(text, "utf-8")
    result = turncaller("lesson", "--typed", home=tmp_path)
    assert result.returncode == 1
    assert told in result.stderr


@pytest.mark.parametrize("hold", [("blue", "green"), ("pink", "green"), ("blue", "blue")])
def test_a_hold_that_cannot_be_is_refused(hold: tuple[str, str]) -> None:
    result = turncaller("lesson", "--typed", "--up", hold[0], "--front", hold[1])
    assert result.returncode == 1
    assert result.stderr.strip()


def test_without_sound_a_lesson_goes_on_typed() -> None:
    result = turncaller("lesson", "--from", "top-cross", said=b"stop\n")
    if "goes on typed" not in result.stderr:
        pytest.skip("this machine has a sound card")
    assert result.returncode == 0
    assert "We stop here" in result.stdout


def test_recordings_that_cannot_be_read_are_told_and_the_others_heard(tmp_path: Path) -> None:
    (tmp_path / "not.wav").write_bytes(b"RIFF nonsense")
    result = turncaller("hear", "--asked", "ready", str(tmp_path / "not.wav"), str(tmp_path / "none.wav"))
    assert result.returncode == 1
    assert "not.wav" in result.stderr
    assert "none.wav" in result.stderr


def test_the_demo_is_heard_and_written_down(tmp_path: Path) -> None:
    out = tmp_path / "demo.wav"
    result = turncaller("demo", "--from", "top-face", "--seed", "2", "--out", str(out))
    assert result.returncode in (0, 1), result.stderr
    assert out.stat().st_size > 100_000
    transcript = out.with_suffix(".txt").read_text("utf-8")
    assert transcript.startswith("Coach: ")
    assert "Learner: " in transcript
