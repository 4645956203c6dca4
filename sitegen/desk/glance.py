"""Which moment a browser looks at, and the address that says so.

A moment chosen stands in the path: `/_desk/at/2026-12-05T18:00/` is the site's root as of then, and `/_desk/held/...` the same
with held stories let through. Links of the edition are relative, so the moment stays through every link, stylesheet and data
file, each tab can look at another one, and no cookie is needed. `now` is the desk's own moment.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sitegen.newsroom.times import TimeError, read_moment

AT, HELD = "/_desk/at/", "/_desk/held/"
NOW = "now"


@dataclass(frozen=True, slots=True)
class Glance:
    """One way to look at the site."""

    moment: datetime | None = None
    """UTC; None for the desk's own moment."""
    held: bool = False

    def root(self, zone: ZoneInfo) -> str:
        """The path of the site's root."""
        if self.moment is None and not self.held:
            return "/"
        when = moment_text(self.moment, zone) if self.moment is not None else NOW
        return f"{HELD if self.held else AT}{when}/"

    def path(self, address: str, zone: ZoneInfo) -> str:
        """The path of a page at a site address."""
        return self.root(zone) + address


def read_glance(path: str, zone: ZoneInfo) -> tuple[Glance, str]:
    """How a path looks at the site, and the site address it looks at. Raises TimeError, in words, when its moment cannot be
    read."""
    for prefix in (AT, HELD):
        if path.startswith(prefix):
            when, _, address = path.removeprefix(prefix).partition("/")
            moment = None if when == NOW else read_when_chosen(when, zone)
            return Glance(moment, prefix == HELD), address
    return Glance(), path.removeprefix("/")


def read_when_chosen(text: str, zone: ZoneInfo) -> datetime:
    """A moment (UTC) as an address or a field of a browser has it. Raises TimeError."""
    day, mark, clock = text.strip().partition("T")
    try:
        # A browser's field has a T between date and time, which only an instant with an offset has in our files.
        return read_moment(f"{day} {clock}" if mark and len(clock) <= 5 else text, zone)
    except OverflowError as error:
        raise TimeError(f"'{text}' is too far away.") from error


def moment_text(moment: datetime, zone: ZoneInfo) -> str:
    """A moment as its address has it: local, and with its offset where the clock shows that time twice."""
    local = moment.astimezone(zone)
    text = local.strftime("%Y-%m-%dT%H:%M")
    if moment.second or read_when_chosen(text, zone) != moment:
        return local.isoformat(timespec="seconds")
    return text
