"""Walking through the moments at which a site changes, both ways, given only until when it is true at each moment."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from datetime import UTC, datetime, timedelta
from typing import TypeAlias

Truth: TypeAlias = Callable[[datetime], "datetime | None"]
"""A moment -> the first instant after it at which the site is another; None when it never is again."""

FIRST_STEP = timedelta(hours=2)
EARLIEST = datetime(1950, 1, 1, tzinfo=UTC)
"""Before any broadcast that a station could put into an archive (common practice, no source)."""
MOST_STRETCHES = 500


class Steps:
    """Remembers the stretches of time in which nothing changes, so that walking back and forth asks for each but once."""

    def __init__(self) -> None:
        self._of: Hashable = None
        self._stretches: list[tuple[datetime, datetime | None]] = []
        """(since a moment in it, until it ends) of the site that `_of` names."""

    def after(self, moment: datetime, of: Hashable, truth: Truth) -> datetime | None:
        """The first change after a moment. `of` names the site that `truth` speaks about."""
        if of != self._of:
            self._of, self._stretches = of, []
        for since, until in self._stretches:
            if since <= moment and (until is None or moment < until):
                return until
        until = truth(moment)
        since = min([moment, *(begun for begun, ended in self._stretches if ended == until)])
        self._stretches = [each for each in self._stretches if each[1] != until][-MOST_STRETCHES:]
        self._stretches.append((since, until))
        return until

    def before(self, moment: datetime, of: Hashable, truth: Truth) -> datetime | None:
        """The last change before a moment (one at the moment itself does not count); None when there was none."""
        step = FIRST_STEP
        lower = moment
        while lower > EARLIEST:
            lower = max(moment - step, EARLIEST)
            first = self.after(lower, of, truth)
            if first is not None and first < moment:
                return self._last(first, moment, of, truth)
            step *= 2
        return None

    def _last(self, change: datetime, moment: datetime, of: Hashable, truth: Truth) -> datetime:
        """The last change before a moment, from one of them on. By halving: each step begins at a change, so that the walk ends
        whatever lies between."""
        high = moment
        while True:
            later = self.after(change, of, truth)
            if later is None or later >= moment:
                return change
            change = later
            middle = change + (high - change) / 2
            beyond = self.after(middle, of, truth)
            if beyond is not None and beyond < moment:
                change = beyond
            else:
                high = middle
