"""What a learner practises in lessons is kept as it happens, and a lesson goes on whatever the records are like."""

from __future__ import annotations

import io
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from coach.cli import main
from coach.learning.exercise import Exercise
from coach.records.store import Store, default_path

LINE = ["line from left to right", "ready", *[""] * 6, "yes"]
"""A top with a line, which six turns make a cross."""


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for folder in ("DATA", "CONFIG", "STATE"):
        monkeypatch.setenv(f"XDG_{folder}_HOME", str(tmp_path / folder))


def lesson(lines: list[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO("".join(f"{line}\n" for line in lines).encode())))
    return main(["lesson", "--typed", "--from", "top-cross", *arguments])


def kept(name: str) -> list[Exercise]:
    with closing(Store()) as store:
        return store.exercises(name)


def test_an_exercise_is_kept_with_the_local_time_and_the_next_lesson_helps_less(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lesson(LINE, monkeypatch, "--learner", "Robin")
    (done,) = kept("Robin")
    assert (done.item.step, done.item.case, done.item.kind) == ("top-cross", "line", "do")
    assert (done.help, done.result, done.origin) == (4, "unaided", "lesson")
    assert abs(datetime.now() - done.when) < timedelta(minutes=5)
    assert "part by part" not in capsys.readouterr().out
    lesson(["line from left to right", "ready", "", "", "yes"], monkeypatch, "--learner", "Robin")
    assert "part by part" in capsys.readouterr().out
    assert [each.help for each in kept("Robin")] == [4, 3]


def test_without_a_nickname_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    lesson(LINE, monkeypatch)
    assert not default_path().exists()


def test_with_a_broken_file_a_sentence_is_said_once_and_the_lesson_goes_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    default_path().parent.mkdir(parents=True)
    default_path().write_bytes(b"no records at all" * 400)
    assert lesson(LINE, monkeypatch, "--learner", "Robin") == 0
    said = capsys.readouterr()
    assert said.err.count("We go on without records.") == 1
    assert "You've finished the top cross" in said.out
