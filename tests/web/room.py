"""A server with its lessons, and pages that are played: they report all sound as heard at once."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np
from fastapi.testclient import TestClient

from coach.method import default_method
from coach.records.unfinished import Unfinished
from coach.speech.signal.wav import VOICE_RATE, Samples
from coach.web.lessons import Lessons
from coach.web.protocol import VERSION
from coach.web.server import make_app
from tests.loaded import load

CODE = "ABC234"
ORIGIN = {"origin": "http://testserver"}


class Hum:
    """A voice that hums a quarter of a second for every sentence."""

    def synthesise(self, text: str) -> Samples:
        return np.full(VOICE_RATE // 4, 1000, np.int16)

    def prefetch(self, texts: object) -> None: ...

    def close(self) -> None: ...


class QuietRuntime:
    """What a typed lesson needs of a runtime, and its seat."""

    language = load()

    def seat(self) -> QuietRuntime:
        return self

    def narrator(self, voice: object) -> Hum:
        return Hum()

    def __enter__(self) -> QuietRuntime:
        return self

    def __exit__(self, *_: object) -> None: ...


class House:
    """The server, and what it has logged."""

    def __init__(self, most: int = 10) -> None:
        self.log: list[str] = []
        self.unfinished = Unfinished(self.log.append)
        self.lessons = Lessons(QuietRuntime(), lambda profile: default_method(profile.hand), self.unfinished, most)  # type: ignore[arg-type]
        self.client = TestClient(make_app(self.lessons, CODE, self.log.append))

    @contextmanager
    def page(self, name: str = "", **hello: Any) -> Iterator[Page]:
        """A page that has said hello."""
        with self.client.websocket_connect("/lesson", headers=ORIGIN) as socket:
            page = Page(socket)
            page.send(kind="hello", **{"version": VERSION, "code": CODE, "name": name, **hello})
            yield page


class Page:
    """A learner's page."""

    def __init__(self, socket: Any) -> None:
        self.socket, self.utterance, self.said = socket, 0, list[str]()

    def send(self, **message: Any) -> None:
        self.socket.send_text(json.dumps(message))

    def next(self) -> dict[str, Any]:
        """The next message; sound that comes before it is heard. Its `kind` is "closed" at the end."""
        while True:
            frame = self.socket.receive()
            if frame["type"] == "websocket.close":
                return {"kind": "closed"}
            if frame.get("text") is not None:
                message: dict[str, Any] = json.loads(frame["text"])
                if message["kind"] == "say":
                    self.said.append(message["text"])
                return message
            self.hear(frame["bytes"])

    def hear(self, frame: bytes) -> None:
        _, utterance, offset = struct.unpack_from("<BII", frame)
        self.send(kind="played", utterance=utterance, samples=offset + (len(frame) - 9) // 2)

    def until(self, kind: str, seen: Callable[[dict[str, Any]], None] = lambda message: None) -> dict[str, Any]:
        """The first message of that kind."""
        while (message := self.next())["kind"] != kind:
            seen(message)
            assert message["kind"] != "closed", f"closed while waiting for {kind}"
        return message

    def answer(self, text: str) -> None:
        """Type an answer once the coach listens."""
        self.until("listening")
        self.send(kind="answer", text=text)
