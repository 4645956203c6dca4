"""News of saved files, as server-sent events (HTML Living Standard, 9.2): one event for each look at the station's files."""

from __future__ import annotations

import json
from collections.abc import Iterator

from sitegen.desk.exchange import Request, Response
from sitegen.desk.state import State

STILL_HERE_SECONDS = 15.0
"""A line now and then, so that both sides notice when the other is gone."""


def stream(request: Request, state: State) -> Response:
    """The number of the newest look, and of each after it, until either side goes."""
    return Response(headers={"Content-Type": "text/event-stream; charset=utf-8"}, body=_events(state))


def _events(state: State) -> Iterator[bytes]:
    told = state.latest().number - 1
    yield b"retry: 1000\n\n"
    while (number := state.wait_for_news(told, STILL_HERE_SECONDS)) is not None:
        if number > told:
            told = number
            yield f"data: {json.dumps({'run': state.run, 'number': number})}\n\n".encode()
        else:
            yield b": still here\n\n"
