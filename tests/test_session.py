"""A lesson carried out: the log as it is fixed, and what happens when it, or the learner, goes away."""

from __future__ import annotations

import itertools
import json
from pathlib import Path
from random import Random

import pytest

from coach.dialogue import Adjust, Event, Heard, Lesson, Listen, Say, Silence
from coach.language import load
from coach.language.phrases import load_phrases
from coach.learner import Learner, random_cube
from coach.method import default_method
from coach.session import SessionLog, run

LANGUAGE = load()


class LearnerShell:
    """The simulated learner as a shell; after `gone` answers something happens to it."""

    def __init__(self, learner: Learner, gone: int = 10_000, how: BaseException | None = None) -> None:
        self.learner, self.gone, self.how = learner, gone, how

    def say(self, say: Say) -> None:
        self.learner.hear(say)

    def listen(self, listen: Listen) -> Event | None:
        self.gone -= 1
        if self.gone < 0:
            if self.how:
                how, self.how = self.how, None
                raise how
            return None
        text = "" if listen.asked == "turn" else self.learner.answer()
        if not text:
            return Silence(listen.seconds)
        return Heard(text, LANGUAGE.understand(text, listen.asked, listen.scene), 0.9)

    def adjust(self, adjust: Adjust) -> None:
        pass


def lesson(step: str = "top-face") -> Lesson:
    return Lesson(default_method(), load_phrases(), step, None, LANGUAGE.offers)


def logged(path: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def test_the_log_has_the_fixed_form(tmp_path: Path) -> None:
    path = tmp_path / "log.jsonl"
    shell = LearnerShell(Learner(random_cube("top-face", Random(4)), Random(4)))
    end = run(lesson(), shell, SessionLog(path))
    assert end.outcome == "done"
    events = logged(path)
    assert all(isinstance(event["t"], float) and event["t"] >= 0 for event in events)
    assert [event["t"] for event in events] == sorted(event["t"] for event in events)  # type: ignore[type-var]
    first, last = events[0], events[-1]
    assert {key: first[key] for key in ("event", "version", "step", "up", "front")} == {
        "event": "session", "version": 1, "step": "top-face", "up": "yellow", "front": "green",
    }  # fmt: skip
    assert last["event"] == "end"
    assert last["outcome"] == "done"
    said = [event for event in events if event["event"] == "say"]
    assert {event["act"] for event in said} <= {"turn", "rotate", "ask", "tell", "bye"}
    turns = [event for event in said if event["act"] == "turn"]
    assert last["turns"] == len(turns)
    assert last["questions"] == sum(event["act"] == "ask" for event in said)
    assert all(1 <= event["n"] <= event["of"] for event in turns)  # type: ignore[operator]
    asks = [event for event in said if event["act"] == "ask"]
    assert all(event["asks"] in _ASKS for event in asks)
    for event in asks:
        if event["asks"] == "claim":
            claim = event["claim"]
            assert isinstance(claim, list)
            assert all(
                face in "URFDLB" and 0 <= place <= 8 and isinstance(colour, str) for face, place, colour in claim
            )


_ASKS = {"look-top-edges", "look-top-corners", "claim", "piece", "row", "face", "ready", "continue", "other"}


def test_every_question_is_followed_by_listening(tmp_path: Path) -> None:
    path = tmp_path / "log.jsonl"
    run(lesson(), LearnerShell(Learner(random_cube("top-face", Random(5)), Random(5))), SessionLog(path))
    events = logged(path)
    for this, following in itertools.pairwise(events):
        if this["event"] == "say" and this["act"] in ("ask", "turn"):
            assert following["event"] == "listen"
        if this["event"] == "listen":
            assert following["event"] in ("hear", "silence")


@pytest.mark.parametrize("how", [None, KeyboardInterrupt()])
def test_a_learner_who_goes_away_ends_the_lesson_in_good_order(tmp_path: Path, how: BaseException | None) -> None:
    path = tmp_path / "log.jsonl"
    shell = LearnerShell(Learner(random_cube("top-face", Random(6)), Random(6)), gone=4, how=how)
    end = run(lesson(), shell, SessionLog(path))
    assert end.outcome == "stopped"
    events = logged(path)
    assert events[-1]["event"] == "end"
    assert events[-2]["act"] == "bye"


@pytest.mark.parametrize("path", ["/dev/full", "/no/such/folder/log.jsonl", "/"])
def test_a_log_that_cannot_be_written_is_told_once_and_the_lesson_goes_on(
    path: str, capsys: pytest.CaptureFixture[str]
) -> None:
    if path == "/dev/full" and not Path(path).exists():
        pytest.skip("this system has no /dev/full")
    log = SessionLog(Path(path))
    end = run(lesson(), LearnerShell(Learner(random_cube("top-face", Random(7)), Random(7))), log)
    log.close()
    assert end.outcome == "done"
    told = capsys.readouterr().err
    assert told.count("cannot be written") == 1
    assert path in told
