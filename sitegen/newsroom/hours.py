"""Opening hours: reading what a producer wrote, writing it canonically, and the ranges that start on a date.

The canonical writing is schema.org's openingHours text (https://schema.org/openingHours: two-letter days,
24-hour times, commas between days, hyphens for ranges) with additions of our own: several rules joined by
`; ` which add up, `24:00` as an end, ranges past midnight, nth weekdays (`2nd and 4th Th 10:00-12:00`,
`last Fr 18:00-20:00`), `Su closed`, `by appointment` and `unknown`. Other writings, such as `Mon-Fri 9-5`,
are understood only where exactly one reading exists. Minutes are wall minutes; nothing here knows a zone.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from functools import lru_cache
from typing import TypeAlias

from sitegen.newsroom.records import Hours, Mode, Rule

DAY = 1440
"""Minutes from one 00:00 to the next on the wall."""
LONGEST_OVERNIGHT = 14 * 60
"""Minutes: a longer range past midnight that begins in the morning most likely has a 12-hour end. Common practice, no source."""
LONGEST_TEXT = 500
"""Characters; the longest hours a week can need take about half."""

DAY_NAMES = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
"""schema.org's days, Monday first."""
_WEEK_NAMES = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 5: "5th", -1: "last"}

Range: TypeAlias = tuple[int, int]
Ranges: TypeAlias = tuple[Range, ...]


@dataclass(frozen=True, slots=True)
class HoursReading:
    """What reading a text came to: hours, or a problem with what to write instead."""

    hours: Hours | None
    """None when there is a problem."""
    loose: bool = False
    """The text was not canonical and was understood; the proof reads it back to the producer."""
    problem: str = ""
    """What is wrong, in plain words; empty when nothing is."""
    instead: str = ""
    """What to write instead; empty only when there is no problem."""


class _UnreadableError(Exception):
    def __init__(self, problem: str, instead: str = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.instead = instead or _EXAMPLE


_EXAMPLE = "Write days and 24-hour times, such as `Mo-Fr 09:00-17:00; Sa 10:00-14:00`."


# --- reading ---------------------------------------------------------------------------------

_STRICT_DAY = "(?:Mo|Tu|We|Th|Fr|Sa|Su)"
_STRICT_DAYS = f"{_STRICT_DAY}(?:-{_STRICT_DAY})?(?:, ?{_STRICT_DAY}(?:-{_STRICT_DAY})?)*"
_STRICT_WEEK = "(?:1st|2nd|3rd|4th|5th|last)"
_STRICT_WEEKS = f"{_STRICT_WEEK}(?:(?:, ?| and ){_STRICT_WEEK})*"
_STRICT_RANGE = r"\d\d:\d\d-\d\d:\d\d"
_STRICT_RANGES = f"{_STRICT_RANGE}(?:, ?{_STRICT_RANGE})*"
_STRICT_RULE = f"(?:{_STRICT_WEEKS} )?{_STRICT_DAYS} (?:{_STRICT_RANGES}|closed)"
_STRICT = re.compile(f"{_STRICT_RULE}(?:; ?{_STRICT_RULE})*\\Z")
_STRICT_DAYS_ALONE = re.compile(f"(?:{_STRICT_WEEKS} )?{_STRICT_DAYS}\\Z")

_DASHES = str.maketrans(
    dict.fromkeys("‐‑‒–—―−", "-") | dict.fromkeys("\u00a0\u2007\u2009\u202f", " ") | {"’": "'"}
)
_APPOINTMENT = re.compile(r"(?:(?:only )?by )?(?:appointment|appt\.?)(?: only)?\Z")

_DAY_WORDS: dict[str, tuple[int, ...]] = {
    word: (day,)
    for day, words in enumerate(
        (
            "m mo mon monday mondays",
            "tu tue tues tuesday tuesdays",
            "w we wed weds wednesday wednesdays",
            "th thu thur thurs thursday thursdays",
            "f fr fri friday fridays",
            "sa sat sats saturday saturdays",
            "su sun suns sunday sundays",
        )
    )
    for word in words.split()
}
_DAY_GROUPS = {
    "weekday": (0, 1, 2, 3, 4),
    "weekdays": (0, 1, 2, 3, 4),
    "weekend": (5, 6),
    "weekends": (5, 6),
}
_WEEK_WORDS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "last": -1}
_TO_WORDS = frozenset({"to", "through", "thru", "until", "till", "til"})
_AND_WORDS = frozenset({"and", "plus"})
_FILLERS = frozenset({"open", "from", "on", "the", "each", "every", "at", "hours", "hrs"})
_SUN_WORDS = frozenset({"sunrise", "sunset", "dawn", "dusk", "dark", "daylight"})

