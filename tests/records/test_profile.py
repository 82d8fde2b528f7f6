"""What is remembered of a learner: their choices and where the lesson ended, never the cube."""

from __future__ import annotations

import json
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from coach.cli import main
from coach.records.profile import Profile, ProfileError, default_path, learner_path, load, save


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


def lesson(monkeypatch: pytest.MonkeyPatch, said: str, *options: str) -> int:
    """A typed lesson in which `said` is said, line by line."""

    class Input:
        buffer = BytesIO(said.encode())

    monkeypatch.setattr("sys.stdin", Input())
    return main(["lesson", "--typed", *options])


def test_a_profile_is_read_as_it_was_kept() -> None:
    words = dict(zip("FBRLUD", ("fur", "bumps", "rough", "smooth", "ridges", "cloth"), strict=True))
    kept = replace(Profile().named(words), touch=True, confuse=("fur", "cloth"), step="top-face", unread=True, pause=4)
    save(kept, default_path())
    assert load(default_path()) == kept
    file = json.loads(default_path().read_text("utf-8"))
    assert list(file["colours"]) == ["front", "back", "right", "left", "top", "bottom"], "WCA Regulations, 12a1"


def test_a_list_of_colours_is_taken_in_the_order_that_it_once_had() -> None:
    """Profiles once held up, right, front, down, left, back."""
    default_path().parent.mkdir(parents=True, exist_ok=True)
    default_path().write_text(json.dumps({"colours": ["white", "red", "green", "yellow", "orange", "blue"],
                                          "up": "white", "front": "green"}), "utf-8")  # fmt: skip
    held = load(default_path()).held()
    assert [held[face] for face in "URFDLB"] == ["white", "red", "green", "yellow", "orange", "blue"]


@pytest.mark.parametrize(
    "wrong",
    [{"step": "top"}, {"touch": "yes"}, {"confuse": "red"}, {"colours": {"front": "red"}}, {"pause": "long"},
     {"confuse": ["pink"]}, {"colours": ["red"] * 6}],
)  # fmt: skip
def test_a_broken_profile_is_told(wrong: dict[str, Any]) -> None:
    default_path().parent.mkdir(parents=True, exist_ok=True)
    default_path().write_text(json.dumps(wrong), "utf-8")
    with pytest.raises(ProfileError):
        load(default_path())


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "a\nb\x00"])
def test_names_that_cannot_be_are_refused(name: str) -> None:
    with pytest.raises(ProfileError):
        learner_path(name)


@pytest.mark.parametrize("name", ["../../etc/passwd", "Ada Lovelace", "Zoë", "a/b", "con"])
def test_a_learner_has_a_file_of_their_own_whatever_the_name(name: str, tmp_path: Path) -> None:
    path = learner_path(name)
    assert path.parent == tmp_path / "turncaller" / "learners"
    assert learner_path(name.upper()) == path
    save(Profile(), path)
    assert load(path) == Profile()


def test_where_a_learner_was_is_asked_about_next_time(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lesson(monkeypatch, "stop\n", "--learner", "Ada", "--from", "middle-edges")
    capsys.readouterr()
    lesson(monkeypatch, "", "--learner", "ada")
    assert "Last time you had reached the middle edges." in capsys.readouterr().out
    lesson(monkeypatch, "", "--learner", "Ben")
    assert "Last time" not in capsys.readouterr().out


def test_without_being_asked_to_nothing_is_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    lesson(monkeypatch, "stop\n", "--from", "middle-edges")
    assert not default_path().exists()


def test_what_is_changed_by_voice_is_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    said = "use letters\nfive seconds between turns\nI can't tell red from orange\nstop\n"
    lesson(monkeypatch, said, "--remember", "--from", "top-cross")
    kept = load(default_path())
    assert (kept.style, kept.pause, kept.confuse, kept.step) == ("letters", 5, ("orange", "red"), "top-cross")
