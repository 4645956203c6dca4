"""One file kept between builds that bears its own digest and that of the program: whole, or not there."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from sitegen.site.ledger import seal

_SEAL = 16
"""Bytes of a seal."""


class SealedFile:
    """A file in a folder. One that cannot be read or written is none."""

    def __init__(self, place: Path, ground: str, fresh: bool = False) -> None:
        """`ground` stands for the program; with `fresh`, nothing of before is believed."""
        self._place = place
        self._ground = ground.encode()
        self._fresh = fresh

    def take(self) -> bytes | None:
        """What was kept by the same program; None without it."""
        if self._fresh:
            return None
        try:
            data = self._place.read_bytes()
        except OSError:
            return None
        rest = memoryview(data)[_SEAL:]
        return bytes(rest) if data[:_SEAL] == seal(self._ground, rest) else None

    def keep(self, data: bytes) -> None:
        """Writes it. A file cut short by a kill does not bear its digest."""
        try:
            with self._place.open("wb") as file:
                file.write(seal(self._ground, data))
                file.write(data)
        except OSError:
            with suppress(OSError):
                self._place.unlink()
