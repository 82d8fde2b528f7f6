"""Plain verdicts and wishes are not read as their opposite."""

from __future__ import annotations

import pytest

from coach.language.meaning import Meaning, Question, Scene
from tests.loaded import load

LANGUAGE = load()
MARKS = {"U": "leather", "D": "felt", "F": "wax", "B": "cork", "R": "velcro", "L": "sandpaper"}
CHECK = Scene(MARKS, claim={"F1": False}, claimed=("felt",))


def command(text: str, asked: Question, scene: Scene | None = None) -> str | None:
    meaning = LANGUAGE.understand(text, asked, scene or (CHECK if asked == "claim" else Scene(MARKS)))
    return meaning.command if meaning else None


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("feels right to me", "yes"), ("it feels about right", "yes"), ("that's fine under my fingers", "yes"),
        ("seems just right, as far as I can feel", "yes"), ("feels wrong to me", "no"),
        ("doesn't feel right to me", "no"),
    ],
)  # fmt: skip
def test_a_verdict_of_a_check(said: str, meant: str) -> None:
    assert command(said, "claim") == meant


@pytest.mark.parametrize("said", ["can't we just get on", "can we not simply go on", "why don't we get on with it"])
def test_who_wants_to_get_on_does_not_want_to_wait(said: str) -> None:
    assert command(said, "claim") == command(said, "turn") == "faster"
    assert "faster" not in LANGUAGE.read(said, "turn", Scene(MARKS)).aside.marks
    assert LANGUAGE.read("go faster please", "turn", Scene(MARKS)).aside.marks >= {"faster"}


@pytest.mark.parametrize("asked", ["turn", "claim", "other", "continue"])
@pytest.mark.parametrize(
    ("said", "broken"),
    [
        ("my daughter did the two lower layers for me", False), ("no, my son made the lower two layers", False),
        ("but the two lower layers were done, why are we doing the bottom again", False),
        ("the two lower layers were fine a minute ago", True),
        ("the two lower layers were done and now it's broken", True),
    ],
)  # fmt: skip
def test_layers_that_were_done_are_not_broken(said: str, broken: bool, asked: Question) -> None:
    best = LANGUAGE.read(said, asked, Scene(MARKS)).best
    assert (best is not None and best.command == "layers-broken") == broken


def test_who_wants_to_say_the_turns_does_not_want_them_called() -> None:
    meaning = LANGUAGE.understand("let me say the flip by the top from memory", "turn", Scene(MARKS))
    assert meaning and meaning.change and meaning.change.exercise == "recite"
    assert command("may I say it myself", "turn") is None
    assert command("I want to say goodbye", "turn") != "call-it"
    assert LANGUAGE.understand("call it for me", "do", Scene(MARKS)) == Meaning(command="call-it")


@pytest.mark.parametrize(
    ("said", "asked", "meant"),
    [
        ("that's the lot", "turn", "next"), ("there, I've done the lot", "turn", "next"),
        ("was it left or right the top", "do", "hint"), ("is the top going left", "do", "hint"),
        ("is it done", "do", "done"),
        ("nobody's taught me that one", "do", "call-it"), ("I never learned this", "do", "call-it"),
        ("my fingers are going numb", "turn", "pain"), ("my left thumb feels sore", "claim", "pain"),
    ],
)  # fmt: skip
def test_what_is_plainly_said_while_turning(said: str, asked: Question, meant: str) -> None:
    assert command(said, asked) == meant
