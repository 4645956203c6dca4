"""What the desk knows while it runs: the root, the token of this run, and the newest look at the station's files."""

from __future__ import annotations

import gc
from collections.abc import Callable, Collection
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from threading import Condition, Lock

from sitegen.desk.looking import Look, Looker
from sitegen.desk.setting import Room, settle
from sitegen.site.moments import moment_for

__all__ = ["Look", "State"]


class State:
    """One run of the desk. Safe to ask from many threads."""

    def __init__(self, root: Path, asked: str, present: Callable[[], datetime], token: str) -> None:
        """`asked` is the moment of `--as-of` as written, empty for none; `present` tells the present moment (UTC)."""
        self.root = root
        self.token = token
        """Must come with every post; new in every run."""
        self.run = sha256(token.encode()).hexdigest()[:12]
        """Names this run to those who may know no token."""
        self.present = present
        self.asked = asked
        self.room = Room(root)
        self._reading = Lock()
        self._looker: Looker | None = None
        self._news = Condition()
        self._number = 0
        self._is_over = False

    @property
    def folders(self) -> tuple[Path, ...]:
        """What is to be watched: the station's content and themes."""
        return (self.root / "content", self.root / "themes")

    def latest(self) -> Look:
        """The newest look; the first call reads everything."""
        looker = self._looker
        return looker.newest if looker is not None else self.refresh()

    def refresh(self, paths: Collection[str] | None = None) -> Look:
        """Looks again and tells those who wait if anything changed. `paths`, relative to the root, are all that may have
        changed; None when anything may have, as after a file was written by a handler."""
        with self._reading:
            # Records are trees: there is nothing in them for the collector to find, and searching ten thousand stories
            # for it, again and again, would cost more than reading them.
            gc.disable()
            try:
                if self._looker is None:
                    self._looker = Looker(self.root, self.present())
                newest = self._looker.again(self.present(), paths)
                if newest.number > self._number:
                    settle()
            finally:
                gc.enable()
        with self._news:
            if newest.number > self._number:
                self._number = newest.number
                self._news.notify_all()
        return newest

    def moment(self) -> datetime:
        """The moment (UTC) that pages are shown for where no other is chosen: that asked for, else the one the station
        fixes, else the minute that runs now."""
        newsroom = self.latest().newsroom
        present = self.present().replace(second=0, microsecond=0)
        return moment_for(newsroom.station, self.asked, present) if newsroom is not None else present

    # --- news ---

    def wait_for_news(self, after: int, seconds: float) -> int | None:
        """The number of the newest look once it is above `after`, or whatever it is after so many seconds; None when the desk
        closes."""
        with self._news:
            self._news.wait_for(lambda: self._is_over or self._number > after, seconds)
            return None if self._is_over else self._number

    def close(self) -> None:
        """Lets all go who wait."""
        with self._news:
            self._is_over = True
            self._news.notify_all()
