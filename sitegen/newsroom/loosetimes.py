"""What to write instead of a date or a time that is not written as files have it.

A wrong answer here would be copied into a file and published. So every word of what was written must be understood,
and where two readings are left both are named, and where none is certain, none.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeAlias

from sitegen.newsroom.times import CLOCK_SHAPE, FIRST_YEAR, LAST_YEAR, MONTH_NAMES, WEEKDAY_NAMES

DATE_SHAPE = "Write year, month and day with hyphens: YYYY-MM-DD."
WHEN_SHAPE = (
    "Write year, month and day, and where a time is meant hours and minutes: YYYY-MM-DD or YYYY-MM-DD HH:MM."
)
"""Shapes, and no example: a date or a time that stands after a mistake reads like its correction."""

_BACK = timedelta(days=92)
"""A day without a year is the nearest ahead, from three months back, as in the intake."""


@dataclass(frozen=True, slots=True)
class Advice:
    """What is to be said of a text that cannot be read."""

    reason: str = ""
    """Why, to follow a colon; empty when there is no more to say than that it cannot be read."""
    instead: str = ""
    """A sentence with what to write instead."""


_MONTH = (
    "(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)(?![a-z])\.?"
)
_ORDINAL = "(?:st|nd|rd|th)?(?![0-9a-z:])"
_HALF = r"(?:[ap])\.?\s?m(?![a-z])\.?"
_TOKEN = re.compile(
    rf"""
    (?P<space>[\s,]+)
  | (?P<ymd>[0-9]{{4}}(?P<sign>[-/.])[0-9]{{1,2}}(?P=sign)[0-9]{{1,2}}(?![0-9]))
  | (?P<mdy>[0-9]{{1,2}}/[0-9]{{1,2}}/(?:[0-9]{{4}}|[0-9]{{2}})(?![0-9/])|[0-9]{{1,2}}-[0-9]{{1,2}}-[0-9]{{4}}(?![0-9-]))
  | (?P<md>[0-9]{{1,2}}/[0-9]{{1,2}}(?![0-9/]))
  | (?P<Mdy>{_MONTH}\s*[0-9]{{1,2}}{_ORDINAL}(?:,?\s+[0-9]{{4}}(?![0-9:]))?)
  | (?P<dMy>[0-9]{{1,2}}{_ORDINAL}\s+(?:of\s+)?{_MONTH}(?:,?\s+[0-9]{{4}}(?![0-9:]))?)
  | (?P<weekday>(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun|weds)(?:day)?(?![a-z])\.?)
  | (?P<noon>(?:12(?::00)?\s*)?(?:noon|midday)(?![a-z]))
  | (?P<midnight>(?:12(?::00)?\s*)?midnight(?![a-z]))
  | (?P<half>[0-9]{{1,2}}(?:[:.][0-9]{{2}})?(?:\s*o'?\s?clock)?\s*{_HALF})
  | (?P<oclock>[0-9]{{1,2}}\s*o'?\s?clock(?![a-z]))
  | (?P<colon>[0-9]{{1,2}}:[0-9]{{2}}(?::00)?(?![0-9:.]))
  | (?P<compact>[0-9]{{4}}(?![0-9]))
  | (?P<joint>(?<=[0-9])T(?=[0-9]))
  | (?P<filler>(?:at|on|the)(?![a-z])|@)
  | (?P<ending>(?:by|until|till?)(?![a-z]))
  | (?P<other>[^\s,]+)
    """,
    re.VERBOSE | re.IGNORECASE,
)
_DATES = ("ymd", "mdy", "md", "Mdy", "dMy")
_CLOCKS = ("noon", "midnight", "half", "oclock", "colon", "compact")
_DASHES = "‐‑‒–—―−"
_SPACES = "\u00a0\u2007\u2009\u202f"
_PLAIN = str.maketrans(dict.fromkeys(_DASHES, "-") | dict.fromkeys(_SPACES, " ") | {"’": "'"})
_AS_FILES_HAVE_IT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?: +[0-9]{2}:[0-9]{2}(?::[0-9]{2})?)?\Z")
_OFFSET = re.compile(r".*[0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)? ?(?:Z|[+-][0-9]{2}:?[0-9]{2})\Z")

_NOON = 720
_DAY = 1440
_CENTURY_ENDS = 50
"""Years of two digits below are of this century; of the others none can tell."""

_Choices: TypeAlias = Callable[[date], Iterable[tuple[str, str]]]
"""Of a day: (what to write, when), one for each reading."""


@dataclass(frozen=True, slots=True)
class _Clock:
    minutes: tuple[int, ...] = ()
    """Of a day, each that may be meant; 1440 is its end."""
    midnight: bool = False
    """Midnight may be meant, of which every day has two."""


@dataclass(frozen=True, slots=True)
class _Parts:
    kind: str
    """One of _DATES."""
    year: int | None
    month: int
    day: int
    weekday: int | None
    """0 is Monday; None where none is written."""
    clock: _Clock | None


class _UnclearError(Exception):
    """No answer can be given; the text says why, to follow a colon."""


def advise_when(text: str, ends: bool = False, near: date | None = None) -> Advice:
    """What to write where a date, or a date and a time, is wanted.

    `ends` is True where something ends with it, so that a bare date counts to its end. `near` is a day that a date
    without a year is looked for beside; without one its year is left blank.
    """
    try:
        parts = _parts(text, ends)
        if parts.clock is None:
            return _advice(text, parts, near, lambda day: [(str(day), "")], "")
        clock = parts.clock
        advice = _advice(text, parts, near, lambda day: _moments(day, clock, ends), _shape(clock))
        return Advice("; ".join(filter(None, (advice.reason, _why_several(clock)))), advice.instead)
    except _UnclearError as why:
        return Advice(str(why), WHEN_SHAPE)


def advise_date(text: str, near: date | None = None) -> Advice:
    """What to write where only a date can stand."""
    try:
        parts = _parts(text, ends=False)
        advice = _advice(text, parts, near, lambda day: [(str(day), "")], "")
    except _UnclearError as why:
        return Advice(str(why), DATE_SHAPE)
    if parts.clock is not None:
        return Advice("a time of day cannot stand here", advice.instead)
    return advice


def advise_clock(text: str) -> Advice:
    """What to write where only a time of day can stand."""
    try:
        found = _tokens(text, ends=False)
        if len(found) != 1 or found[0].lastgroup not in _CLOCKS:
            raise _UnclearError
        clock = _clock(found[0], exact=False)
    except _UnclearError:
        return Advice("", CLOCK_SHAPE)
    if clock.midnight:
        # Of a row with its own date the end is on the day after, so midnight is one minute there.
        noon = "12:00 for noon, " if clock.minutes else ""
        return Advice("", f"Write {noon}00:00 for midnight: a day begins with it.")
    if clock.minutes == (_DAY,):
        return Advice("24:00 is the next day's first minute", "Write instead: 00:00")
    several = len(clock.minutes) > 1
    return Advice(
        _why_several(clock),
        _instead([(_clock_text(minute), _half_text(minute) if several else "") for minute in clock.minutes]),
    )


# --- taking apart ----------------------------------------------------------------------------


def _tokens(text: str, ends: bool) -> list[re.Match[str]]:
    """The pieces that say something; raises where one is not understood."""
    found = [match for match in _TOKEN.finditer(text.strip().translate(_PLAIN)) if match.lastgroup != "space"]
    for match in found:
        if match.lastgroup == "other" or (match.lastgroup == "ending" and not ends):
            if not any(each.lastgroup in _DATES for each in found):
                raise _UnclearError
            raise _UnclearError(f"'{match[0]}' is not understood beside the date")
    return [match for match in found if match.lastgroup not in ("filler", "joint", "ending")]


def _parts(text: str, ends: bool) -> _Parts:
    if _OFFSET.match(text):
        raise _UnclearError("neither an offset from UTC nor a second time can stand here")
    found = _tokens(text, ends)
    dates = [match for match in found if match.lastgroup in _DATES]
    clocks = [match for match in found if match.lastgroup in _CLOCKS]
    weekdays = [match for match in found if match.lastgroup == "weekday"]
    if not dates:
        raise _UnclearError("it names no date" if clocks or weekdays else "")
    if len(dates) > 1:
        raise _UnclearError("more than one date stands here")
    if len(clocks) > 1 or len(weekdays) > 1:
        raise _UnclearError("more than one time stands here" if len(clocks) > 1 else "it names two weekdays")
    kind = dates[0].lastgroup or ""
    year, month, day = _numbers(dates[0][0], kind)
    if year is None and clocks and clocks[0].lastgroup == "compact" and clocks[0].start() < dates[0].start():
        raise _UnclearError(f"'{clocks[0][0]}' may be a year or a time")
    return _Parts(
        kind,
        year,
        month,
        day,
        _weekday(weekdays[0][0]) if weekdays else None,
        _clock(clocks[0], exact=kind == "ymd") if clocks else None,
    )


def _numbers(written: str, kind: str) -> tuple[int | None, int, int]:
    """(year, month, day) of a written date, whether there is such a day or not."""
    numbers = [int(digits) for digits in re.findall("[0-9]+", written)]
    if kind == "ymd":
        return numbers[0], numbers[1], numbers[2]
    if kind in ("mdy", "md"):
        year = numbers[2] if len(numbers) == 3 else None
        if year is not None and _CENTURY_ENDS <= year < 100:
            raise _UnclearError(f"{year} may be a year of either century")
        return (year + 2000 if year is not None and year < 100 else year), numbers[0], numbers[1]
    name = next(word for word in re.findall("[a-z]{3,}", written.lower()))
    month = next(n for n, each in enumerate(MONTH_NAMES, 1) if each.lower().startswith(name[:3]))
    return (numbers[1] if len(numbers) == 2 else None), month, numbers[0]


def _weekday(written: str) -> int:
    return next(n for n, name in enumerate(WEEKDAY_NAMES) if name.lower().startswith(written.lower()[:3]))


def _clock(match: re.Match[str], exact: bool) -> _Clock:
    """What a written time may mean. `exact`: it stands beside a date as files have it, so two digits are 24-hour time."""
    kind, written = match.lastgroup, match[0]
    if kind == "noon":
        return _Clock((_NOON,))
    if kind == "midnight":
        return _Clock(midnight=True)
    if kind == "compact":
        hour, minute, sure = int(written[:2]), int(written[2:]), True
    else:
        digits = re.findall("[0-9]+", written)
        hour, minute = int(digits[0]), int(digits[1]) if len(digits) > 1 else 0
        sure = hour == 0 or hour > 12 or (kind == "colon" and len(digits[0]) == 2 and (exact or hour < 10))
    if minute > 59 or hour > 24 or (hour == 24 and minute):
        raise _UnclearError(f"'{written}' is no time of day")
    if kind == "half":
        if not 1 <= hour <= 12:
            raise _UnclearError(f"'{written}' is no time of day")
        afternoon = "p" in written.lower()
        if hour == 12 and not afternoon and not minute:
            return _Clock(midnight=True)
        return _Clock((hour % 12 * 60 + minute + (_NOON if afternoon else 0),))
    if kind == "oclock" and hour > 12:
        raise _UnclearError(f"'{written}' is no time of day")
    if sure:
        return _Clock(midnight=True) if hour == minute == 0 else _Clock((hour * 60 + minute,))
    if hour == 12 and not minute:
        return _Clock((_NOON,), midnight=True)
    morning = hour % 12 * 60 + minute
    return _Clock((morning, morning + _NOON))


# --- putting together ------------------------------------------------------------------------


def _advice(text: str, parts: _Parts, near: date | None, choices: _Choices, shape: str) -> Advice:
    if parts.year is None:
        return _without_year(parts, near, choices, shape)
    if parts.kind in ("Mdy", "dMy") and _may_be_a_time(parts.year, near):
        raise _UnclearError(f"'{parts.year}' may be a year or a time")
    if not FIRST_YEAR <= parts.year <= LAST_YEAR:
        raise _UnclearError(f"years go from {FIRST_YEAR} to {LAST_YEAR}")
    day = _day(parts.year, parts.month, parts.day)
    if day is None:
        raise _UnclearError(_no_such_day(parts))
    if parts.weekday is not None and day.weekday() != parts.weekday:
        raise _UnclearError(
            f"{MONTH_NAMES[day.month - 1]} {day.day}, {day.year} is a {WEEKDAY_NAMES[day.weekday()]}, "
            f"not a {WEEKDAY_NAMES[parts.weekday]}; find out which is right"
        )
    return Advice(_odd_sign(text), _instead(choices(day)))


def _without_year(parts: _Parts, near: date | None, choices: _Choices, shape: str) -> Advice:
    """Advice for a date without a year: with the nearest likely one, or with its place left open."""
    if _day(2000, parts.month, parts.day) is None:  # A leap year: it has every day that any year has.
        raise _UnclearError(_no_such_day(parts))
    blank = f"Write the year too: YYYY-{parts.month:02d}-{parts.day:02d}" + (f" {shape}" if shape else "")
    day = _coming(parts.month, parts.day, near) if near is not None else None
    if day is None:
        return Advice("it has no year", blank)
    if parts.weekday is not None and day.weekday() != parts.weekday:
        return Advice(
            f"it has no year, and in {day.year} that day is a {WEEKDAY_NAMES[day.weekday()]}, "
            f"not a {WEEKDAY_NAMES[parts.weekday]}",
            blank,
        )
    return Advice("it has no year", f"{_instead(choices(day))} (if {day.year} is meant)")


def _coming(month: int, day: int, near: date) -> date | None:
    for year in (near.year - 1, near.year, near.year + 1):
        found = _day(year, month, day)
        if found is not None and found >= near - _BACK:
            return found
    return None


def _may_be_a_time(year: int, near: date | None) -> bool:
    """True for what stands where a year does, and may be 24-hour time: `Dec. 15, 1930`. Nobody has doubts of a year that is close by."""
    if year // 100 > 23 or year % 100 > 59:
        return False
    return not 2000 <= year < 2060 if near is None else abs(year - near.year) > 3


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _no_such_day(parts: _Parts) -> str:
    if not 1 <= parts.month <= 12:
        return f"there is no month {parts.month}"
    year = f" {parts.year}" if parts.year is not None else ""
    return f"there is no {parts.day} {MONTH_NAMES[parts.month - 1]}{year}"


def _moments(day: date, clock: _Clock, ends: bool) -> Iterable[tuple[str, str]]:
    """(what to write, when) of each moment that may be meant."""
    several = len(clock.minutes) > 1
    before, after = day - timedelta(days=1), day + timedelta(days=1)
    for minute in clock.minutes:
        if minute < _DAY:
            yield (
                f"{day} {_clock_text(minute)}",
                "for noon" if clock.midnight else _half_text(minute) if several else "",
            )
        elif ends:
            yield str(day), "(a bare date counts to the end of that day)"
        else:
            yield str(day), "where something ends"
            yield f"{after} 00:00", "where something begins"
    if clock.midnight and ends:
        yield str(day), "to count that day to its end"
        yield str(before), "to end as that day begins"
    elif clock.midnight:
        yield f"{day} 00:00", "for the beginning of that day"
        yield f"{after} 00:00", "for its end"


def _shape(clock: _Clock) -> str:
    return "HH:MM" if clock.midnight or len(clock.minutes) != 1 else _clock_text(clock.minutes[0])


def _why_several(clock: _Clock) -> str:
    if clock.midnight:
        return "it may be noon or midnight" if clock.minutes else "a day has a midnight at either end"
    return "it does not say a.m. or p.m." if len(clock.minutes) > 1 else ""


def _half_text(minute: int) -> str:
    return "for p.m." if minute >= _NOON else "for a.m."


def _clock_text(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"


def _instead(choices: Iterable[tuple[str, str]]) -> str:
    """`Write instead: A`, or each choice and when it is meant."""
    each = [f"{written} {when}".strip() for written, when in choices]
    return f"Write instead: {', or '.join(each)}"


def _odd_sign(text: str) -> str:
    """Which sign looks like that of files and is another, where nothing else is wrong; else empty."""
    if not _AS_FILES_HAVE_IT.match(text.translate(_PLAIN)):
        return ""
    sign = next((each for each in text if each in _DASHES + _SPACES), "")
    if not sign:
        return ""
    name = unicodedata.name(sign).lower()
    wanted = "a plain hyphen" if sign in _DASHES else "a plain space"
    return f"it holds a sign called {name} (U+{ord(sign):04X}) where {wanted} belongs"
