"""A lesson carried out and logged: whatever happens to the shell or to the log, it ends in good order."""

from __future__ import annotations

import json
import os
import signal
import threading
from collections.abc import Iterator
from datetime import date
from io import BytesIO, StringIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from coach.app.interrupt import CtrlC
from coach.app.session import run
from coach.app.typed import LONGEST_LINE, TypedShell
from coach.cube import Cube, Turn
from coach.dialogue import Act, Adjust, Bye, CallTurn, Event, Listen, Say
from coach.dialogue.lesson import Settings
from coach.method.last_layer import build
from coach.records.log import SessionLog
from tests.dialogue.hands import COLOURS, Hands, command, new_lesson
from tests.loaded import load

LINE = build(flips=(0, 1, 0, 1), twists=(1, 2, 0, 0))
KEYS = {
    "session": {"t", "event", "version", "method", "step", "up", "front", "date", "learner"},
    "listen": {"t", "event"},
    "hear": {"t", "event", "text", "meaning", "confidence"},
    "silence": {"t", "event", "seconds"},
    "end": {"t", "event", "outcome", "step", "turns", "questions", "slips"},
}
ACT_KEYS = {
    "turn": {"turn", "n", "of", "step"}, "rotate": {"rotation", "step"}, "tell": set(), "bye": set(),
    "claim": {"claim"}, "piece": {"piece"}, "row": {"face", "row"}, "other": {"about"},
    "look-top-edges": set(), "look-top-corners": set(), "ready": set(), "continue": set(),
}  # fmt: skip


class Held:
    """A shell with a learner's hands; `interrupt` counts down the calls to the first Ctrl-C."""

    def __init__(self, cube: Cube, interrupt: int = -1) -> None:
        self.hands = Hands(cube)
        self.left = interrupt

    def _count(self) -> None:
        self.left -= 1
        if self.left == -1:
            raise KeyboardInterrupt

    def say(self, say: Say) -> None:
        self._count()
        self.hands.take([say])

    def adjust(self, adjust: Adjust) -> None:
        self.hands.take([adjust])

    def listen(self, listen: Listen) -> Event | None:
        self._count()
        self.hands.take([listen])
        return self.hands.answer()


