"""`turncaller serve`: lessons in browsers."""

from __future__ import annotations

import socket
from argparse import Namespace
from contextlib import closing, suppress
from ipaddress import ip_address
from typing import TYPE_CHECKING, Final

from coach.app.commands.common import tell
from coach.app.runtime import Runtime
from coach.method import Method, MethodError, default_method
from coach.method import load as load_method
from coach.records.profile import Profile

if TYPE_CHECKING:
    from fastapi import FastAPI

_OTHERS: Final = (
    "Every device in this network can reach it. Browsers on other devices give no microphone to a page without "
    "encryption: there the coach speaks, and answers are typed."
)


def serve(args: Namespace) -> int:
    """Serve until Ctrl-C."""
    from coach.records.unfinished import Unfinished
    from coach.web.doors import new_code
    from coach.web.lessons import Lessons
    from coach.web.server import make_app

    def method(profile: Profile) -> Method:
        return load_method(args.method, profile.hand) if args.method else default_method(profile.hand)

    try:
        method(Profile())
    except MethodError as error:
        tell(error)
        return 1
    try:
        listening = _listening(args.host, args.port)
    except OSError as error:
        tell(f"Nothing can listen on {args.host}, port {args.port}: {error.strerror or error}. Try another --port.")
        return 1
    with Runtime() as runtime, listening:
        tell("One moment: the coach is getting ready.")
        runtime.language  # noqa: B018 - loaded now, so that nobody waits for it
        with closing(Unfinished(tell)) as unfinished, closing(Lessons(runtime, method, unfinished)) as lessons:
            code = new_code()
            tell(_invitation(listening, code))
            with suppress(KeyboardInterrupt):  # Ctrl-C is how it ends
                _run(make_app(lessons, code), listening)
    return 0


def _listening(host: str, port: int) -> socket.socket:
    """A socket that listens there. Raises OSError."""
    family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
    listening = socket.socket(family, kind, protocol)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(address)
        listening.listen()  # who comes before all is ready waits
    except OSError:
        listening.close()
        raise
    return listening


def _invitation(listening: socket.socket, code: str) -> str:
    host, port = listening.getsockname()[:2]
    own = ip_address(host).is_loopback
    name = "localhost" if own else socket.gethostname() if ip_address(host).is_unspecified else host
    reach = "Only browsers on this machine reach it: --host 0.0.0.0 lets others in." if own else _OTHERS
    return "\n".join([
        f"Learners open   http://{f'[{name}]' if ':' in name else name}:{port}/",
        f"The join code   {code}",
        reach,
        "Ctrl-C ends all lessons and the server.",
    ])  # fmt: skip


def _run(app: FastAPI, listening: socket.socket) -> None:
    import uvicorn

    from coach.web.protocol import LONGEST_TEXT

    config = uvicorn.Config(
        app, log_level="warning", access_log=False, ws="websockets-sansio", ws_max_size=4 * LONGEST_TEXT,
        ws_ping_interval=10, ws_ping_timeout=10, ws_per_message_deflate=False, server_header=False,
        proxy_headers=False, timeout_graceful_shutdown=2, limit_concurrency=500,
    )  # fmt: skip
    uvicorn.Server(config).run(sockets=[listening])
