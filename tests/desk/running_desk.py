"""A desk's server running in a thread of the test's process, and a client that sends exactly what it is told to."""

from __future__ import annotations

import http.client
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sitegen.desk.server import DeskServer
from sitegen.desk.state import State

TOKEN = "a-token-of-this-run"


@dataclass(frozen=True, slots=True)
class Answer:
    status: int
    headers: Mapping[str, str]
    """By name in small letters."""
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()


class Desk:
    def __init__(self, server: DeskServer) -> None:
        self.server = server
        self.state = server.state

    @property
    def address(self) -> str:
        return self.server.address

    def ask(
        self, path: str, method: str = "GET", headers: Mapping[str, str] | None = None, body: bytes = b""
    ) -> Answer:
        """One request. Without headers of its own it is one that a page of the desk would send."""
        host = f"127.0.0.1:{self.server.port}"
        sent = {"Host": host, **({"Origin": f"http://{host}"} if method == "POST" else {}), **(headers or {})}
        connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=30)
        try:
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, value in sent.items():
                connection.putheader(name, value)
            if method == "POST" and "Content-Length" not in sent and "Transfer-Encoding" not in sent:
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            response = connection.getresponse()
            return Answer(
                response.status,
                {name.lower(): value for name, value in response.getheaders()},
                response.read(),
            )
        finally:
            connection.close()


@contextmanager
def desk_of(
    root: Path,
    as_of: str = "",
    present: Callable[[], datetime] = lambda: datetime(2026, 12, 2, 17, tzinfo=UTC),
    token: str = TOKEN,
    port: int = 0,
) -> Iterator[Desk]:
    """A desk for a station's folder; `port` 0 is any free one."""
    with DeskServer(State(root, as_of, present, token), port) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield Desk(server)
        finally:
            server.shutdown()
            thread.join()
            server.hang_up()