_TOKEN = re.compile(
    r"""
    (?P<space>[^\S\n]+)
  | (?P<always>24\s*/\s*7\b)
  | (?P<whole>24[\s-]*(?:hours|hrs|h)\b(?:\s*(?:a|per)\s+day\b)?|all\s+day\b)
  | (?P<everyday>every\s*day\b|each\s+day\b|daily\b|nightly\b|every\s+night\b
      |(?:7|seven)\s+days(?:\s+(?:a|per)\s+week)?\b)
  | (?P<month>(?:of|in)\s+(?:the|each|every|a)\s+month\b)
  | (?P<ordinal>\d+(?:st|nd|rd|th)\b)
  | (?P<named>(?:12\s*)?(?:noon|midday|midnight)\b)
  | (?P<compact>\d{4}(?!\d))
  | (?P<clock>\d{1,2}(?:[:.]\d{2})?(?!\d))(?:\s*(?P<half>[ap](?:\.?\s?m\b\.?|(?![a-z])\.?)))?
  | (?P<word>[^\W\d_][^\W\d_']*\.?)
  | (?P<sign>[-,;:/&+\n])
  | (?P<other>.)
    """,
    re.VERBOSE | re.DOTALL | re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    """days, week, month, clock, named, whole, to, and, comma, semicolon, colon, closed or always."""
    text: str
    """As written."""
    days: tuple[int, ...] = ()
    week: int = 0
    hour: int = 0
    minute: int = 0
    half: str = ""
    """`a`, `p` or empty."""
    exact: bool = False
    """Written with two digits, a colon and two digits, as 24-hour times are."""


@lru_cache(maxsize=16384)
def read_hours(text: str) -> HoursReading:
    """The opening hours a text means, or what is wrong with it. Never raises."""
    try:
        return _read(text)
    except _UnreadableError as fault:
        return HoursReading(None, problem=fault.problem, instead=fault.instead)


@lru_cache(maxsize=4096)
def read_ranges(text: str) -> tuple[Ranges, str, str]:
    """(ranges, problem, instead) of the hours of a single date: `08:00-12:00`, `9 a.m.-noon`, `closed`.

    Ranges are as in `Rule.ranges`; `closed` gives none. Problem and instead are empty when it was read.
    """
    try:
        tokens = _tokens(text, "Write hours such as `08:00-12:00`, or `closed`.")
        if [token.kind for token in tokens] == ["closed"]:
            return (), "", ""
        ranges, used = _ranges(tokens, 0)
        if used != len(tokens):
            raise _UnreadableError(
                f"Only hours can stand here, and '{_shown(tokens[used].text)}' is something else.",
                f"Write `{ranges_text(ranges)}` alone.",
            )
        return ranges, "", ""
    except _UnreadableError as fault:
        instead = (
            "Write hours such as `08:00-12:00`, or `closed`." if fault.instead == _EXAMPLE else fault.instead
        )
        return (), fault.problem, instead


@lru_cache(maxsize=4096)
def read_days(text: str) -> tuple[tuple[int, ...], str, str]:
    """(weekdays, problem, instead) of a list of days: `Mo-Th`, `weekends`, `Mon, Wed & Fri`. Monday is 0."""
    example = "Write days such as `Mo-Th` or `Mo,We,Fr`."
    try:
        tokens = _tokens(text, example)
        groups, used = _day_groups(tokens, 0)
        if used != len(tokens) or any(weeks for weeks, _ in groups):
            wrong = tokens[used].text if used < len(tokens) else tokens[0].text
            days = sorted({day for _, group in groups for day in group})
            raise _UnreadableError(
                f"Only days of the week can stand here, and '{_shown(wrong)}' is something else.",
                f"Write `{days_text(days)}` alone.",
            )
        return tuple(sorted({day for _, days in groups for day in days})), "", ""
    except _UnreadableError as fault:
        return (), fault.problem, example if fault.instead == _EXAMPLE else fault.instead


def _read(text: str) -> HoursReading:
    written = " ".join(text.translate(_DASHES).split(" ")).strip()
    plain = " ".join(written.lower().split()).rstrip(".")
    if plain == Mode.UNKNOWN:
        return HoursReading(Hours(Mode.UNKNOWN, text="unknown"), text.strip() != "unknown")
    if _APPOINTMENT.match(plain):
        return HoursReading(
            Hours(Mode.BY_APPOINTMENT, text="by appointment"), text.strip() != "by appointment"
        )
    if "appointment" in plain or "appt" in plain:
        raise _UnreadableError(
            "Hours and 'by appointment' cannot stand together.",
            "Write `by appointment`, or write the hours here and the rest under `note`.",
        )
    tokens = _tokens(text, "Write `unknown` when nobody could say.")
    if len(tokens) == 1 and tokens[0].kind == "always":
        rules: list[Rule] = [Rule(tuple(range(7)), (), ((0, DAY),))]
    else:
        rules = []
        for part in _split(tokens):
            rules.extend(_rules(part))
    if not any(rule.ranges for rule in rules):
        raise _UnreadableError(
            "This says when it is closed and never when it is open.",
            "Write the hours, such as `Mo-Fr 09:00-17:00`, or `unknown`.",
        )
    _refuse_contradiction(rules)
    canonical = tuple(rules)
    return HoursReading(
        Hours(Mode.REGULAR, canonical, rules_text(canonical)), loose=_STRICT.match(text.strip()) is None
    )


def _tokens(text: str, when_empty: str) -> list[_Token]:
    if not text.strip():
        raise _UnreadableError("Nothing is written here.", when_empty)
    if len(text) > LONGEST_TEXT:
        raise _UnreadableError(f"This is longer than {LONGEST_TEXT} characters.", _EXAMPLE)
    found: list[_Token] = []
    for match in _TOKEN.finditer(text.strip().translate(_DASHES)):
        kind, shown = match.lastgroup or "other", match.group()
        if kind == "half":
            kind = "clock"
        if kind == "space":
            continue
        if kind == "sign":
            sign = {"-": "to", ",": "comma", ";": "semicolon", "\n": "semicolon", ":": "colon"}.get(
                shown, "and"
            )
            found.append(_Token(sign, shown))
        elif kind == "everyday":
            found.append(_Token("days", shown, days=tuple(range(7))))
        elif kind == "ordinal":
            found.append(_ordinal(shown.lower()))
        elif kind == "compact":
            found.append(_clock(shown, shown[:2], shown[2:], "", exact=True))
        elif kind == "clock":
            found.append(_clock_of(match))
        elif kind == "word":
            token = _word(shown, first=not found)
            if token is not None:
                found.append(token)
        elif kind == "other":
            raise _UnreadableError(
                f"'{_shown(shown)}' cannot stand in hours.",
                f"{_EXAMPLE} Put anything else under `note`.",
            )
        else:
            found.append(_Token(kind, shown))
    if all(token.kind == "semicolon" for token in found):
        raise _UnreadableError(f"Nothing is said by '{_shown(text)}'.", _EXAMPLE)
    return found


def _word(shown: str, first: bool) -> _Token | None:
    """The token of a word; None for one that adds nothing, such as `open` or `from`."""
    word = shown.rstrip(".").lower()
    if word in _DAY_WORDS or word in _DAY_GROUPS:
        return _Token("days", shown, days=_DAY_WORDS.get(word) or _DAY_GROUPS[word])
    if word in _WEEK_WORDS:
        return _Token("week", shown, week=_WEEK_WORDS[word])
    if word in _TO_WORDS:
        return _Token("to", shown)
    if word in _AND_WORDS:
        return _Token("and", shown)
    if word == "closed":
        return _Token("closed", shown)
    if word in _FILLERS:
        return None
    if word in ("holiday", "holidays", "ph", "except"):
        raise _UnreadableError(
            f"Hours cannot say '{word}'.",
            "List the dates under `closed`, or their hours under `special_hours`.",
        )
    if word in _SUN_WORDS:
        raise _UnreadableError(
            f"Hours cannot say '{_shown(shown)}'.", "Write the time, such as `Mo-Su 08:00-16:30`."
        )
    near = get_close_matches(word, [name for name in _DAY_WORDS if len(name) > 2], n=1, cutoff=0.7)
    if near:
        raise _UnreadableError(
            f"No day is called '{_shown(shown)}'.", f"Write `{DAY_NAMES[_DAY_WORDS[near[0]][0]]}`."
        )
    if word in ("t", "s"):
        raise _UnreadableError(
            f"'{word.upper()}' may be either of two days.",
            "Write `Tu` or `Th`." if word == "t" else "Write `Sa` or `Su`.",
        )
    if first and word in ("tbd", "tba", "none", "n", "varies", "various"):
        raise _UnreadableError(f"'{_shown(shown)}' says no hours.", "Write `unknown` when nobody could say.")
    raise _UnreadableError(
        f"'{_shown(shown)}' is not understood in hours.", f"{_EXAMPLE} Put anything else under `note`."
    )


def _ordinal(shown: str) -> _Token:
    week = int(shown[:-2])
    if _WEEK_NAMES.get(week) != shown:
        raise _UnreadableError(
            f"'{_shown(shown)}' is not a week of a month.",
            "Write `1st`, `2nd`, `3rd`, `4th`, `5th` or `last`.",
        )
    return _Token("week", shown, week=week)


def _clock_of(match: re.Match[str]) -> _Token:
    written = match["clock"]
    hour, sign, minute = written.partition(":" if ":" in written else ".")
    half = (match["half"] or "")[:1].lower()
    return _clock(
        match.group(), hour, minute or "00", half, exact=len(hour) == 2 and sign == ":" and not half
    )


def _clock(shown: str, hour: str, minute: str, half: str, exact: bool) -> _Token:
    hours, minutes = int(hour), int(minute)
    if minutes > 59:
        raise _UnreadableError(
            f"'{_shown(shown)}' is not a time: an hour has 60 minutes.",
            f"Write minutes from 00 to 59, such as `{min(hours, 23):02d}:59`.",
        )
    if half and not 1 <= hours <= 12:
        clear = f"`{hours:02d}:{minutes:02d}` without a.m. or p.m." if hours < 24 else "`12:00`"
        raise _UnreadableError(f"'{_shown(shown)}' is not a time.", f"Write {clear}")
    if hours > 24 or (hours == 24 and minutes):
        instead = "Write `24:00` for the end of the day"
        if hours - 24 < 24:
            instead += f", or `{hours - 24:02d}:{minutes:02d}` for a time after midnight"
        raise _UnreadableError(f"'{_shown(shown)}' is not a time: a day has 24 hours.", instead + ".")
    return _Token("clock", shown, hour=hours, minute=minutes, half=half, exact=exact)


def _split(tokens: Sequence[_Token]) -> list[list[_Token]]:
    """The tokens between semicolons and line ends."""
    parts: list[list[_Token]] = [[]]
    for token in tokens:
        if token.kind == "semicolon":
            parts.append([])
        else:
            parts[-1].append(token)
    return [part for part in parts if part]


def _rules(tokens: Sequence[_Token]) -> list[Rule]:
    """The rules of one part: days then times, times then days, or days alone for all day."""
    blocks = _blocks(tokens)
    shown = " ".join(token.text for token in tokens)
    if len(blocks) == 1 and isinstance(blocks[0], list):
        groups = blocks[0]
        if _STRICT_DAYS_ALONE.match(_capitalised(tokens)):
            return [Rule(days, weeks, ((0, DAY),)) for weeks, days in groups]
        days = groups_text(groups)
        raise _UnreadableError(
            f"'{_shown(shown)}' names days and no hours.",
            f"Write `{days} 00:00-24:00` for all day, or the hours, such as `{days} 09:00-17:00`.",
        )
    rules: list[Rule] = []
    at = 0
    times_first = not isinstance(blocks[0], list) and bool(blocks[0])
    while at < len(blocks):
        here, after = blocks[at], blocks[at + 1] if at + 1 < len(blocks) else None
        if isinstance(here, list) and after is not None and not isinstance(after, list):
            rules.extend(Rule(days, weeks, after) for weeks, days in here)
        elif not isinstance(here, list) and isinstance(after, list) and (times_first or here == ()):
            rules.extend(Rule(days, weeks, here) for weeks, days in after)
        elif isinstance(here, list):
            days = groups_text(here)
            raise _UnreadableError(
                f"No hours are written for {days}.",
                f"Write them after the days, such as `{days} 09:00-17:00`.",
            )
        elif here:
            raise _UnreadableError(
                f"No days are written for {ranges_text(here)}.",
                f"Write the days before the hours, such as `Mo-Su {ranges_text(here)}`.",
            )
        else:
            raise _UnreadableError(
                "No days are written for 'closed'.", "Write the days, such as `Su closed`."
            )
        at += 2
    return rules


_Groups: TypeAlias = list[tuple[tuple[int, ...], tuple[int, ...]]]
"""(weeks, days) of each part of a list of days."""


def _blocks(tokens: Sequence[_Token]) -> list[_Groups | Ranges]:
    """Days and times in turn; `closed` is a block of no ranges."""
    blocks: list[_Groups | Ranges] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind in ("days", "week"):
            groups, at = _day_groups(tokens, at)
            blocks.append(groups)
        elif token.kind in ("clock", "named", "whole"):
            ranges, at = _ranges(tokens, at)
            blocks.append(ranges)
        elif token.kind == "closed":
            blocks.append(())
            at += 1
        elif blocks and at + 1 < len(tokens) and (
            token.kind in ("comma", "and") or (token.kind == "colon" and isinstance(blocks[-1], list))
        ):  # fmt: skip
            at += 1
            if tokens[at].kind not in ("days", "week", "clock", "named", "whole", "closed"):
                raise _UnreadableError(f"'{token.text}' and '{tokens[at].text}' cannot follow each other.")
        elif token.kind == "always":
            raise _UnreadableError(
                "'24/7' means every day and stands alone.", "Write `24/7`, or days with `00:00-24:00`."
            )
        else:
            raise _UnreadableError(f"'{_shown(token.text)}' is out of place in these hours.")
    return blocks


def _day_groups(tokens: Sequence[_Token], at: int) -> tuple[_Groups, int]:
    """A list of days from a position, and the position after it."""
    groups: _Groups = []
    while True:
        weeks, at = _weeks(tokens, at)
        if at >= len(tokens) or tokens[at].kind != "days":
            wrong = tokens[at].text if at < len(tokens) else ""
            raise _UnreadableError(
                f"A day of the week is missing before '{_shown(wrong)}'."
                if wrong
                else "A day of the week is missing."
            )
        first = tokens[at].days
        at += 1
        days = first
        if at + 1 < len(tokens) and tokens[at].kind == "to" and tokens[at + 1].kind == "days":
            last = tokens[at + 1].days
            if len(first) != 1 or len(last) != 1 or first == last:
                raise _UnreadableError(
                    f"'{tokens[at - 1].text}-{tokens[at + 1].text}' is not a range of days.",
                    "Write the first and the last day, such as `Mo-Fr`.",
                )
            days = tuple(sorted((first[0] + n) % 7 for n in range((last[0] - first[0]) % 7 + 1)))
            at += 2
        if weeks:
            if len(days) > 1:
                raise _UnreadableError(
                    "The week of the month can be said of one weekday at a time.",
                    "Write "
                    + _alternatives(
                        [f"{_weeks_text(weeks)} {DAY_NAMES[day]} 10:00-12:00" for day in days], "; "
                    )
                    + ".",
                )
            groups.append((weeks, days))
            if at < len(tokens) and tokens[at].kind == "month":
                at += 1
        elif groups and groups[-1][0]:
            week, (day,) = groups[-1]
            both = f"{_weeks_text(week)} {DAY_NAMES[day]}"
            raise _UnreadableError(
                f"'{both}' and '{days_text(days)}' together can be read in two ways.",
                f"Write a rule for each, such as `{both} 10:00-12:00; {days_text(days)} 10:00-12:00`.",
            )
        elif groups:
            groups[-1] = ((), tuple(sorted({*groups[-1][1], *days})))
        else:
            groups.append(((), days))
        after = at
        while after < len(tokens) and tokens[after].kind in ("comma", "and"):
            after += 1
        if after >= len(tokens) or tokens[after].kind not in ("days", "week") or after - at > 2:
            return groups, at
        at = after


def _weeks(tokens: Sequence[_Token], at: int) -> tuple[tuple[int, ...], int]:
    """Weeks of the month from a position, and the position after them; empty when none are written."""
    weeks: set[int] = set()
    while at < len(tokens) and tokens[at].kind == "week":
        weeks.add(tokens[at].week)
        after = at + 1
        while after < len(tokens) and tokens[after].kind in ("comma", "and") and after - at <= 2:
            after += 1
        at = after if after < len(tokens) and tokens[after].kind == "week" else at + 1
    return tuple(sorted(weeks, key=lambda week: week % 7)), at


def _ranges(tokens: Sequence[_Token], at: int) -> tuple[Ranges, int]:
    """A list of ranges from a position, and the position after it."""
    found: list[Range] = []
    while True:
        token = tokens[at]
        if token.kind == "whole":
            found.append((0, DAY))
            at += 1
        elif token.kind not in ("clock", "named"):
            raise _UnreadableError(f"'{_shown(token.text)}' stands where a time should.")
        elif (
            at + 2 >= len(tokens)
            or tokens[at + 1].kind != "to"
            or tokens[at + 2].kind not in ("clock", "named")
        ):
            raise _UnreadableError(
                f"'{_shown(token.text)}' is a time with no other end.",
                "Write when it opens and when it closes, such as `09:00-17:00`.",
            )
        else:
            found.append(_range(token, tokens[at + 2]))
            at += 3
        if (
            at + 1 < len(tokens)
            and tokens[at].kind in ("comma", "and")
            and tokens[at + 1].kind in ("clock", "named", "whole")
        ):
            at += 1
            continue
        return _joined(found), at


def _range(start: _Token, end: _Token) -> Range:
    """The only reading of a start and an end; a range that goes back in time runs past midnight."""
    exact = start.exact and end.exact
    starts, ends = _minutes(start, exact, is_end=False), _minutes(end, exact, is_end=True)
    shown = f"{start.text}-{end.text}"
    if starts == [DAY]:
        raise _UnreadableError(
            f"'{_shown(shown)}' cannot begin at 24:00.", "Write `00:00` as the start, on the day it opens."
        )
    if len(starts) == len(ends) == 1:
        if starts == ends:
            raise _UnreadableError(
                f"'{_shown(shown)}' opens and closes at the same minute.",
                "Write when it closes, or `00:00-24:00` for all day.",
            )
        return (starts[0], ends[0] if ends[0] > starts[0] else ends[0] + DAY)
    readings = [(first, last) for first in starts for last in ends if first < last]
    if len(readings) == 1:
        return readings[0]
    if not readings:
        readings = [(first, last + DAY) for first in starts for last in ends if first > last]
        raise _UnreadableError(
            f"'{_shown(shown)}' closes before it opens.",
            "Write " + _alternatives(_by_likelihood(readings), " or ") + ".",
        )
    raise _UnreadableError(
        f"'{_shown(shown)}' can be read in {len(readings)} ways.",
        "Write " + _alternatives(_by_likelihood(readings), " or ") + ".",
    )


def _by_likelihood(readings: Iterable[Range]) -> list[str]:
    """Readings for a person to choose from, shortest day first, those before six in the morning last."""
    ordered = sorted(readings, key=lambda reading: (reading[0] < 360, reading[1] - reading[0]))
    return [ranges_text((reading,)) for reading in ordered]


def _minutes(token: _Token, exact: bool, is_end: bool) -> list[int]:
    """The minutes of a day that a written time may mean: one, or two when a.m. or p.m. is missing."""
    if token.kind == "named":
        if "midnight" in token.text.lower():
            return [DAY if is_end else 0]
        return [720]
    minute = token.hour * 60 + token.minute
    if token.half:
        minute = token.hour % 12 * 60 + token.minute + (720 if token.half == "p" else 0)
    elif not exact and 1 <= token.hour <= 12 and not (token.exact and token.hour < 10):
        morning = token.hour % 12 * 60 + token.minute
        return [morning, morning + 720]
    return [DAY if is_end and minute == 0 else minute]


def _refuse_contradiction(rules: Sequence[Rule]) -> None:
    """A day written both closed and open would send people to a closed door: rules only ever add up."""
    for closed in rules:
        if closed.ranges:
            continue
        for rule in rules:
            days = set(rule.days) & set(closed.days)
            if rule.ranges and days and _share_a_week(rule.weeks, closed.weeks):
                raise _UnreadableError(
                    f"{days_text(sorted(days))} is written both closed and open.", _without(rules, closed)
                )


def _share_a_week(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    if not one or not other or set(one) & set(other):
        return True
    # The last of a month is its fourth or its fifth.
    return (-1 in one and bool({4, 5} & set(other))) or (-1 in other and bool({4, 5} & set(one)))


def _without(rules: Sequence[Rule], closed: Rule) -> str:
    """What to write so that the days of a closed rule are left out of the others."""
    if -1 in closed.weeks or any(rule.weeks for rule in rules if rule.ranges):
        return "Write only when it is open."
    kept: list[Rule] = []
    for rule in rules:
        if not rule.ranges:
            continue
        days = tuple(day for day in rule.days if day not in closed.days)
        if days:
            kept.append(Rule(days, (), rule.ranges))
        if closed.weeks:
            weeks = tuple(week for week in range(1, 6) if week not in closed.weeks)
            kept.extend(Rule((day,), weeks, rule.ranges) for day in rule.days if day in closed.days and weeks)
    return f"Write `{rules_text(kept)}`." if kept else "Write only when it is open."


def _joined(ranges: Iterable[Range]) -> Ranges:
    """Ranges in order, those that touch made one unless the whole would be too long to write."""
    joined: list[Range] = []
    for start, end in sorted(ranges):
        if joined and start <= joined[-1][1] and max(end, joined[-1][1]) - joined[-1][0] <= DAY:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        elif (start, end) not in joined:
            joined.append((start, end))
    return tuple(joined)


def _shown(text: str) -> str:
    """A piece of what was written, short and on one line."""
    short = " ".join(text.split())
    return short if len(short) <= 40 else short[:39] + "…"


def _alternatives(texts: Sequence[str], between: str) -> str:
    return f"`{between.join(texts)}`" if between == "; " else between.join(f"`{text}`" for text in texts)


def _capitalised(tokens: Sequence[_Token]) -> str:
    """Tokens of days written as canonical days are, to tell `mo-fr` from `monday to friday`."""
    written = "".join(
        {"and": " and ", "week": f"{token.text} "}.get(token.kind, token.text.title()) for token in tokens
    )
    return written.replace("  ", " ")


# --- writing ---------------------------------------------------------------------------------


def clock_text(minute: int) -> str:
    """`17:30` of a minute of a day; an end on the next day is written as that day's time, 1440 as `24:00`."""
    if minute > DAY:
        minute -= DAY
    return f"{minute // 60:02d}:{minute % 60:02d}"


def ranges_text(ranges: Iterable[Range]) -> str:
    """`09:00-12:00,13:00-17:00`."""
    return ",".join(f"{clock_text(start)}-{clock_text(end)}" for start, end in ranges)


def days_text(days: Iterable[int]) -> str:
    """`Mo-We,Fr` of weekdays; a run over the end of the week is written as one: `Sa-Mo`."""
    left = sorted(set(days))
    if len(left) == 7:
        return "Mo-Su"
    runs: list[list[int]] = []
    for day in left:
        if runs and runs[-1][-1] == day - 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    if len(runs) > 1 and runs[0][0] == 0 and runs[-1][-1] == 6 and len(runs[0]) + len(runs[-1]) > 2:
        first = runs.pop(0)
        runs[-1] += first
    return ",".join(
        DAY_NAMES[run[0]] if len(run) == 1 else f"{DAY_NAMES[run[0]]}-{DAY_NAMES[run[-1]]}" for run in runs
    )


def _weeks_text(weeks: Sequence[int]) -> str:
    names = [_WEEK_NAMES[week] for week in weeks]
    return names[0] if len(names) == 1 else f"{','.join(names[:-1])} and {names[-1]}"


def groups_text(groups: Iterable[tuple[tuple[int, ...], tuple[int, ...]]]) -> str:
    """(weeks, days) of several groups: `2nd Th,Fr`."""
    return ",".join((f"{_weeks_text(weeks)} " if weeks else "") + days_text(days) for weeks, days in groups)


def rules_text(rules: Iterable[Rule]) -> str:
    """The canonical writing of rules; reading it back gives the same rules."""
    return "; ".join(
        f"{groups_text([(rule.weeks, rule.days)])} {ranges_text(rule.ranges) or 'closed'}" for rule in rules
    )


# --- asking ----------------------------------------------------------------------------------


def afternoon_ends(ranges: Ranges) -> Ranges:
    """Ranges of which those that run from a morning through the night end on the same day instead, twelve hours earlier.

    `09:00-05:00`, 20 hours, becomes `09:00-17:00`. The same ranges where none is so long.
    """
    return tuple(
        (start, end - DAY // 2)
        if start < DAY // 2 and end > DAY and end - start > LONGEST_OVERNIGHT
        else (start, end)
        for start, end in ranges
    )


def opening_ranges(hours: Hours, day: date) -> Ranges:
    """The ranges that start on a date by the weekly rules, merged and ascending, in minutes from its 00:00.

    As in `Rule.ranges`, an end above 1440 is on the next day. Closed days and special hours are the
    caller's; hours by appointment or unknown have no ranges.
    """
    weekday = day.weekday()
    found: list[Range] = []
    for rule in hours.rules:
        if weekday in rule.days and (not rule.weeks or _is_in_weeks(day, rule.weeks)):
            found.extend(rule.ranges)
    if len(found) < 2:
        return tuple(found)
    found.sort()
    merged = [found[0]]
    for start, end in found[1:]:
        if start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)


def _is_in_weeks(day: date, weeks: tuple[int, ...]) -> bool:
    if (day.day + 6) // 7 in weeks:
        return True
    return -1 in weeks and day.day + 7 > monthrange(day.year, day.month)[1]
