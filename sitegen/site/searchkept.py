"""What the next search can be made from, kept between builds beside the ledger.

One file that bears its own digest and that of the program. A state that is older than the site is right all the same: it says
of each story what its words were made from.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import msgspec

from sitegen.site.ledger import seal
from sitegen.typeset.searchdata import SearchState

SEARCH_NAME = "search.state"
_SEAL = 16


class SearchShelf:
    """The state in a folder. One that cannot be read or written is none."""

    def __init__(self, folder: Path, ground: str, fresh: bool = False) -> None:
        """`ground` stands for the program; with `fresh`, nothing of before is believed."""
        self._place = folder / SEARCH_NAME
        self._ground = ground.encode()
        self._fresh = fresh
        self._new: SearchState | None = None

    def take(self) -> SearchState | None:
        if self._fresh:
            return None
        try:
            data = self._place.read_bytes()
        except OSError:
            return None
        if data[:_SEAL] != seal(self._ground, data[_SEAL:]):
            return None
        try:
            return msgspec.msgpack.decode(data[_SEAL:], type=SearchState)
        except msgspec.MsgspecError:
            return None

    def put(self, state: SearchState) -> None:
        self._new = state

    def save(self) -> None:
        """Writes what was put. A file cut short by a kill does not bear its digest."""
        if self._new is None:
            return
        packed = msgspec.msgpack.encode(self._new)
        try:
            self._place.write_bytes(seal(self._ground, packed) + packed)
        except OSError:
            with suppress(OSError):
                self._place.unlink()
        self._new = None
