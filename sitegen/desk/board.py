"""The desk's first page: what the newsroom must know and do."""

from __future__ import annotations

from sitegen.desk.exchange import Request, Response
from sitegen.desk.pages import page
from sitegen.desk.state import State


def show(request: Request, state: State) -> Response:
    """The board."""
    return page(state, "board.html", title="The desk")