def lines(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def logged(tmp_path: Path, shell: Any, step: str | None = "top-cross", settings: Settings | None = None) -> list[Any]:
    path = tmp_path / "log.jsonl"
    before = len(lines(path)) if path.exists() else 0
    log = SessionLog(path)
    run(new_lesson(step, settings), shell, log)
    log.close()
    return lines(path)[before:]


# The log


def test_a_log_is_appended_to(tmp_path: Path) -> None:
    first = logged(tmp_path, Held(LINE))
    second = logged(tmp_path, Held(LINE))
    assert lines(tmp_path / "log.jsonl") == first + second
    assert first[0]["date"] == date.today().isoformat()


def test_every_line_has_the_fields_of_its_event_and_no_others(tmp_path: Path) -> None:
    for step, cube in (("top-cross", LINE), ("bottom-cross", LINE.do("R U2 F L' D B")), (None, LINE)):
        events = logged(tmp_path, Held(cube), step)
        for event in events:
            if event["event"] != "say":
                assert set(event) == KEYS[event["event"]]
                continue
            act, asks = event["act"], event.get("asks")
            extra = {"asks"} if act == "ask" else set()
            if asks == "other":
                assert ACT_KEYS["other"] <= set(event)
                continue
            optional = {"case"} if act in ("turn", "rotate") else set()
            assert set(event) - optional == {"t", "event", "text", "act"} | extra | ACT_KEYS[asks or act]
            assert event["text"].strip() and not event["text"][0].islower()
        assert [event["event"] for event in events].count("session") == 1
        assert (events[0]["event"], events[-1]["event"]) == ("session", "end")
        assert events[-2]["act"] == "bye"


def test_the_values_are_as_agreed(tmp_path: Path) -> None:
    events = logged(tmp_path, Held(LINE))
    first, last = events[0], events[-1]
    assert (first["version"], first["step"], first["up"], first["front"]) == (1, "top-cross", "yellow", "green")
    assert first["method"] == "layer by layer"
    assert last["outcome"] == "done"
    says = [event for event in events if event["event"] == "say"]
    assert last["turns"] == sum(say["act"] == "turn" for say in says)
    assert last["questions"] == sum(say["act"] == "ask" for say in says)
    times = [event["t"] for event in events]
    assert times == sorted(times) and times[0] >= 0
    for say in says:
        if say["act"] == "turn":
            assert 1 <= say["n"] <= say["of"]
            Cube().do(say["turn"])
        for face, place, colour in say.get("claim", ()):
            assert face in "URFDLB" and place in range(9) and colour in COLOURS.values()


def test_after_every_listen_comes_what_was_heard_or_the_silence(tmp_path: Path) -> None:
    kinds = [event["event"] for event in logged(tmp_path, Held(LINE))]
    for kind, following in pairwise(kinds):
        assert (kind == "listen") == (following in ("hear", "silence"))


def test_a_lesson_that_asks_for_the_step_logs_none_at_the_start(tmp_path: Path) -> None:
    assert logged(tmp_path, Held(LINE), None)[0]["step"] is None


def test_another_hold_is_in_the_log(tmp_path: Path) -> None:
    names = ("blue", "orange", "yellow", "green", "red", "white")
    settings = Settings(colours=dict(zip("URFDLB", names, strict=True)))
    first = logged(tmp_path, Held(LINE, interrupt=3), settings=settings)[0]
    assert (first["up"], first["front"]) == ("blue", "yellow")


def test_each_line_is_there_as_soon_as_it_happens(tmp_path: Path) -> None:
    path = tmp_path / "log.jsonl"

    class Watching(Held):
        def listen(self, listen: Listen) -> Event | None:
            assert lines(path)[-1]["event"] == "listen"
            return super().listen(listen)

        def say(self, say: Say) -> None:
            assert lines(path)[-1]["text"] == say.text
            super().say(say)

    log = SessionLog(path)
    assert run(new_lesson(), Watching(LINE), log).outcome == "done"
    log.close()


def test_the_log_may_be_a_fifo(tmp_path: Path) -> None:
    path = tmp_path / "log"
    os.mkfifo(path)
    got: list[str] = []
    reader = threading.Thread(target=lambda: got.extend(path.read_text("utf-8").splitlines()))
    reader.start()
    log = SessionLog(path)
    run(new_lesson(), Held(LINE), log)
    log.close()
    reader.join(30)
    assert json.loads(got[-1])["event"] == "end"


def test_a_fifo_whose_reader_goes_does_not_stop_the_lesson(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "log"
    os.mkfifo(path)
    reader = os.open(path, os.O_RDONLY | os.O_NONBLOCK)
    log = SessionLog(path)
    os.close(reader)
    assert run(new_lesson(), Held(LINE), log).outcome == "done"
    log.close()
    errors = capsys.readouterr().err
    assert errors.count("cannot be written") == 1
    assert "The lesson goes on without it." in errors


def _missing_folder(tmp_path: Path) -> Path:
    return tmp_path / "nowhere" / "log"


@pytest.mark.parametrize("where", [lambda _: Path("/dev/full"), _missing_folder, lambda tmp: tmp])
def test_a_log_that_cannot_be_written_is_told_once_and_the_lesson_goes_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], where: Any
) -> None:
    path = where(tmp_path)
    if path == Path("/dev/full") and not path.exists():
        pytest.skip("no /dev/full on this system")
    log = SessionLog(path)
    shell = Held(LINE)
    assert run(new_lesson(), shell, log).outcome == "done"
    log.close()
    errors = capsys.readouterr().err
    assert shell.hands.cube.solved
    assert errors.count(str(path)) == 1 and "Traceback" not in errors


def test_without_a_log_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = SessionLog(None)
    run(new_lesson(), Held(LINE), log)
    log.close()
    assert capsys.readouterr() == ("", "")
    assert not list(tmp_path.iterdir())


# Being interrupted


@pytest.mark.parametrize("number", [0, 1, 2, 3, 4, 5, 6, 9, 14, 21, 33])
def test_ctrl_c_ends_in_good_order_at_any_moment(tmp_path: Path, number: int) -> None:
    events = logged(tmp_path, Held(LINE, interrupt=number))
    assert events[-1]["event"] == "end"
    assert events[-1]["outcome"] == "stopped"
    assert events[-2]["act"] == "bye"


def test_ctrl_c_while_it_says_good_bye_still_ends(tmp_path: Path) -> None:
    class Hasty(Held):
        def say(self, say: Say) -> None:
            if isinstance(say, Bye):
                raise KeyboardInterrupt
            super().say(say)

        def listen(self, listen: Listen) -> Event | None:
            return None

    events = logged(tmp_path, Hasty(LINE))
    assert [event["event"] for event in events].count("end") == 1
    assert events[-1]["outcome"] == "stopped"


def test_ctrl_c_in_the_middle_of_a_thought_still_ends(tmp_path: Path) -> None:
    lesson = new_lesson()

    def thinking() -> str:
        raise KeyboardInterrupt

    lesson.talk.where = thinking

    class Asking(Held):
        def listen(self, listen: Listen) -> Event | None:
            return command("where")

    path = tmp_path / "log"
    log = SessionLog(path)
    assert run(lesson, Asking(LINE), log).outcome == "stopped"
    log.close()
    assert lines(path)[-1]["event"] == "end"


