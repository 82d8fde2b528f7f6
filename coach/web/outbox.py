"""Frames on their way to one page: put in from any thread, sent by the socket's task."""

from __future__ import annotations

import asyncio
from collections import deque
from contextlib import suppress
from typing import Final

from starlette.websockets import WebSocket, WebSocketDisconnect

_MOST_BYTES: Final = 1 << 20
"""A page that leaves so much unread is given up: sound goes out two seconds ahead, which is a tenth of this."""


class Outbox:
    """What is to be sent, in order."""

    def __init__(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._frames: deque[str | bytes | None] = deque()
        self._bytes = 0
        self._changed = asyncio.Event()

    def put(self, frame: str | bytes | None) -> None:
        """Add a frame, from any thread; None closes the connection once all before it is sent."""
        with suppress(RuntimeError):  # the server has ended
            self._loop.call_soon_threadsafe(self._add, frame)

    async def send(self, socket: WebSocket) -> None:
        """Send until the connection is to be closed, and close it."""
        while True:
            while self._frames:
                frame = self._frames.popleft()
                if frame is None:
                    with suppress(RuntimeError, WebSocketDisconnect):
                        await socket.close()
                    return
                self._bytes -= len(frame)
                await (socket.send_bytes(frame) if isinstance(frame, bytes) else socket.send_text(frame))
            self._changed.clear()
            await self._changed.wait()

    def _add(self, frame: str | bytes | None) -> None:
        if frame is not None:
            self._bytes += len(frame)
            if self._bytes > _MOST_BYTES:
                self._frames.clear()
                self._bytes, frame = 0, None
        self._frames.append(frame)
        self._changed.set()
