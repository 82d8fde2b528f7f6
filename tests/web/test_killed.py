"""The server is killed in mid-lesson, as by a power cut, and the lesson goes on with the next one."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import struct
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

from coach.web.protocol import VERSION


@contextmanager
def serving(folder: Path, port: int) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A server, and its join code."""
    env = os.environ | {f"XDG_{kind}_HOME": str(folder) for kind in ("CONFIG", "DATA", "STATE")}
    command = [sys.executable, "-m", "coach", "serve", "--port", str(port)]
    with subprocess.Popen(command, env=env, stderr=subprocess.PIPE, text=True) as server:
        try:
            assert server.stderr
            told = ""
            while "Ctrl-C" not in told:
                line = server.stderr.readline()
                assert line, told
                told += line
            found = re.search(r"join code +(\w+)", told)
            assert found
            yield server, found[1]
        finally:
            server.kill()


@contextmanager
def page(port: int, **hello: Any) -> Iterator[ClientConnection]:
    with connect(f"ws://localhost:{port}/lesson", origin=f"http://localhost:{port}", open_timeout=30) as made:  # type: ignore[arg-type]
        made.send(json.dumps({"kind": "hello", "version": VERSION, **hello}))
        yield made


def until(page: ClientConnection, kind: str, said: list[str]) -> dict[str, Any]:
    """The first message of that kind; all that is said before is heard at once."""
    while True:
        frame = page.recv(timeout=60)
        if isinstance(frame, bytes):
            _, utterance, offset = struct.unpack_from("<BII", frame)
            heard = offset + (len(frame) - 9) // 2
            if heard % 22050 < 4410 or heard - offset < 4410:  # a page reports now and then, and at the end
                page.send(json.dumps({"kind": "played", "utterance": utterance, "samples": heard}))
            continue
        message: dict[str, Any] = json.loads(frame)
        if message["kind"] == "say":
            said.append(message["text"])
        if message["kind"] == kind:
            return message


def test_ctrl_c_ends_the_server_in_good_order_and_its_lessons_go_on_with_the_next(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    with serving(tmp_path, port) as (server, code), page(port, code=code) as learner:
        word = until(learner, "welcome", [])["resume"]
        until(learner, "listening", [])
        server.send_signal(signal.SIGINT)
        assert server.wait(timeout=60) == 0
        assert server.stderr and server.stderr.read() == ""
    with serving(tmp_path, port), page(port, code="", resume=word) as learner:
        until(learner, "listening", [])


def test_a_port_that_is_taken_is_told_in_a_sentence(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        command = [sys.executable, "-m", "coach", "serve", "--port", str(taken.getsockname()[1])]
        ended = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert ended.returncode == 1 and "Try another --port." in ended.stderr and "Traceback" not in ended.stderr


def test_a_killed_server_loses_no_lesson(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    said: list[str] = []
    with serving(tmp_path, port) as (server, code), page(port, code=code) as learner:
        word = until(learner, "welcome", said)["resume"]
        for answer in ("top cross", "yes", "yes"):
            until(learner, "listening", said)
            learner.send(json.dumps({"kind": "answer", "text": answer}))
        until(learner, "listening", said)
        server.send_signal(signal.SIGKILL)
        server.wait()
    again: list[str] = []
    with serving(tmp_path, port), page(port, code="", resume=word) as learner:
        until(learner, "listening", again)
        assert again and again == said[-len(again) :]
        learner.send(json.dumps({"kind": "answer", "text": "stop"}))
        assert until(learner, "end", again)["outcome"] == "stopped"
