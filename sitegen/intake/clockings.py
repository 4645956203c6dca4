"""The times of a rundown's cells as newsrooms write them: `0:34`, `:34`, `34s`, `18:30:13`, `6:30 PM`, `1'30"`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time

DAY = 86400.0
MINUTE = 60.0
_COLONS = re.compile(
    r"(?:(?P<hours>\d{1,2}):)?(?P<minutes>\d{0,3}):(?P<seconds>\d\d)(?:[.;:,]\d+)?\s*(?P<half>[ap])?\.?\s*m?\.?\Z",
    re.IGNORECASE,
)
_UNITS = re.compile(
    r"(?:(\d{1,2})\s*h(?:ours?|rs?)?\.?)?\s*(?:(\d{1,3})\s*(?:m(?:in(?:utes?|s)?)?\.?|['’′]))?\s*"
    r"(?:(?<=['’′])(\d{1,2})|(\d{1,4}(?:\.\d+)?)\s*(?:s(?:ec(?:onds?|s)?)?\.?|[\"”″]|''))?\Z",
    re.IGNORECASE,
)
_BEFORE = re.compile(r"\A(?:\+|\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}[T ]\s*)")
"""What spreadsheets write before a time of the day; and a sign before one that counts."""
_NUMBER = re.compile(r"\d{1,4}(?:\.\d+)?\Z")
_EARLY, _LATE = 120.0, 1800.0
"""Seconds before and after the air time within which a first time counts as one of the day."""
_LATE_START = 600.0
"""Seconds after which no programme's first row begins: what is later is a time of the day (chosen here)."""


@dataclass(frozen=True, slots=True)
class Clocking:
    """What a cell says, in seconds."""

    seconds: float
    by_minute: float | None = None
    """Of the day, where its two numbers may be hours and minutes."""
    whole_minutes: bool = False
    """It is a time of the day without seconds, whatever stands beside it."""


def read_clocking(written: str) -> Clocking | None:
    """The time in a cell; None where it is none."""
    written = _BEFORE.sub("", written.strip())
    match = _COLONS.match(written)
    if match is not None:
        return _of_colons(match)
    if _NUMBER.match(written):
        # `1830` is a time of the day, as the military writes it, where that lies near the air time.
        hours, minutes = divmod(int(float(written)), 100)
        day = hours * 3600 + minutes * 60 if len(written) in (3, 4) and hours < 24 and minutes < 60 else None
        return Clocking(float(written), day)
    units = _UNITS.match(written)
    if units is None or not written:
        return None
    hours, minutes = int(units[1] or 0), int(units[2] or 0)
    return Clocking(hours * 3600 + minutes * 60 + float(units[3] or units[4] or 0))


def _of_colons(match: re.Match[str]) -> Clocking | None:
    if match["hours"] is None and match["half"]:  # `6:30 pm` is hours and minutes.
        hours, minutes, seconds = int(match["minutes"] or 0), int(match["seconds"]), 0
    else:
        hours, minutes, seconds = int(match["hours"] or 0), int(match["minutes"] or 0), int(match["seconds"])
    if seconds > 59 or (match["hours"] and minutes > 59):
        return None
    if match["half"]:
        hours = hours % 12 + (12 if match["half"].lower() == "p" else 0)
    total = float(hours * 3600 + minutes * 60 + seconds)
    if match["hours"] or match["half"]:
        return Clocking(total, whole_minutes=match["hours"] is None)
    of_day = minutes < 24 and bool(match["minutes"])
    return Clocking(total, minutes * 3600.0 + seconds * 60.0 if of_day else None)


def from_air(
    cells: Sequence[Clocking], aired: time | None, *, clock: bool
) -> tuple[list[float], list[bool], bool]:
    """(seconds from the programme's beginning, which of them are known to the minute only, whether they are times of the day
    that are not near the air time). `clock`: their column says that they are times of the day.

    Times of the day are known by being near the air time, or by being too late for the first of a programme.
    """
    first = cells[0]
    if first.by_minute is None:
        in_hours = _air_near(first.seconds, aired) is not None
    else:
        in_hours = _counts_hours(first.by_minute, first.seconds, aired, clock=clock)
    values = [each.by_minute if in_hours and each.by_minute is not None else each.seconds for each in cells]
    minutes = [each.whole_minutes or (in_hours and each.by_minute is not None) for each in cells]
    base = _air_near(values[0], aired)
    far = base is None and values[0] > 3600
    if base is None:
        base = values[0] if far or in_hours else 0.0
    shifted = [value - base for value in values]
    # A programme across midnight counts on.
    return (
        [value + DAY if value < -DAY / 2 else value for value in shifted],
        minutes,
        far and aired is not None,
    )


def _counts_hours(by_minute: float, seconds: float, aired: time | None, *, clock: bool) -> bool:
    """True where the two numbers of a first time are hours and minutes."""
    if seconds == 0:
        return False
    if _air_near(by_minute, aired) is not None:
        return clock or seconds > _EARLY
    return clock and seconds > _LATE_START


def _air_near(seconds: float, aired: time | None) -> float | None:
    """The air time, as written on a clock of 24 or 12 hours, that a first time lies near; None where it lies near none."""
    if aired is None:
        return None
    air = float(aired.hour * 3600 + aired.minute * 60 + aired.second)
    # On a clock of 12 hours no time begins with 0.
    twelve = air % (DAY / 2) + (DAY / 2 if aired.hour % 12 == 0 else 0)
    for candidate in (air, twelve, air % (DAY / 2) + DAY / 2):
        if -_EARLY <= seconds - candidate <= _LATE:
            return candidate
    return None


def time_of_day_near(seconds: float, aired: time | None) -> float | None:
    """The air time in seconds of the day that a recording's first time lies near, or None. One early in the night says nothing."""
    base = _air_near(seconds, aired)
    return base if base else None
