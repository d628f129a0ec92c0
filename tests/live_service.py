"""Servers on this machine for tests: the service itself, and one that says what it is told to say."""

import json
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from werkzeug.serving import WSGIRequestHandler, make_server

from pourwright_service.app import create_app
from pourwright_service.settings import Settings


class _Quiet(WSGIRequestHandler):
    def log(self, type: str, message: str, *args: Any) -> None:
        """Tests say themselves what went wrong."""


@contextmanager
def live_service(mesh_dir: Path, *, api_keys: tuple[str, ...] = ()) -> Iterator[str]:
    """The service behind a real socket; gives its address."""
    app = create_app(Settings(mesh_dir=mesh_dir, api_keys=api_keys))
    server = make_server("127.0.0.1", 0, app, threaded=True, request_handler=_Quiet)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@dataclass(frozen=True)
class Reply:
    """One scripted reply; ``drop`` closes the connection unanswered, ``delay`` waits first."""

    status: int = 200
    body: Any = None
    headers: dict[str, str] = field(default_factory=dict)
    drop: bool = False
    delay: float = 0.0


@dataclass(frozen=True)
class Asked:
    """A request as it arrived."""

    method: str
    path: str
    headers: dict[str, str]
    body: bytes


@dataclass
class Scripted:
    """A server that gives its replies in order, the last one for ever, and remembers what it was asked."""

    replies: list[Reply] = field(default_factory=list)
    asked: list[Asked] = field(default_factory=list)
    url: str = ""

    def next_reply(self) -> Reply:
        return self.replies.pop(0) if len(self.replies) > 1 else self.replies[0]


@contextmanager
def scripted_server() -> Iterator[Scripted]:
    """A server that says what it is told to say."""
    script = Scripted()

    class Handler(BaseHTTPRequestHandler):
        def log_message(self, format: str, *args: Any) -> None:
            """Nothing."""

        def answer(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
            script.asked.append(Asked(self.command, self.path, dict(self.headers.items()), body))
            reply = script.next_reply()
            threading.Event().wait(reply.delay)  # tests replace time.sleep
            if reply.drop:
                self.connection.shutdown(socket.SHUT_RDWR)
                return
            text = reply.body if isinstance(reply.body, bytes) else json.dumps(reply.body).encode()
            self.send_response(reply.status)
            for name, value in {"Content-Type": "application/json", **reply.headers}.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(text)))
            with suppress(BrokenPipeError, ConnectionResetError):  # the client may have given up
                self.end_headers()
                self.wfile.write(text)

        do_GET = do_POST = do_PUT = answer

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    script.url = f"http://127.0.0.1:{server.server_port}"
    try:
        yield script
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
