"""Lessons with people, by the real command line: within this process, or the way an outside program holds them."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import subprocess
import sys
import tempfile
import threading
import traceback
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol

from tests.people.kinds import Confusing, Newcomer, Stopping
from tests.people.person import Line, Person
from tests.people.words import USUAL, option

LONGEST = 900
"""So many times the coach listens at most in a lesson that gets anywhere."""
ROOT = Path(__file__).resolve().parents[2]
_ALARM = re.compile(
    r"does(n't| not) fit|can(not|'t) be\b|leads nowhere|what (has )?happened|went wrong|(has|have) gone wrong|"
    r"i know now|put (that|it|things) right|put right|look (once more|again)|once more, from|from the beginning|"
    r"work out what|another way (now|than)|wrong before|no(thing)? further|read (me )?the (whole )?cube|now i know:|"
    r"find out what|check (it|that|the top) again|let's check|isn't working|make that fit|make a cube|"
    r"cube has been turned",
    re.I,
)  # fmt: skip
"""What the coach says only where it thinks that something is not as it should be."""
_NO_ALARM = re.compile(r"say: i'll read|i'll read you|which step|please (read|tell) me the (cube|marks)", re.I)
_ANEW = re.compile(r"(read|tell) me the (whole )?(cube|marks)|once more, from the beginning", re.I)
_ROWS_OF_A_READING = 6
"""To find a wrong turn fewer rows are asked for."""


class Hearer(Protocol):
    """Who follows a lesson: a person, or a class with its teacher."""

    blameless: bool
    may_read: bool

    def hear(self, line: Line) -> None:
        """Take in a line of the log."""

    def answer(self) -> str:
        """What is said now that the coach listens; "" is silence."""

    @property
    def solved(self) -> bool:
        """Whether all is done."""


@dataclass
class Held:
    """What became of a lesson."""

    person: Hearer
    log: list[Line]
    solved: bool = False
    loop: bool = False
    error: str = ""
    """What came out besides the lesson's words: a traceback, or complaints."""
    said: str = ""

    @property
    def says(self) -> list[Line]:
        """What the coach said."""
        return [line for line in self.log if line["event"] == "say"]

    @property
    def questions(self) -> int:
        """How many questions were asked."""
        return sum(line["act"] == "ask" for line in self.says)

    @property
    def turns(self) -> int:
        """How many turns were called."""
        return sum(line["act"] == "turn" for line in self.says)

    @property
    def end(self) -> Line:
        """The last line, where the lesson ended in good order."""
        return self.log[-1] if self.log and self.log[-1]["event"] == "end" else {}

    @property
    def alarms(self) -> list[str]:
        """What a person who made no mistake should never have heard."""
        found, read = [], False
        for line in self.log:
            text = line.get("text", "")
            if line["event"] == "slip":
                found.append(f"slip: {line['explains']} / {line['repair']}")
            elif line["event"] == "say" and _ALARM.search(text) and not _NO_ALARM.search(text):
                found.append(text)
            elif line["event"] == "say" and _of_the_whole(line) and not self.person.may_read and not read:
                read = True
                found.append(f"reads: {text}")
        if self.readings > 1:
            found.append("the cube was read twice")
        return found

    @property
    def readings(self) -> int:
        """How often the whole cube was read: many rows with no turn between them."""
        stretches = [0]
        for line in self.says:
            stretches += [0] * (line["act"] == "turn" or bool(_ANEW.search(line["text"])))
            stretches[-1] += line["act"] == "ask" and line["asks"] == "row"
        return sum(rows >= _ROWS_OF_A_READING for rows in stretches)

    @property
    def colours_read(self) -> int:
        """So many colours the person said of rows and faces while the cube was read."""
        return sum({"row": 3, "face": 9}.get(line["asks"], 0) for line in self._while_reading())

    @property
    def colours_confirmed(self) -> int:
        """So many were told to the person meanwhile, for a yes or a no."""
        return sum(len(line["claim"]) for line in self._while_reading() if line["asks"] == "claim")

    def _while_reading(self) -> Iterator[Line]:
        """The questions before anything is turned, and those where all has to be read once more."""
        reading = self.person.may_read
        for line in self.says:
            reading = (reading and line["act"] != "turn") or _of_the_whole(line)
            if reading and line["act"] == "ask":
                yield line

    @property
    def doubts_taken(self) -> list[str]:
        """Doubts and questions that were taken for a yes or a no."""
        doubts = getattr(self.person, "DOUBTS", ())
        heard = [line for line in self.log if line["event"] == "hear" and line["text"] in doubts and line["meaning"]]
        taken = [line for line in heard if line["meaning"].get("command") in ("yes", "no", "next", "ready")]
        return [f"{line['text']!r} as {line['meaning']}" for line in taken]

    def transcript(self) -> Iterator[str]:
        """The lesson as it was, a line for each thing said."""
        for line in self.log:
            if line["event"] == "say":
                act = line.get("turn") or line.get("rotation") or line.get("asks") or line["act"]
                yield f"coach ({act}): {line['text']}"
            elif line["event"] == "hear":
                yield f"    person: {line['text'][:200]!r}  = {json.dumps(line['meaning'])}"
            elif line["event"] == "silence":
                yield "    person: (silence)"
            elif line["event"] in ("slip", "exercise", "end", "session"):
                yield f"[{ {key: value for key, value in line.items() if key != 't'} }]"


