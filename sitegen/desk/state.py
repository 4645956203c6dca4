"""What the desk knows while it runs: the root, the token of this run, and the newest reading of the content.

Every reading is a `Look`, numbered and never changed; handlers take one and work on it to their end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from threading import Lock

from sitegen.newsroom.records import Finding, Newsroom, Reading
from sitegen.site.content import read_content
from sitegen.site.moments import moment_for
from sitegen.site.order import look


@dataclass(frozen=True)
class Look:
    """The content as it was read at one moment."""

    number: int
    """Rises by one with every change that was read; from 1."""
    reading: Reading

    @property
    def newsroom(self) -> Newsroom | None:
        return self.reading.newsroom

    @cached_property
    def findings_by_file(self) -> dict[str, tuple[Finding, ...]]:
        """What the reading found, by path such as `content/stories/2026/coats.md`."""
        found: dict[str, list[Finding]] = {}
        for finding in self.reading.findings:
            found.setdefault(finding.spot.path, []).append(finding)
        return {path: tuple(each) for path, each in found.items()}


class State:
    """One run of the desk. Safe to ask from many threads."""

    def __init__(self, root: Path, asked: str, present: Callable[[], datetime], token: str) -> None:
        """`asked` is the moment of `--as-of` as written, empty for none; `present` tells the present moment (UTC)."""
        self.root = root
        self.token = token
        """Must come with every post; new in every run."""
        self.present = present
        self.asked = asked
        self._lock = Lock()
        self._states: object = None
        self._look: Look | None = None

    def latest(self) -> Look:
        """The content as it is on the disk now, read again if it has changed."""
        with self._lock:
            states = look(self.root, self.present()).states
            if self._look is None or states != self._states:
                number = self._look.number + 1 if self._look is not None else 1
                self._look, self._states = Look(number, read_content(self.root)), states
            return self._look

    def moment(self) -> datetime:
        """The moment (UTC) that pages are shown for where no other is chosen."""
        newsroom = self.latest().newsroom
        present = self.present()
        return moment_for(newsroom.station, self.asked, present) if newsroom is not None else present
