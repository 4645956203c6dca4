"""What pages told the rest of the edition, packed: an archive's worth of it must not stand in memory as objects."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from urllib.parse import quote

import msgspec

from sitegen.proof.pagecheck import Extract


class Extracts(Mapping[str, Extract]):
    """Each page's extract by its site address, unpacked when it is asked for."""

    def __init__(self, packed: Mapping[str, bytes]) -> None:
        self._packed = packed

    def __getitem__(self, address: str) -> Extract:
        return msgspec.msgpack.decode(self._packed[address], type=Extract)

    def __iter__(self) -> Iterator[str]:
        return iter(self._packed)

    def __len__(self) -> int:
        return len(self._packed)

    def __contains__(self, address: object) -> bool:
        return address in self._packed

    def that_may_name(self, paths: set[str], ids: set[str]) -> set[str]:
        """The pages that may refer to one of some files of the site, or to one of some ids: all that do, and perhaps more.

        Seen in the packed bytes: whatever leads to a file ends with the last part of its address, before a fragment.
        """
        words = {_last_part(path) for path in paths} | {f"#{name}" for name in ids}
        needles = {
            spelling.encode()
            for word in words
            for spelling in (word, quote(word, safe="/#"), quote(word, safe=""))
        }
        return {
            address for address, packed in self._packed.items() if any(needle in packed for needle in needles)
        }


def _last_part(path: str) -> str:
    """`coats/` for `stories/2026/coats/index.html`, `a.css` for `assets/a.css`."""
    folder = path.removesuffix("index.html")
    if folder == path or not folder:
        return path.rpartition("/")[2]
    return folder.rstrip("/").rpartition("/")[2] + "/"
