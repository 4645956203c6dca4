"""Every address of the desk and who answers at it. All of them lie below `/_desk/`; everything else is the edition's."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import TypeAlias

from sitegen.desk import board, changes, preview, shelf
from sitegen.desk.exchange import Handler, Request, Response, plain
from sitegen.desk.state import State
from sitegen.desk.write import begin, editor

Route: TypeAlias = tuple[str, str, Handler]
"""(method, address, who answers). An address that ends in a slash takes all below it, another one only itself; the longest wins."""

ROUTES: tuple[Route, ...] = (
    ("GET", "/", preview.show),
    ("GET", "/_desk/", board.show),
    ("GET", "/_desk/assets/", shelf.show),
    ("GET", "/_desk/at/", preview.show),
    ("GET", "/_desk/changes", changes.stream),
    ("GET", "/_desk/go", preview.go),
    ("GET", "/_desk/held/", preview.show),
    ("GET", "/_desk/write/", begin.show),
    ("POST", "/_desk/write/", editor.take),
    ("POST", "/_desk/write/check/", editor.check_typed),
    ("GET", "/_desk/write/new/", begin.ask),
    ("POST", "/_desk/write/new/", begin.take),
)

OUTDATED: Mapping[Handler, Handler] = {editor.take: editor.show_again, begin.take: begin.ask_again}
"""Who shows a form once more, filled in and with this run's token, instead of who takes it. These write nothing."""


def answer(request: Request, state: State) -> Response:
    """The response to a request that the guards let through."""
    there = _handlers(request.path)
    if not there:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    handler = there.get(request.method)
    if handler is None:
        allowed = ", ".join(sorted({*there, *(["HEAD"] if "GET" in there else [])}))
        return Response(HTTPStatus.METHOD_NOT_ALLOWED, {"Allow": allowed})
    return handler(request, state)


def answer_outdated(request: Request, state: State) -> Response | None:
    """The response to a post of this server's own pages that lacks the token of this run; None where it is only refused."""
    handler = _handlers(request.path).get(request.method)
    again = OUTDATED.get(handler) if handler is not None else None
    return again(request, state) if again is not None else None


def _handlers(path: str) -> dict[str, Handler]:
    """Who answers at an address, by method."""
    fitting = [route for route in ROUTES if _fits(route[1], path)]
    longest = max((len(address) for _, address, _ in fitting), default=0)
    return {method: handler for method, address, handler in fitting if len(address) == longest}


def _fits(address: str, path: str) -> bool:
    return path.startswith(address) if address.endswith("/") else path == address