def arguments(person: Person, told: bool = True) -> list[str]:
    """The command line for this person: the step, unless the coach is to ask (not `told`), and the own words."""
    told = told and not person.may_read and not isinstance(person, Newcomer)
    chosen = ["--from", person.step] if told and person.step else []
    if person.names_when_asked:
        chosen += ["--colours", "ask"]
    elif person.words != USUAL:
        chosen += ["--colours", option(person.words)]
    if isinstance(person, Confusing):
        chosen += ["--confuse", ",".join(person.alike)]
    return chosen


@dataclass
class _Mouth(io.RawIOBase):
    """Standard input for the coach: reads what has come into the log, and has the person answer."""

    person: Hearer
    log: Path
    most: int
    lines: list[Line] = field(default_factory=list)
    answers: int = 0
    at: int = 0

    def readline(self, size: int | None = -1, /) -> bytes:
        """The person's answer; the end of input where the lesson goes on for ever."""
        self.catch_up()
        self.answers += 1
        if self.answers > self.most:
            return b""
        return _bytes(self.person.answer())[: size if size and size > 0 else None]

    def catch_up(self) -> None:
        """Hand the person what has been written into the log."""
        if not self.log.exists():
            return
        with self.log.open("rb") as file:
            file.seek(self.at)
            new = file.read()
        self.at += len(new)
        for line in new.splitlines():
            self.lines.append(json.loads(line))
            self.person.hear(self.lines[-1])


def _bytes(answer: str) -> bytes:
    return answer.replace("\r", " ").replace("\n", " ").encode("utf-8", "surrogatepass") + b"\n"


def _of_the_whole(line: Line) -> bool:
    """Whether a question is for a row that only reading the whole cube asks for."""
    return line["act"] == "ask" and (
        line["asks"] == "face" or (line["asks"] == "row" and (line["row"] != 1 or line["face"] in "UDB"))
    )