def press_ctrl_c() -> None:
    signal.raise_signal(signal.SIGINT)


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_a_ctrl_c_that_a_destructor_drops_ends_the_lesson_all_the_same() -> None:
    class Dropped:
        def __del__(self) -> None:
            press_ctrl_c()

    class Dropping(Held):
        said = 0

        def say(self, say: Say) -> None:
            self.said += 1
            super().say(say)
            if self.said == 1:
                Dropped()  # is destroyed at once

    shell = Dropping(LINE)
    with CtrlC() as ctrl_c:
        end = run(new_lesson(), shell, SessionLog(None), interrupted=ctrl_c.pressed)
    assert end.outcome == "stopped"
    assert shell.said == 2, "nothing but the farewell came after it"


def test_ctrl_c_while_the_lesson_begins_is_not_a_second_beginning(monkeypatch: pytest.MonkeyPatch) -> None:
    lesson, begun = new_lesson(), []

    def starting() -> list[Act]:
        begun.append(True)
        raise KeyboardInterrupt

    monkeypatch.setattr(lesson, "start", starting)
    assert run(lesson, Held(LINE), SessionLog(None)).outcome == "stopped"
    assert len(begun) == 1


def test_ctrl_c_that_is_not_lost_ends_the_lesson_once() -> None:
    class Pressing(Held):
        farewell = ""

        def listen(self, listen: Listen) -> Event | None:
            press_ctrl_c()
            raise AssertionError("it was ignored")

        def say(self, say: Say) -> None:
            super().say(say)
            self.farewell = say.text if isinstance(say, Bye) else ""

    shell = Pressing(LINE)
    with CtrlC() as ctrl_c:
        end = run(new_lesson(), shell, SessionLog(None), interrupted=ctrl_c.pressed)
    assert (end.outcome, bool(shell.farewell)) == ("stopped", True)
    assert not ctrl_c.pressed()


def test_a_shell_with_nothing_left_to_hear_ends_the_lesson(tmp_path: Path) -> None:
    class Gone(Held):
        def listen(self, listen: Listen) -> Event | None:
            super().listen(listen)
            return None

    events = logged(tmp_path, Gone(LINE))
    assert [event["event"] for event in events[-3:]] == ["listen", "say", "end"]
    assert events[-1]["outcome"] == "stopped"


# Typing


def typed(text: bytes) -> tuple[list[Event | None], str]:
    """What the typed shell makes of these bytes, listening until their end."""
    sink = StringIO()
    shell = TypedShell(load(), BytesIO(text), sink)

    def events() -> Iterator[Event | None]:
        while event := shell.listen(Listen("look-top-edges", 8.0)):
            yield event

    return list(events()), sink.getvalue()


def test_a_line_is_an_answer_an_empty_one_silence_the_end_of_input_the_end() -> None:
    events, _ = typed(b"a line from left to right\n\n   \nyes\n")
    assert [getattr(event, "text", None) for event in events] == ["a line from left to right", None, None, "yes"]
    assert events[1].seconds == 8.0  # type: ignore[union-attr]


def test_a_last_line_without_an_end_counts() -> None:
    events, _ = typed(b"stop")
    assert events[0].meaning.command == "stop"  # type: ignore[union-attr]


@pytest.mark.parametrize("length", [LONGEST_LINE - 1, LONGEST_LINE, LONGEST_LINE + 1, 3 * LONGEST_LINE])
def test_a_very_long_line_is_one_answer(length: int) -> None:
    events, _ = typed(b"x" * length + b"\nstop\n")
    assert len(events) == 2
    assert events[1].text == "stop"  # type: ignore[union-attr]


def test_binary_is_nothing_the_coach_can_use() -> None:
    events, _ = typed(bytes(range(256)).replace(b"\n", b"") + b"\n\x00\x00\n\xff\xfe\nstop\n")
    assert [event.meaning is None for event in events] == [True, True, True, False]  # type: ignore[union-attr]


def test_every_utterance_is_a_line() -> None:
    sink = StringIO()
    shell = TypedShell(load(), BytesIO(b""), sink)
    shell.say(CallTurn("Right side up.", Turn("R")))
    shell.adjust(Adjust(1))
    assert sink.getvalue() == "Right side up.\n"


# What nobody foresaw


def test_an_unforeseen_error_ends_the_lesson_in_good_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("coach.app.session.user_log_path", lambda name: tmp_path / name)
    lesson = new_lesson()

    def broken(event: Any) -> Any:
        raise ZeroDivisionError("in the middle of a thought")

    monkeypatch.setattr(lesson, "handle", broken)
    log = SessionLog(tmp_path / "log.jsonl")
    end = run(lesson, Held(LINE), log)
    log.close()
    assert (end.outcome, end.step, lesson.failed) == ("stopped", "top-cross", True)
    said = lines(tmp_path / "log.jsonl")
    assert "Something went wrong with me" in said[-2]["text"] and said[-1]["event"] == "end"
    told = capsys.readouterr().err
    assert "Traceback" not in told
    (details,) = (tmp_path / "turncaller").iterdir()
    assert str(details) in told and "ZeroDivisionError" in details.read_text("utf-8")
