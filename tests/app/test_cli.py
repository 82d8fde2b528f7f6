"""The command as another program meets it: arguments, exit codes, pipes, and a whole lesson over a FIFO."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from coach.cli import main
from coach.cube import PLACE_NAMES, Cube
from coach.method.last_layer import build
from tests.conftest import ROOT
from tests.dialogue.hands import COLOURS, CORNERS, EDGES, Hands

COMMAND = [sys.executable, "-m", "coach"]
TYPED = [*COMMAND, "lesson", "--typed"]
WHERE = {
    "U1": "back", "U3": "left", "U5": "right", "U7": "front",
    "U0": "back left", "U2": "back right", "U6": "front left", "U8": "front right",
    "U": "up", "D": "down", "F": "the front", "B": "the back", "R": "the right", "L": "the left",
}  # fmt: skip
SIDES = {"F": "front", "B": "back", "R": "right", "L": "left"}


@pytest.fixture(autouse=True)
def _own_choices(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or writes what the user keeps."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))


def run(arguments: Iterable[str], said: bytes = b"", **options: Any) -> subprocess.CompletedProcess[bytes]:
    done = subprocess.run([*COMMAND, *arguments], input=said, capture_output=True, timeout=60, check=False, **options)
    assert b"Traceback" not in done.stderr, done.stderr.decode()
    return done


def events(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


# A learner of another make


class Foreign:
    """Knows the session log and plain English, and has a cube in its hands."""

    def __init__(self, cube: Cube) -> None:
        self.hands = Hands(cube)
        self.asked: dict[str, Any] = {}

    def take(self, say: dict[str, Any]) -> None:
        self.hands.cube = self.hands.cube.do(str(say.get("turn", say.get("rotation", ""))))
        if say["act"] == "ask":
            self.asked = say
        elif say["act"] == "turn":
            self.asked = {}

    def answer(self) -> str:
        asks = self.asked.get("asks", "turn")
        if asks == "turn":
            return ""
        if asks == "claim":
            claim = self.asked["claim"]
            return "yes" if all(self.hands.colour(f"{f}{i}") == colour for f, i, colour in claim) else "no"
        if asks in ("look-top-edges", "look-top-corners"):
            places = EDGES if asks == "look-top-edges" else CORNERS
            return self._look([WHERE[place] for place in places if self.hands.shows(place)])
        if asks == "row":
            first = 3 * self.asked["row"] - 3
            return ", ".join(self.hands.colour(f"{self.asked['face']}{i}") for i in range(first, first + 3))
        return self._piece() if asks == "piece" else "ready" if asks == "ready" else "yes"

    def _look(self, names: list[str]) -> str:
        return "none of them" if not names else "all four" if len(names) == 4 else " and ".join(names)

    def _piece(self) -> str:
        faces = {colour: face for face, colour in COLOURS.items()}
        wanted = {faces[colour] for colour in self.asked["piece"]}
        home, (where, places) = next((h, at) for h, at in self.hands.cube.pieces.items() if set(h) == wanted)
        first = faces[self.asked["piece"][0]]
        facing = PLACE_NAMES[places[home.index(first)]][0]
        layer = {"U": "top", "D": "bottom"}.get(where[0], "middle")
        sides = " ".join(SIDES[face] for face in where if face in SIDES)
        return f"{layer} layer, {sides}, {self.asked['piece'][0]} faces {WHERE[facing]}"


def hold(tmp_path: Path, learner: Foreign, *arguments: str) -> tuple[int, list[dict[str, Any]]]:
    """A lesson driven over a FIFO; the exit code and what was logged."""
    fifo = tmp_path / "log"
    os.mkfifo(fifo)
    logged = []
    with (
        (tmp_path / "out").open("wb") as out,
        subprocess.Popen([*TYPED, "--log", str(fifo), *arguments], stdin=subprocess.PIPE, stdout=out) as process,
    ):
        assert process.stdin
        with fifo.open(encoding="utf-8") as log:
            for line in log:
                logged.append(json.loads(line))
                if logged[-1]["event"] == "say":
                    learner.take(logged[-1])
                elif logged[-1]["event"] == "listen":
                    process.stdin.write(f"{learner.answer()}\n".encode())
                    process.stdin.flush()
        code = process.wait(30)
    texts = [event["text"] for event in logged if event["event"] == "say"]
    assert (tmp_path / "out").read_text("utf-8").splitlines() == texts
    return code, logged


@pytest.mark.parametrize(
    ("step", "cube"),
    [
        ("top-cross", build(flips=(1, 1, 1, 1), twists=(1, 1, 2, 2))),
        ("top-face", build(twists=(1, 0, 0, 2), edges=(1, 0, 2, 3), corners=(0, 2, 1, 3))),
        ("bottom-cross", Cube().do("R U2 F' L D2 B U' R2 F D' L2 U B2 R' D F2")),
    ],
)
def test_a_learner_of_another_make_gets_its_cube_solved(tmp_path: Path, step: str, cube: Cube) -> None:
    learner = Foreign(cube)
    code, logged = hold(tmp_path, learner, "--from", step)
    assert code == 0
    assert logged[-1]["outcome"] == "done"
    assert learner.hands.cube.solved
    before = [event["act"] for event in logged if event["event"] == "say"]
    if step.startswith("top"):
        assert before[: before.index("turn")].count("ask") <= 3


def test_ctrl_c_ends_the_lesson_in_good_order(tmp_path: Path) -> None:
    log = tmp_path / "log"
    os.mkfifo(log)
    with subprocess.Popen(
        [*TYPED, "--from", "top-cross", "--log", str(log)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        seen = []
        with log.open(encoding="utf-8") as lines:
            for line in lines:
                seen.append(json.loads(line))
                if seen[-1]["event"] == "listen":
                    process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=30)
    assert [event["event"] for event in seen].count("listen") == 1
    assert (seen[-1]["event"], seen[-1]["outcome"]) == ("end", "stopped")
    assert "start from the top cross" in out.decode().splitlines()[-1]
    assert err == b""


# What comes in may be anything


def test_the_end_of_input_ends_the_lesson(tmp_path: Path) -> None:
    done = run(["lesson", "--typed", "--from", "top-face", "--log", str(tmp_path / "log")])
    assert done.returncode == 0
    assert "start from the top face" in done.stdout.decode().splitlines()[-1]
    last = events(tmp_path / "log")[-1]
    assert (last["event"], last["outcome"], last["step"]) == ("end", "stopped", "top-face")


def test_long_lines_and_binary_are_only_answers_not_understood(tmp_path: Path) -> None:
    said = b"b" * 10_000 + b"\n" + bytes(range(1, 10)) + bytes(range(11, 256)) + b"\n\x00\xff\n" + b"stop\n"
    done = run(["lesson", "--typed", "--from", "top-cross", "--log", str(tmp_path / "log")], said)
    heard = [event for event in events(tmp_path / "log") if event["event"] == "hear"]
    assert [event["meaning"] for event in heard] == [None, None, None, {"command": "stop"}]
    assert done.returncode == 0


def test_understand_gives_a_line_for_every_line() -> None:
    said = b"a line from left to right\n\nwhat a lovely day\n" + b"yes " * 2_500 + b"\n\xff\x00\xfe\nback and left"
    done = run(["understand", "--asked", "look-top-edges"], said)
    meanings = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(meanings) == 6
    assert meanings[0]["look"] == {"U1": False, "U3": True, "U5": True, "U7": False}
    assert meanings[1] is meanings[2] is meanings[4] is None
    assert meanings[5]["look"]["U1"] and meanings[5]["look"]["U3"]


def test_understand_tells_how_sure_it_is_and_what_it_would_act_on() -> None:
    marks = ["fur", "dots", "rough", "smooth", "ridges", "cloth"]
    asked: list[object] = [
        {"said": "a line from left to right", "asked": "look-top-edges"},
        {"said": "ridges left and right", "asked": "look-top-edges", "colours": marks},
        {"said": "left to right", "asked": "claim", "claim": [["U", 3, "yellow"], ["U", 5, "yellow"]]},
        {"said": "two greens and a blue", "asked": "claim",
         "claim": [["F", 0, "green"], ["F", 1, "green"], ["F", 2, "blue"]]},
        {"said": "top layer, front right, white up", "asked": "piece", "piece": ["white", "green", "orange"]},
        {"said": "the bottom cross is done", "asked": "other", "about": "step"},
        {"said": "back and left"},
        "no object", {"said": 3}, {"said": "yes", "asked": "why"}, {"said": "yes", "asked": "claim", "claim": [["U"]]},
        {"said": "yes", "asked": "claim", "colours": ["red", "red"]},
    ]  # fmt: skip
    lines = "\n".join(json.dumps(one) for one in asked) + "\n{broken\n"
    done = run(["understand", "--json", "--asked", "look-top-edges"], lines.encode())
    read = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(read) == len(asked) + 1
    line = {"U1": False, "U3": True, "U5": True, "U7": False}
    assert [one["meaning"] for one in read[:2]] == [{"look": line}] * 2
    assert read[2]["meaning"] == read[3]["meaning"] == {"command": "yes"}
    assert read[4]["meaning"]["place"] == "UFR" and read[4]["meaning"]["shows"]["white"] == "U"
    assert read[5]["best"] == {"step": "bottom-corners"}
    assert read[6]["meaning"]["look"]["U1"] and 0.5 < read[6]["confidence"] <= 1
    assert all(one["meaning"] is None and one["error"].endswith(".") for one in read[7:])


@pytest.mark.parametrize("redirect", ["</dev/null >&-", "<&- >&- 2>&-"])
def test_streams_that_are_closed(redirect: str) -> None:
    shell = f"{' '.join(TYPED)} --from top-cross {redirect}"
    done = subprocess.run(["bash", "-c", shell], capture_output=True, timeout=60, check=False)
    assert done.returncode == 0
    assert done.stderr == b""


# What goes out may have nowhere to go


def test_an_output_that_nobody_reads_any_more(tmp_path: Path) -> None:
    log = tmp_path / "log"
    done = subprocess.run(
        ["bash", "-c", f"yes ready | {' '.join(TYPED)} --from top-cross --log {log} | head -n 1"],
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert b"Traceback" not in done.stderr
    assert len(done.stdout.splitlines()) == 1
    assert events(log)[-1]["event"] == "end"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full on this system")
def test_a_full_disk(tmp_path: Path) -> None:
    log = tmp_path / "log"
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*TYPED, "--from", "top-cross", "--log", str(log)],
            stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE, timeout=60, check=False,
        )  # fmt: skip
    assert b"No space left" in done.stderr and b"Traceback" not in done.stderr
    assert events(log)[-1]["event"] == "end"
    done = run(["lesson", "--typed", "--from", "top-cross", "--log", "/dev/full"], b"stop\n")
    assert done.returncode == 0
    assert done.stderr.decode().count("/dev/full cannot be written: No space left") == 1
    assert "Let's stop here" in done.stdout.decode()


# Arguments


def test_wrong_arguments_are_told_with_exit_code_2(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments, words in [
        (["lesson", "--from", "nowhere"], "top-cross"),
        (["lesson", "--pause", "99"], "from 1 to 15 seconds"),
        (["lesson", "--pause", "nan"], "from 1 to 15 seconds"),
        (["lesson", "--pause", "soon"], "no number of seconds"),
        (["lesson", "--colours", "red,red"], "six different words"),
        (["understand"], "--asked"),
        (["understand", "--asked", "why"], "look-top-edges"),
        (["fly"], "lesson"),
    ]:
        with pytest.raises(SystemExit) as stopped:
            main(arguments)
        assert stopped.value.code == 2
        assert words in capsys.readouterr().err


def test_choices_that_cannot_be_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments, words in [
        (["--up", "pink"], "'pink' is none of this cube's six words"),
        (["--up", "green", "--front", "blue"], "opposite sides"),
        (["--method", "/nowhere/own.toml"], "cannot be opened"),
    ]:
        assert main(["lesson", "--typed", *arguments]) == 1
        assert words in capsys.readouterr().err


def test_options_may_stand_before_the_command() -> None:
    done = run(["--from", "top-face", "lesson", "--typed"])
    assert "start from the top face" in done.stdout.decode()


def test_the_method_is_proven_and_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["method"]) == 0
    shown = capsys.readouterr().out
    assert "top cross: 216 ways the top can lie" in shown and "Proven" in shown


def test_a_wrong_method_is_refused_with_its_case(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from coach.method.loading import DEFAULT_FILE

    own = tmp_path / "own.toml"
    own.write_text(DEFAULT_FILE.read_text("utf-8").replace("F R U R' U' F'", "F R U R' U F'"), "utf-8")
    assert main(["method", str(own)]) == 1
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "case 'line' of step 'top-cross'" in captured.err and "at the edges: " in captured.err
    assert main(["lesson", "--typed", "--method", str(own)]) == 1


def test_every_command_has_help(capsys: pytest.CaptureFixture[str]) -> None:
    for command in ([], ["lesson"], ["hear"], ["understand"], ["soundcheck"], ["demo"], ["method"]):
        with pytest.raises(SystemExit) as stopped:
            main([*command, "--help"])
        assert stopped.value.code == 0
        assert "usage: turncaller" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--out", "x.mp3"), ("does not end in .wav", "--out x.wav")),
        (("--out", "lesson"), ("does not end in .wav", "--out lesson.wav")),
        (("--out", "."), ("is a folder", "--out demo.wav")),
        (("--out", "nowhere/x.wav"), ("There is no folder nowhere", "mkdir -p nowhere")),
        (("--noise", "kitchen.wav"), ("--noise", "add --live")),
        (("--snr", "0"), ("--snr", "add --live")),
        (("--live", "--out", "x.wav"), ("not recorded", "leave out --out")),
    ],
)
def test_a_demo_that_cannot_be_says_why_before_it_begins(
    arguments: tuple[str, ...], told: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert main(["demo", *arguments]) == 2
    captured = capsys.readouterr()
    assert all(part in captured.err for part in told), captured.err
    assert captured.out == ""
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("prevents", "code"), [(False, 0), (True, 1)])
def test_the_soundcheck_fails_only_where_no_lesson_by_voice_is_possible(
    prevents: bool, code: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from coach.sound import soundcheck
    from coach.sound.soundcheck import Finding

    lines = (
        Finding("noise", False, "loud"),
        Finding("microphone", False, "none", prevents),
        Finding("voice", True, "en-us"),
    )
    monkeypatch.setattr(soundcheck, "report", lambda moments, words: iter(lines))
    assert main(["soundcheck"]) == code
    assert ("turncaller lesson --typed" in capsys.readouterr().out) == prevents


def test_the_help_of_the_soundcheck_tells_its_exit_codes(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["soundcheck", "--help"])
    assert "Exit code: 0 where a lesson by voice is possible; 1 where" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["leson"], "leson is not a command. Did you mean lesson?"),
        (["lesson", "--fromm", "top-cross"], "--fromm is not known here. Did you mean --from?"),
        (["practise", "--from", "top-cross"], "--from is not known here. It belongs to: lesson, class, demo, method."),
        (["lesson", "--from", "top-cros"], "top-cros is not a choice for --from. Did you mean top-cross?"),
        (["demo", "--seed", "hello"], "--seed: invalid int value: 'hello'."),
    ],
)
def test_an_argument_that_cannot_be_is_told_in_a_line(
    argv: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(argv)
    told = capsys.readouterr().err
    assert ended.value.code == 2 and told.startswith(said) and told.count("\n") == 1


def test_a_lesson_with_a_scramble_calls_it_and_then_asks_nothing_but_check_ins(tmp_path: Path) -> None:
    log = tmp_path / "log.jsonl"
    run(["lesson", "--typed", "--scramble", "--log", str(log)], b"ready\n" + b"\n" * 26 + b"yes\n")
    said = [event for event in events(log) if event["event"] == "say"]
    calls = [say for say in said if say["act"] == "turn"]
    assert {say["step"] for say in calls} == {"scramble", "bottom-cross"}
    assert {say["asks"] for say in said if say["act"] == "ask"} <= {"ready", "claim"}


@pytest.mark.parametrize(
    ("more", "words"),
    [(("--from", "top-cross"), "leave out --from"), (("--method", "METHOD"), "leave out --scramble")],
)
def test_a_scramble_that_makes_no_sense_is_refused_in_words(
    more: tuple[str, str], words: str, tmp_path: Path
) -> None:
    text = (ROOT / "coach/method/layers.toml").read_text("utf-8")
    first, *_, cross, face, corners, edges = text.split("[[step]]")
    method = tmp_path / "top.toml"
    method.write_text("[[step]]".join((first, cross, face, corners, edges)), "utf-8")
    done = run(["lesson", "--typed", "--scramble", *(str(method) if each == "METHOD" else each for each in more)])
    assert done.returncode == 1 and words in done.stderr.decode()


def test_the_hand_is_remembered_and_may_be_said(tmp_path: Path) -> None:
    profile = tmp_path / "config/turncaller/learners/ada.json"
    run(["lesson", "--typed", "--learner", "Ada", "--hand", "left"])
    assert json.loads(profile.read_text("utf-8"))["hand"] == "left"
    run(["lesson", "--typed", "--learner", "Ada"], b"no\nI'm right-handed\n")
    assert json.loads(profile.read_text("utf-8"))["hand"] == "right"
    profile.write_text(json.dumps({"hand": "third"}), "utf-8")
    done = run(["lesson", "--typed", "--learner", "Ada"])
    assert done.returncode == 1 and "hand is 'third'" in done.stderr.decode()


def test_a_page_is_for_the_hand_that_is_remembered(tmp_path: Path) -> None:
    run(["lesson", "--typed", "--learner", "Ada", "--hand", "left"])
    page = tmp_path / "page.html"
    for more, left in (((), True), (("--hand", "right"), False)):
        run(["method", "--sheet", str(page), "--learner", "Ada", *more])
        assert ("mostly with the left hand" in page.read_text("utf-8")) == left
