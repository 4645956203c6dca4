"""What the next search can be made from, kept between builds beside the ledger.

A state that is older than the site is right all the same: it says of each story what its words were made from.
"""

from __future__ import annotations

from pathlib import Path

import msgspec

from sitegen.newsroom.keeping import Spread, one_by_one
from sitegen.site.sealed import SealedFile
from sitegen.typeset.searchdata import SearchState

SEARCH_NAME = "search.state"


class SearchShelf:
    """The state in a folder."""

    def __init__(self, folder: Path, ground: str, fresh: bool = False, spread: Spread = one_by_one) -> None:
        """As `SealedFile`; `spread` as in `SearchKept`."""
        self.spread = spread
        self._file = SealedFile(folder / SEARCH_NAME, ground, fresh)

    def take(self) -> SearchState | None:
        data = self._file.take()
        if data is None:
            return None
        try:
            return msgspec.msgpack.decode(data, type=SearchState)
        except msgspec.MsgspecError:
            return None

    def put(self, state: SearchState) -> None:
        # At once: it holds the words of all stories, and would stand in memory while the site is published.
        self._file.keep(msgspec.msgpack.encode(state))
