"""The server: the learner's page, what belongs to it, and the socket of each lesson."""

from __future__ import annotations

import sys
import time
from collections.abc import Awaitable, Callable
from contextlib import suppress
from importlib.resources import files
from typing import Final

from anyio import create_task_group, fail_after
from fastapi import FastAPI, Request, Response, WebSocket
from starlette.websockets import WebSocketDisconnect

from coach.web.doors import Allowance, Door, same_origin
from coach.web.lessons import Lessons, Place
from coach.web.outbox import Outbox
from coach.web.protocol import (
    BURST,
    FRAMES_A_SECOND,
    TEXTS_A_SECOND,
    VERSION,
    Answer,
    FromLearner,
    Hello,
    Leave,
    Malformed,
    PlayedUntil,
    Refused,
    SoundFrame,
    read,
    written,
)  # fmt: skip

MOST_WAITING: Final = 100
"""Connections that have not shown a code yet."""
_HELLO_SECONDS: Final = 10.0
_MOST_MALFORMED: Final = 20
"""After so many frames that the protocol does not know, the connection is closed."""
_TYPES: Final = {
    ".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
}  # fmt: skip
_HEADERS: Final = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
    "img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "Permissions-Policy": "microphone=(self), camera=(), geolocation=()",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-cache",
}
_CROWD: Final = "Too many are trying to come in at once. Try again in a moment."
_OTHER_VERSION: Final = "This page is from another version of the coach. Load it again."
_TOO_FAST: Final = "Too much has come from this page at once. Load it again."


def make_app(lessons: Lessons, code: str, log: Callable[[str], None] | None = None) -> FastAPI:
    """The server's application. `log` takes a line for every page that does not behave."""
    app = FastAPI(openapi_url=None, docs_url=None, redoc_url=None)
    pages = {entry.name: entry.read_bytes() for entry in (files("coach.web") / "pages").iterdir() if entry.is_file()}
    reception = _Reception(lessons, Door(code), log or _print)

    @app.middleware("http")
    async def guard(request: Request, answer: Callable[[Request], Awaitable[Response]]) -> Response:
        response = await answer(request)
        response.headers.update(_HEADERS)
        return response

    @app.get("/")
    async def learner() -> Response:
        return _page("lesson.html")

    @app.get("/static/{name}")
    async def static(name: str) -> Response:
        return _page(name)

    def _page(name: str) -> Response:
        if name not in pages:
            return Response("There is no such page here.", 404, media_type="text/plain")
        return Response(pages[name], media_type=_TYPES["." + name.rpartition(".")[2]])

    @app.websocket("/lesson")
    async def lesson(socket: WebSocket) -> None:
        await reception.receive(socket)

    return app


class _Reception:
    """Takes each connection in, and carries what comes over it into the learner's line."""

    def __init__(self, lessons: Lessons, door: Door, log: Callable[[str], None]) -> None:
        self._lessons, self._door, self._log = lessons, door, log
        self._waiting = 0

    async def receive(self, socket: WebSocket) -> None:
        address = socket.client.host if socket.client else ""
        if not same_origin(socket.headers.get("origin"), socket.headers.get("host")):
            self._log(f"{address}: a page from elsewhere was refused.")
            await socket.close()
            return
        await socket.accept()
        with suppress(WebSocketDisconnect, RuntimeError):  # it has gone
            there = await self._let_in(socket, address)
            if isinstance(there, Place):
                await self._attend(socket, there, address)
            elif there:
                self._log(f"{address}: {there}")
                await socket.send_text(written(Refused(there)))
                await socket.close()

    async def _let_in(self, socket: WebSocket, address: str) -> Place | str:
        """The learner who says hello, or why nobody comes in."""
        if self._waiting >= MOST_WAITING:
            return _CROWD
        self._waiting += 1
        try:
            with fail_after(_HELLO_SECONDS):
                hello = read(await _frame(socket))
        except TimeoutError:
            return "This page has said nothing. Load it again."
        finally:
            self._waiting -= 1
        if not isinstance(hello, Hello):
            return hello.why if isinstance(hello, Malformed) else "The page has to say hello first. Load it again."
        if hello.version != VERSION:
            return _OTHER_VERSION
        if back := self._lessons.back(hello):
            return back
        return self._door.refusal(hello.code, address, time.monotonic()) or self._lessons.enter(hello)

    async def _attend(self, socket: WebSocket, there: Place, address: str) -> None:
        outbox = Outbox()
        send = outbox.put  # one object, by which the line knows this connection
        there.line.connect(send, there.word)

        async def until_over(work: Awaitable[None]) -> None:
            """When either of the two is over, so is the other."""
            try:
                await work
            except (WebSocketDisconnect, RuntimeError):
                pass  # it has gone
            except Exception as error:  # no connection may harm another
                self._log(f"{address}: {type(error).__name__} on a connection, which was closed.")
            both.cancel_scope.cancel()

        try:
            async with create_task_group() as both:
                both.start_soon(until_over, outbox.send(socket))
                both.start_soon(until_over, self._carry(socket, there, address))
        finally:
            there.line.disconnect(send)

    async def _carry(self, socket: WebSocket, there: Place, address: str) -> None:
        """Put what comes into the line; returns when the page does not behave."""
        sounds = Allowance(FRAMES_A_SECOND, FRAMES_A_SECOND * BURST)
        texts = Allowance(TEXTS_A_SECOND, TEXTS_A_SECOND * BURST)
        malformed = 0
        while True:
            message = read(await _frame(socket))
            allowed = (sounds if isinstance(message, SoundFrame) else texts).take(time.monotonic())
            if isinstance(message, Malformed):
                malformed += 1
                self._log(f"{address}: {message.why}")
            if not allowed or malformed >= _MOST_MALFORMED:
                self._log(f"{address}: a connection was closed, since its page does not behave.")
                await socket.send_text(written(Refused(_TOO_FAST)))
                await socket.close()
                return
            _hand_over(message, there)


def _hand_over(message: FromLearner, there: Place) -> None:
    match message:
        case SoundFrame(sequence, block):
            there.line.microphone.sound(sequence, block)
        case PlayedUntil(utterance, samples):
            there.line.loudspeaker.report(utterance, samples)
        case Answer(text):
            there.line.type(text)
        case Leave():
            there.line.close()


async def _frame(socket: WebSocket) -> str | bytes:
    """The next frame. Raises WebSocketDisconnect."""
    message = await socket.receive()
    if message["type"] != "websocket.receive":
        raise WebSocketDisconnect(message.get("code", 1006))
    text: str | None = message.get("text")
    data: bytes = message.get("bytes") or b""
    return data if text is None else text


def _print(line: str) -> None:
    print(line, file=sys.stderr, flush=True)
