"""The desk's first page: what the newsroom must know and do."""

from __future__ import annotations

from http import HTTPStatus

from sitegen.desk.exchange import Request, Response, plain
from sitegen.desk.pages import HOME, page
from sitegen.desk.state import State


def show(request: Request, state: State) -> Response:
    """The board."""
    if request.path != HOME:
        return plain(HTTPStatus.NOT_FOUND, "There is no such page.")
    return page(state, "board.html", title="The desk")
