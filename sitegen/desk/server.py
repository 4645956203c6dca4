"""The desk's server: sockets in, records to the handlers, records out. Listens on this machine alone."""

from __future__ import annotations

import secrets
import socketserver
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import parse_qsl, urlsplit

from sitegen.desk.exchange import Request, Response, plain
from sitegen.desk.guards import clean_path, protected, refuse_head, refuse_token
from sitegen.desk.log import say_mistake
from sitegen.desk.routes import answer, answer_outdated
from sitegen.desk.state import State
from sitegen.desk.watching import Watch
from sitegen.site.errors import MachineError

LOOPBACK = "127.0.0.1"
BOTH_WAYS = 2
"""`SHUT_RDWR` of sockets; the module itself would let the desk reach out."""
R = TypeVar("R")
QUIET_SECONDS = 30
"""How long a connection may say nothing."""


class DeskServer(ThreadingHTTPServer):
    """Answers on loopback until it is shut down. Each connection has a thread of its own."""

    daemon_threads = False
    block_on_close = True

    def __init__(self, state: State, port: int) -> None:
        """`port` 0 takes any free one. Raises OSError when the port is taken."""
        super().__init__((LOOPBACK, port), _Exchange)
        self.state = state
        self.ended = threading.Event()
        """Never set by the server itself: whoever wants it to end does."""
        self._open: set[Any] = set()

    @property
    def port(self) -> int:
        return int(self.server_address[1])

    @property
    def address(self) -> str:
        return f"http://{LOOPBACK}:{self.port}/"

    def server_bind(self) -> None:
        # Not HTTPServer's, which asks the network for this machine's name.
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = LOOPBACK, self.port

    def process_request(self, request: Any, client_address: Any) -> None:
        self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        self._open.discard(request)
        super().shutdown_request(request)

    def hang_up(self) -> None:
        """Ends every connection, so that no thread waits for a browser that keeps one open."""
        for request in tuple(self._open):
            with suppress(OSError):
                request.shutdown(BOTH_WAYS)

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that went away is no news."""


def serve(
    root: Path,
    port: int,
    as_of: str,
    present: Callable[[], datetime],
    ready: Callable[[str], None] = lambda address: None,
) -> None:
    """Serves the preview and the desk of a station until it is interrupted.

    `as_of` is a moment as written, empty for none; `present` tells the present moment (UTC); `ready` is told the address once
    the server answers. Raises MachineError when the port is taken, and RefusedError when the moment cannot be read.
    """
    with running(root, port, as_of, present) as server:
        ready(server.address)
        server.ended.wait()


@contextmanager
def running(root: Path, port: int, as_of: str, present: Callable[[], datetime]) -> Iterator[DeskServer]:
    """A server at work, for as long as the block runs; then every thread of it ends. Arguments as in `serve`."""
    state = State(root, as_of, present, secrets.token_urlsafe(32))
    with _listening(state, port) as server:
        watch = Watch(root, state.folders, state.refresh)
        thread = threading.Thread(target=server.serve_forever, args=(0.1,), name="desk")
        try:
            state.moment()  # reads everything, and refuses a moment that cannot be read
            thread.start()
            yield server
        finally:
            state.close()
            if thread.is_alive():
                server.shutdown()
                thread.join()
            watch.stop()
            server.hang_up()


def _listening(state: State, port: int) -> DeskServer:
    try:
        return DeskServer(state, port)
    except OSError as error:
        raise MachineError(
            f"Port {port} cannot be used: {error.strerror or error}. Choose another: --port N"
        ) from error


class _Exchange(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    timeout = QUIET_SECONDS
    server: DeskServer

    def do_GET(self) -> None:
        self._exchange()

    def do_HEAD(self) -> None:
        self._exchange()

    def do_POST(self) -> None:
        self._exchange()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What the library finds wrong with a request, under the same headers as everything else."""
        status = HTTPStatus(code)
        self.close_connection = True
        # A request that could not be read has set neither.
        self.command = getattr(self, "command", None) or "GET"
        self.requestline = getattr(self, "requestline", "")
        self._send(plain(status, status.phrase + "."))

    def log_message(self, format: str, *args: object) -> None:
        """Says nothing: the terminal is for what the producer must know."""

    def version_string(self) -> str:
        return "sitegen"

    def _exchange(self) -> None:
        headers = {name.lower(): value for name, value in self.headers.items()}
        hosts = self.headers.get_all("host") or []
        refusal = refuse_head(self.command, headers, hosts, self.server.port)
        if refusal is not None:
            self.close_connection = True  # its body was not read
            self._send(refusal)
            return
        path = clean_path(self.path)
        if path is None:
            self.close_connection = True
            self._send(plain(HTTPStatus.BAD_REQUEST, "There is no such address."))
            return
        length = int(headers["content-length"]) if self.command == "POST" else 0
        body = self.rfile.read(length)
        if len(body) < length:
            self.close_connection = True
            return  # the browser went away
        method = "GET" if self.command == "HEAD" else self.command
        query = tuple(parse_qsl(urlsplit(self.path).query, keep_blank_values=True))
        request = Request(method, path, query, headers, body)
        state = self.server.state
        refusal = refuse_token(request, state.token)
        if refusal is None:
            response = self._answer(request, state, answer)
        else:
            response = refusal
            # A form came from a page of this server (`refuse_head`), so what it holds may be shown to whoever sent it.
            again = (
                self._answer(request, state, answer_outdated)
                if refusal.status is HTTPStatus.FORBIDDEN
                else None
            )
            if again is not None:
                response = again
        if request.method == "POST" and response.status is HTTPStatus.SEE_OTHER:
            # It wrote a file, and the page that it leads to shows it.
            state.refresh()
        self._send(response)

    def _answer(
        self, request: Request, state: State, answering: Callable[[Request, State], R]
    ) -> R | Response:
        try:
            return answering(request, state)
        except Exception:
            # One page that the program cannot make must not silence the rest; whoever mends it needs to know where.
            say_mistake()
            return plain(
                HTTPStatus.INTERNAL_SERVER_ERROR,
                "The preview failed at this page. That is a mistake in the program, not in what you wrote; the terminal says more.",
            )

    def _send(self, response: Response) -> None:
        whole = response.body if isinstance(response.body, bytes) else None
        self.send_response(response.status)
        for name, value in protected(response.headers).items():
            self.send_header(name, value)
        if whole is None:
            self.close_connection = True
            self.send_header("Connection", "close")
        else:
            self.send_header("Content-Length", str(len(whole)))
        self.end_headers()
        if self.command == "HEAD":
            return
        with suppress(ConnectionError, TimeoutError):
            if whole is not None:
                self.wfile.write(whole)
                return
            for piece in response.body:
                assert isinstance(piece, bytes)
                self.wfile.write(piece)
                self.wfile.flush()
