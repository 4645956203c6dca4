"""A moment as a person writes it: the day, and the time of day where one is given.

Apart from the other records, so that a build with nothing to do need not define all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time


@dataclass(frozen=True, slots=True)
class When:
    """A date, or a date and a wall time, as written; the station's zone is understood."""

    day: date
    clock: time | None = None

    @property
    def order(self) -> tuple[date, bool, time]:
        """To sort by beginnings: a bare date stands before each hour of its day."""
        return (self.day, self.clock is not None, self.clock or time.min)