@contextlib.contextmanager
def _own_home(folder: Path) -> Iterator[dict[str, str]]:
    """Nothing of this machine's user is read or kept."""
    homes = {name: str(folder) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")}
    before = {name: os.environ.get(name) for name in homes}
    os.environ.update(homes)
    try:
        yield homes
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def hold(
    person: Hearer, chosen: Sequence[str], home: Path | None = None, most: int = LONGEST, command: str = "lesson"
) -> Held:
    """A lesson within this process, or what another `command` holds. `home` is where the learner's choices are kept, if
    for longer than the lesson."""
    from coach import cli

    with tempfile.TemporaryDirectory() as folder, _own_home(home or Path(folder)):
        log = Path(folder) / "lesson.jsonl"
        mouth = _Mouth(person, log, most)
        words, errors, trouble = io.StringIO(), io.StringIO(), ""
        standard: Any = sys.stdin
        sys.stdin = _with_buffer(mouth)
        try:
            with contextlib.redirect_stdout(words), contextlib.redirect_stderr(errors):
                cli.main([command, "--typed", "--log", str(log), *chosen])
        except SystemExit:
            pass  # wrong arguments: the reason has been told
        except Exception:
            trouble = traceback.format_exc()
        finally:
            sys.stdin = standard
        mouth.catch_up()
    return Held(
        person, mouth.lines, person.solved, mouth.answers > most, errors.getvalue() + trouble, words.getvalue()
    )


def _with_buffer(mouth: _Mouth) -> Any:
    class Input:
        buffer = mouth

        def fileno(self) -> int:
            raise io.UnsupportedOperation

        def isatty(self) -> bool:
            return False

    return Input()


def _let_go(coach: subprocess.Popen[bytes], pipe: Path) -> None:
    """Once the coach has gone, nobody waits any longer for it to open the pipe."""
    coach.wait()
    with contextlib.suppress(OSError):
        os.close(os.open(pipe, os.O_WRONLY | os.O_NONBLOCK))


def hold_outside(
    person: Hearer, chosen: Sequence[str], most: int = LONGEST, seconds: float = 120.0, command: str = "lesson"
) -> Held:
    """The same by another process: the log comes over a pipe with a name, answers go to standard input. A process
    that hangs is ended after so many seconds."""
    with tempfile.TemporaryDirectory() as folder, _own_home(Path(folder)):
        pipe, out, errors = (Path(folder) / name for name in ("log", "out", "errors"))
        os.mkfifo(pipe)
        called = [sys.executable, "-m", "coach", command, "--typed", "--log", str(pipe), *chosen]
        lines: list[Line] = []
        answers = 0
        with out.open("wb") as said, errors.open("wb") as trouble:
            coach = subprocess.Popen(called, cwd=ROOT, stdin=subprocess.PIPE, stdout=said, stderr=trouble)
            assert coach.stdin
            clock = threading.Timer(seconds, coach.kill)
            clock.start()
            threading.Thread(target=_let_go, args=(coach, pipe)).start()
            with pipe.open(encoding="utf-8") as log, contextlib.suppress(BrokenPipeError):
                for text in log:
                    lines.append(json.loads(text))
                    person.hear(lines[-1])
                    if lines[-1]["event"] == "listen":
                        answers += 1
                        if answers > most:
                            coach.stdin.close()
                        else:
                            coach.stdin.write(_bytes(person.answer()))
                            coach.stdin.flush()
            with contextlib.suppress(BrokenPipeError, ValueError):
                coach.stdin.close()
            coach.wait()
            clock.cancel()
        said_text, error_text = out.read_text("utf-8", "replace"), errors.read_text("utf-8", "replace")
    return Held(person, lines, person.solved, answers > most, error_text, said_text)


RETURNS = ("from", "asked", "learner")
"""How somebody comes back: names the step on the command line, or when asked, or is known by name."""


def returns() -> Sequence[str]:
    """Those of the ways that the command line has."""
    from coach import cli

    shown = io.StringIO()
    with contextlib.redirect_stdout(shown), contextlib.suppress(SystemExit):
        cli.main(["lesson", "--help"])
    return RETURNS if "--learner" in shown.getvalue() else RETURNS[:2]


def hold_two_days(person: Stopping, way: str) -> tuple[Held, Held | None]:
    """A lesson that is stopped, and the one with which the same person goes on; none where it was not stopped."""
    with tempfile.TemporaryDirectory() as home:
        known = ["--learner", "Robin"] if way == "learner" else []
        first = hold(person, [*arguments(person), *known], Path(home))
        if not person.stopped:
            return first, None
        other = person.next_day(first.end.get("step", person.step))
        other.may_read = any(re.search(r"\bread\b", line["text"]) for line in first.says[-3:])  # as the coach has said
        return first, hold(other, [*arguments(other, told=way == "from"), *known], Path(home))
