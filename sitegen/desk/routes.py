"""Every address of the desk and who answers at it. All of them lie below `/_desk/`; everything else is the edition's."""

from __future__ import annotations

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


def answer(request: Request, state: State) -> Response:
    """The response to a request that the guards let through."""
    fitting = [route for route in ROUTES if _fits(route[1], request.path)]
    if not fitting:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    longest = max(len(address) for _, address, _ in fitting)
    there = {method: handler for method, address, handler in fitting if len(address) == longest}
    handler = there.get(request.method)
    if handler is None:
        allowed = ", ".join(sorted({*there, *(["HEAD"] if "GET" in there else [])}))
        return Response(HTTPStatus.METHOD_NOT_ALLOWED, {"Allow": allowed})
    return handler(request, state)


def _fits(address: str, path: str) -> bool:
    return path.startswith(address) if address.endswith("/") else path == address
