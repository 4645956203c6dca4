"""The desk's own files: its stylesheet and scripts."""

from __future__ import annotations

from http import HTTPStatus

from sitegen.desk.exchange import Request, Response, plain
from sitegen.desk.pages import ASSETS, FOLDER
from sitegen.desk.state import State

_TYPES = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}


def show(request: Request, state: State) -> Response:
    """One file of the folder `assets`, by its name alone."""
    name = request.path.removeprefix(ASSETS)
    files = {path.name: path for path in (FOLDER / "assets").iterdir() if path.suffix in _TYPES}
    if name not in files:
        return plain(HTTPStatus.NOT_FOUND, "There is no such file.")
    return Response(headers={"Content-Type": _TYPES[files[name].suffix]}, body=files[name].read_bytes())
