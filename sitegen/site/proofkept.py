"""What the contrast engine has learnt of the theme, kept between builds, so that a process need not learn it before its first page.

Processes that make pages leave what they learnt in the spool; the build keeps the one that learnt most.
"""

from __future__ import annotations

import os
from pathlib import Path

from sitegen.proof.pagecheck import ContrastJudge
from sitegen.site.sealed import SealedFile

LEARNT_NAME = "proof.learnt"
_PREFIX = "learnt-"
_WORTH_TELLING = 200
"""Elements worked out anew from which on telling costs less than learning (measured on pages of the demonstration)."""


class Learning:
    """What one judge learns, left in a folder whenever it has become twice as much."""

    def __init__(self, judge: ContrastJudge, spool: Path | None) -> None:
        self._judge = judge
        self._spool = spool
        self._next = _WORTH_TELLING

    def look(self) -> None:
        """To be called now and then, and at the end."""
        if self._spool is None or self._judge.news < self._next:
            return
        self._next = 2 * self._judge.news
        learnt = self._judge.learnt()
        if learnt is not None:
            part = self._spool / f".{_PREFIX}{os.getpid()}"
            part.write_bytes(learnt)
            part.replace(self._spool / f"{_PREFIX}{os.getpid()}")


class LearntShelf:
    """What was learnt, in a folder."""

    def __init__(self, folder: Path, ground: str, fresh: bool = False) -> None:
        """As `SealedFile`."""
        self._file = SealedFile(folder / LEARNT_NAME, ground, fresh)

    def take(self) -> bytes:
        """Empty where nothing is known."""
        return self._file.take() or b""

    def keep_of(self, spool: Path) -> None:
        """Keeps what the process that learnt most left in the spool."""
        try:
            left = [place.read_bytes() for place in spool.glob(f"{_PREFIX}*")]
        except OSError:
            return
        if left:
            self._file.keep(max(left, key=len))
