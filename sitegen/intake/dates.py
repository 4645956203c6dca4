"""Days and hours as people say them, resolved against the day of the broadcast.

Each mention says how sure it is: a weekday alone, a bare number of the month or `next Friday` can be meant otherwise, and then
`unsure` says how. Names of holidays come from the `holidays` library, by the country of the station's language.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from functools import lru_cache

MONTHS = {name.lower(): number for number, name in enumerate(calendar.month_name) if name}
_SHORT = {name.lower(): number for number, name in enumerate(calendar.month_abbr) if name} | {"sept": 9}
WEEKDAYS = {name.lower(): number for number, name in enumerate(calendar.day_name)}

_MONTH = "(?:" + "|".join([*MONTHS, *(f"{name}\\.?" for name in _SHORT if name != "may")]) + ")"
_WEEKDAY = "(?:" + "|".join(WEEKDAYS) + ")"
_NTH = r"\d{1,2}(?:st|nd|rd|th)"
_COUNT = r"(?:\d+|one|an?|a couple of|a few)"
_UNIT = r"(?:days?|weeks?|months?|fortnights?)"
_NUMBER_WORDS = {
    "1st": 1,
    "first": 1,
    "2nd": 2,
    "second": 2,
    "3rd": 3,
    "third": 3,
    "4th": 4,
    "fourth": 4,
    "last": -1,
}


@dataclass(frozen=True, slots=True)
class Mention:
    """A day in a plain sentence."""

    start: int
    """Offset in the plain sentence."""
    end: int
    day: date | None
    """None where only a bound was said."""
    clock: time | None = None
    latest: date | None = None
    """The day lies before this one."""
    last: date | None = None
    """The end of a range that begins with `day`."""
    unsure: str = ""
    vague: bool = False
    """A bare number of the month, or a weekday of every week: it may be no date at all."""
    written: str = ""
    left: bool = False
    """The words themselves say how long there is: `you've got ten days`."""


def find_days(text: str, aired: date, country: str = "US") -> tuple[Mention, ...]:
    """The days of a plain sentence, by their place in it; overlapping readings give way to the longer one."""
    found = sorted(_all(text, aired, country), key=lambda each: (each.start - each.end, each.start))
    kept: list[Mention] = []
    for each in found:
        if all(each.end <= other.start or each.start >= other.end for other in kept):
            kept.append(each)
    kept.sort(key=lambda each: each.start)
    kept = [
        _before_that_day(text, each, kept[number - 1].day if number else None)
        for number, each in enumerate(kept)
    ]
    return tuple(_with_clock(text, replace(each, written=text[each.start : each.end])) for each in kept)


def _all(text: str, aired: date, country: str) -> Iterator[Mention]:
    for pattern, read in _PATTERNS:
        for match in pattern.finditer(text):
            mention = _numeric(match, aired, country) if read is _numeric else read(match, aired)
            if mention is not None:
                yield mention
    yield from _holidays(text, aired, country)


def _before_that_day(text: str, mention: Mention, other: date | None) -> Mention:
    """`The 24th …, the Wednesday before`: a weekday counted from the day named before it."""
    if other is None or mention.day is None or not text[: mention.start].endswith("the "):
        return mention
    way = re.match(r" (before|after)\b(?! (?:the|that|\w+day|\d))", text[mention.end :])
    if way is None:
        return mention
    weekday = mention.day.weekday()
    gap = (other.weekday() - weekday - 1) % 7 + 1
    day = (
        other - timedelta(days=gap)
        if way[1] == "before"
        else other + timedelta(days=(weekday - other.weekday() - 1) % 7 + 1)
    )
    return replace(mention, day=day, vague=False)


# --- readings --------------------------------------------------------------------------------


def _made(match: re.Match[str], day: date | None, **more: object) -> Mention | None:
    if day is None:
        return None
    return replace(Mention(match.start(), match.end(), day), **more)  # type: ignore[arg-type]


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def coming(month: int, day: int, aired: date) -> date | None:
    """The day of that name that is nearest to the broadcast, rather ahead than behind: from three months before it on."""
    for year in (aired.year - 1, aired.year, aired.year + 1):
        found = _day(year, month, day)
        if found is not None and found >= aired - timedelta(days=92):
            return found
    return None


def _month_number(word: str) -> int:
    word = word.rstrip(".")
    return MONTHS.get(word) or _SHORT[word]


_MODAL = re.compile(r"\b(?:i|you|he|she|it|we|they|who|that|which|there|one|this) \Z")
"""Words before a `may` that is no month."""


def _month_day(match: re.Match[str], aired: date) -> Mention | None:
    if match["month"] == "may" and _MODAL.search(match.string[: match.start()]):
        return None
    month, number = _month_number(match["month"]), int(re.sub(r"\D", "", match["day"]))
    day = _day(int(match["year"]), month, number) if match["year"] else coming(month, number, aired)
    return _made(match, day, **_weekday_doubt(match["weekday"], day))


def _weekday_doubt(weekday: str | None, day: date | None) -> dict[str, str]:
    if weekday and day is not None and day.weekday() != WEEKDAYS[weekday]:
        return {
            "unsure": f"{day.isoformat()} is a {calendar.day_name[day.weekday()]}, not a {weekday.capitalize()}"
        }
    return {}


def _nth_of(match: re.Match[str], aired: date) -> Mention | None:
    number, month = int(re.sub(r"\D", "", match["day"])), match["month"]
    if month in ("this month", "the month"):
        day = _day(aired.year, aired.month, number)
    elif month == "next month":
        after = _month_after(aired)
        day = _day(after.year, after.month, number)
    else:
        day = coming(_month_number(month), number, aired)
    return _made(match, day, **_weekday_doubt(match["weekday"], day))


def _month_after(day: date, months: int = 1) -> date:
    """The first of a month some months later."""
    index = day.year * 12 + day.month - 1 + months
    return date(index // 12, index % 12 + 1, 1)


def _bare_nth(match: re.Match[str], aired: date) -> Mention | None:
    number = int(re.sub(r"\D", "", match["day"]))
    if not 1 <= number <= 31:
        return None
    weekday = match["weekday"]
    for months in range(12):
        first = _month_after(aired, months)
        day = _day(first.year, first.month, number)
        if day is None or day < aired:
            continue
        if weekday and day.weekday() != WEEKDAYS[weekday]:
            continue
        unsure = "" if weekday or months == 0 else "the month was not said"
        return _made(match, day, unsure=unsure, vague=not weekday)
    return None


def _weekday(match: re.Match[str], aired: date) -> Mention | None:
    weekday = WEEKDAYS[match["weekday"]]
    lead = (match["lead"] or "").strip()
    ahead = (weekday - aired.weekday() - 1) % 7 + 1
    if lead in ("last", "past", "this past"):
        return None
    if lead == "next":
        monday = aired - timedelta(days=aired.weekday())
        day = monday + timedelta(days=7 + weekday)
        doubt = (
            ""
            if day == aired + timedelta(days=ahead)
            else f"'next {match['weekday'].capitalize()}' may mean a week before"
        )
        return _made(match, day, unsure=doubt)
    day = aired + timedelta(days=ahead)
    if (match["week"] or "").strip():
        day += timedelta(days=7)
    start = match.start() if "this" in lead or "coming" in lead else match.start("weekday")
    return replace(
        Mention(start, match.end(), day), vague=lead in ("", "on", "by", "until", "till", "through", "before")
    )


def _near(match: re.Match[str], aired: date) -> Mention | None:
    word = " ".join(match[0].split())
    steps = {
        "day after tomorrow": 2,
        "tomorrow": 1,
        "tonight": 0,
        "today": 0,
        "this evening": 0,
        "this afternoon": 0,
    }
    ahead = next(step for name, step in steps.items() if name in word)
    return _made(match, aired + timedelta(days=ahead))


def _count(word: str) -> int:
    return int(word) if word.isdigit() else {"a couple of": 2, "a few": 3}.get(word, 1)


def _later(day: date, count: int, unit: str) -> date:
    unit = unit.rstrip("s")
    if unit == "month":
        first = _month_after(day, count)
        return first.replace(day=min(day.day, calendar.monthrange(first.year, first.month)[1]))
    return day + timedelta(days=count * {"day": 1, "week": 7, "fortnight": 14}[unit])


def _from(match: re.Match[str], aired: date) -> Mention | None:
    start = aired
    base = match["base"] or ""
    if "yesterday" in base:
        start -= timedelta(days=1)
    elif "tomorrow" in base:
        start += timedelta(days=1)
    else:
        for name, weekday in WEEKDAYS.items():
            if name in base:
                start = aired + timedelta(days=(weekday - aired.weekday() - 1) % 7 + 1)
    word = match["count"]
    doubt = (
        f"'{word} {match['unit']}' is not exact"
        if word in ("a few", "a couple of") or match["unit"].startswith("month")
        else ""
    )
    return _made(match, _later(start, _count(word), match["unit"]), unsure=doubt)


def _bound(match: re.Match[str], aired: date) -> Mention | None:
    return Mention(
        match.start(), match.end(), None, latest=_later(aired, _count(match["count"]), match["unit"])
    )


def _end_of(match: re.Match[str], aired: date) -> Mention | None:
    what = match["what"]
    if what in ("the week", "this week", "next week"):
        friday = aired + timedelta(days=(4 - aired.weekday()) % 7 + (7 if what == "next week" else 0))
        return _made(match, friday, unsure="the end of a week may be Friday, Saturday or Sunday")
    if what in ("the year", "this year"):
        return _made(match, date(aired.year, 12, 31))
    if what in ("the month", "this month"):
        return _made(match, _month_after(aired) - timedelta(days=1))
    if what == "next month":
        return _made(match, _month_after(aired, 2) - timedelta(days=1))
    month = _month_number(what)
    first = coming(month, 28, aired)
    return _made(match, _month_after(first) - timedelta(days=1) if first else None)


def _nth_weekday(match: re.Match[str], aired: date) -> Mention | None:
    nth = _NUMBER_WORDS[match["nth"]]
    weekday = WEEKDAYS[match["weekday"]]
    what = match["what"]
    if what in ("the month", "this month", "every month", "each month"):
        if what.startswith(("every", "each")):
            return None
        first = aired.replace(day=1)
    elif what == "next month":
        first = _month_after(aired)
    else:
        found = coming(_month_number(what), 28, aired)
        if found is None:
            return None
        first = found.replace(day=1)
    days = [
        day
        for number in range(1, 32)
        if (day := _day(first.year, first.month, number)) is not None and day.weekday() == weekday
    ]
    return _made(match, days[nth - 1 if nth > 0 else -1]) if len(days) >= abs(nth) else None


def _numeric(match: re.Match[str], aired: date, country: str = "US") -> Mention | None:
    month, number = int(match["month"]), int(match["day"])
    if country != "US":
        month, number = (
            number,
            month,
        )  # The day comes first nearly everywhere else (common practice, no source).
    if not 1 <= month <= 12:
        return None
    year = match["year"]
    if year:
        return _made(match, _day(int(year) if len(year) == 4 else 2000 + int(year), month, number))
    return _made(match, coming(month, number, aired))


def _weekend(match: re.Match[str], aired: date) -> Mention | None:
    ahead = (5 - aired.weekday()) % 7 or (7 if match["lead"] != "this" else 0)
    if match["lead"] == "next" and ahead < 5:
        ahead += 7
    saturday = aired + timedelta(days=ahead)
    return _made(match, saturday, last=saturday + timedelta(days=1), unsure="a weekend has two days")


def _left(match: re.Match[str], aired: date) -> Mention | None:
    """`You've got ten days`, `only two weeks left`: counted from the broadcast."""
    if not match["yours"] and not match["over"]:
        return None
    day = _later(aired, _count(match["count"]), match["unit"])
    return _made(match, day, unsure="counted from the day of the broadcast", left=True)


def _middle_of(match: re.Match[str], aired: date) -> Mention | None:
    month = match["what"]
    first = aired if month in ("the month", "this month") else coming(_month_number(month), 15, aired)
    return _made(match, first.replace(day=15) if first else None, unsure="the middle of a month is no day")


def _bare_word(match: re.Match[str], aired: date) -> Mention | None:
    """`By the first`: ordinals that may be something else stay words in plain speech."""
    number = _NUMBER_WORDS[match["day"]]
    weekday = match["weekday"]
    for months in range(12):
        first = _month_after(aired, months)
        day = _day(first.year, first.month, number)
        if day is None or day < aired or (weekday and day.weekday() != WEEKDAYS[weekday]):
            continue
        return _made(match, day, unsure="" if weekday else "the month was not said", vague=not weekday)
    return None


_Reader = Callable[[re.Match[str], date], "Mention | None"]
_PATTERNS: tuple[tuple[re.Pattern[str], _Reader], ...] = (
    (
        re.compile(
            rf"\b(?:(?P<weekday>{_WEEKDAY}),? (?:the )?)?(?P<month>{_MONTH}) (?:the )?(?P<day>{_NTH}|\d{{1,2}})(?![\d:%]|,\d)(?! (?:am|pm|oclock|years|people)\b)(?:,? (?P<year>(?:19|20)\d\d)\b)?"
        ),
        _month_day,
    ),
    (
        re.compile(
            rf"\b(?:(?P<weekday>{_WEEKDAY}),? )?(?:the )?(?P<day>{_NTH}) of (?P<month>{_MONTH}|this month|next month|the month)\b"
        ),
        _nth_of,
    ),
    (
        re.compile(
            rf"\b(?:(?P<weekday>{_WEEKDAY}),? )?the (?P<day>{_NTH})(?= ?(?:[.,;:?!]|\Z|at\b|and\b|from\b|to\b|in the (?:morning|evening|afternoon)\b|is\b|or\b|so\b|for\b))(?!-)"
        ),
        _bare_nth,
    ),
    (
        re.compile(
            rf"\b(?:(?P<lead>this coming|this past|coming|this|next|last|past|on|by|until|till|through|before) )?(?P<weekday>{_WEEKDAY})\b(?!'(?!s (?:the|your|our|when|it)\b))(?! (?:club|crew|(?:night |morning )?market))(?P<week> (?:a )?week\b| after next\b)?"
        ),
        _weekday,
    ),
    (
        re.compile(
            r"\b(?:the )?day after tomorrow\b|\btomorrow\b|\btonight\b|\btoday\b|\bthis (?:evening|afternoon)\b"
        ),
        _near,
    ),
    (
        re.compile(
            rf"\b(?P<count>{_COUNT}) (?P<unit>{_UNIT}) (?:from|after) (?P<base>today|tonight|now|yesterday|tomorrow|this {_WEEKDAY}|{_WEEKDAY})\b"
        ),
        _from,
    ),
    (re.compile(rf"\bin (?P<count>{_COUNT}) (?P<unit>{_UNIT})\b(?! (?:of|or)\b)(?P<base>)"), _from),
    (
        re.compile(
            rf"\b(?:less than|under|not quite|barely|fewer than|within) (?P<count>{_COUNT}) (?P<unit>{_UNIT})(?: (?:away|off|from now|left|to go|out))?\b"
        ),
        _bound,
    ),
    (
        re.compile(
            rf"\b(?:just |only |exactly )?(?P<count>{_COUNT}) (?P<unit>{_UNIT}) (?:away|off|from now)\b(?P<base>)"
        ),
        _from,
    ),
    (
        re.compile(
            rf"\b(?:the )?(?:end|last day|close) of (?P<what>{_MONTH}|the month|this month|next month|the week|this week|next week|the year|this year)\b"
        ),
        _end_of,
    ),
    (
        re.compile(
            rf"\b(?:the )?(?P<nth>1st|first|2nd|second|3rd|third|4th|fourth|last) (?P<weekday>{_WEEKDAY}) (?:in|of) (?P<what>{_MONTH}|the month|this month|next month|every month|each month)\b"
        ),
        _nth_weekday,
    ),
    (
        re.compile(r"(?<![\d/.$-])(?P<month>\d{1,2})/(?P<day>\d{1,2})(?:/(?P<year>\d{4}|\d\d))?(?![\d/])"),
        _numeric,
    ),
    (re.compile(r"\b(?P<lead>this|next|the) weekend\b(?! (?:before|after)\b)"), _weekend),
    (
        re.compile(
            rf"\b(?:(?P<yours>(?:you|people|folks)(?:'ve|'ll have| have| only have| still have)(?: got)?)|there(?:'s| is| are)|it's|with)?(?: just| only| still| about| exactly){{0,2}} ?\b(?:another |1 more |one more )?(?P<count>{_COUNT})(?: more)? (?P<unit>{_UNIT})\b(?P<over> left| to go| remaining)?(?! (?:from|after|before|ago|of|away|off|old|in|since|until|later)\b)"
        ),
        _left,
    ),
    (
        re.compile(rf"\b(?:the )?middle of (?P<what>{_MONTH}|the month|this month)\b"),
        _middle_of,
    ),
    (
        re.compile(
            rf"(?:(?P<weekday>{_WEEKDAY}),? |(?<=by )|(?<=until )|(?<=till )|(?<=before )|(?<=through )|(?<=on )|(?<=deadline is )|(?<=deadline's )|(?<=due ))the (?P<day>first|second|third|fourth|1st|2nd|3rd|4th)(?= ?(?:[.,;:?!]|\Z))"
        ),
        _bare_word,
    ),
)


# --- holidays --------------------------------------------------------------------------------

_SPOKEN = {
    "christmas eve": "Christmas Eve", "christmas day": "Christmas Day", "christmas": "Christmas Day", "boxing day": "Boxing Day",
    "new year's eve": "New Year's Eve", "new year's day": "New Year's Day", "new year's": "New Year's Day",
    "thanksgiving day": "Thanksgiving", "thanksgiving": "Thanksgiving", "halloween": "Halloween", "labor day": "Labor Day",
    "labour day": "Labour Day", "memorial day": "Memorial Day", "veterans day": "Veterans Day", "good friday": "Good Friday",
    "easter sunday": "Easter Sunday", "easter monday": "Easter Monday", "easter": "Easter Sunday", "mother's day": "Mother's Day",
    "father's day": "Father's Day", "valentine's day": "Valentine's Day", "valentine's": "Valentine's Day",
    "independence day": "Independence Day", "the 4th of july": "Independence Day", "july 4th": "Independence Day",
    "groundhog day": "Groundhog Day", "saint patrick's day": "Saint Patrick's Day", "st. patrick's day": "Saint Patrick's Day",
    "columbus day": "Columbus Day", "juneteenth": "Juneteenth", "presidents' day": "Washington's Birthday",
    "presidents day": "Washington's Birthday", "martin luther king day": "Martin Luther King", "canada day": "Canada Day",
    "anzac day": "ANZAC Day",
}  # fmt: skip
_HOLIDAY = re.compile(
    rf"(?:\b(?:the )?(?P<nth>day|night|week|weekend|{_WEEKDAY}) (?P<way>before|after) |\b(?P<weekday>{_WEEKDAY}),? |\b(?P<count>{_COUNT}) (?P<unit>days?|weeks?) (?P<span>before|after) )?"
    r"\b(?P<name>" + "|".join(sorted(map(re.escape, _SPOKEN), key=len, reverse=True)) + r")(?![\w'])(?! (?:eve|party|parade|tree|morning|dinner|lights?|weekend|story|show|gifts?|presents?|season|cards?|costumes?|candy|boxes|pud)\b)"
)  # fmt: skip


def _holidays(text: str, aired: date, country: str) -> Iterator[Mention]:
    if not any(name in text for name in _SPOKEN):
        return
    for match in _HOLIDAY.finditer(text):
        day = holiday(_SPOKEN[match["name"]], aired, country)
        if day is None:
            continue
        found: date | None = day
        doubt = ""
        step = 1 if (match["way"] or match["span"]) == "after" else -1
        if match["count"]:
            found = day + timedelta(
                days=step * _count(match["count"]) * (7 if match["unit"].startswith("week") else 1)
            )
        elif match["nth"] in ("day", "night"):
            found = day + timedelta(days=step)
        elif match["nth"] in ("week", "weekend"):
            continue
        elif match["nth"]:
            gap = (day.weekday() - WEEKDAYS[match["nth"]] - 1) % 7 + 1
            found = (
                day - timedelta(days=gap)
                if step < 0
                else day + timedelta(days=(WEEKDAYS[match["nth"]] - day.weekday() - 1) % 7 + 1)
            )
        elif match["weekday"] and day.weekday() != WEEKDAYS[match["weekday"]]:
            doubt = _weekday_doubt(match["weekday"], day)["unsure"]
        yield Mention(match.start(), match.end(), found, unsure=doubt)


def holiday(name: str, aired: date, country: str) -> date | None:
    """The next day of that name on or after the broadcast; None for a country without one."""
    days = [day for year in (aired.year, aired.year + 1) for day in _named_days(country, year).get(name, ())]
    return next((day for day in sorted(days) if day >= aired), None)


@lru_cache(maxsize=64)
def _named_days(country: str, year: int) -> dict[str, tuple[date, ...]]:
    import holidays

    try:
        kinds = holidays.country_holidays(country).supported_categories
        listed = holidays.country_holidays(
            country,
            years=year,
            categories=kinds,
            observed=False,
            language="en_US" if country == "US" else None,
        )
    except (NotImplementedError, KeyError, ValueError):
        return {}
    found: dict[str, list[date]] = {}
    for day, names in listed.items():
        for each in names.split("; "):
            for name in set(_SPOKEN.values()):
                if each == name or each.startswith(f"{name} "):
                    found.setdefault(name, []).append(day)
    if "Christmas Day" in found:
        # Days that everybody names where Christmas is kept, holidays or not.
        found.setdefault("Christmas Eve", [date(year, 12, 24)])
        found.setdefault("New Year's Eve", [date(year, 12, 31)])
        found.setdefault("Halloween", [date(year, 10, 31)])
        found.setdefault("Valentine's Day", [date(year, 2, 14)])
    return {name: tuple(sorted(days)) for name, days in found.items()}


# --- clock times -----------------------------------------------------------------------------

_CLOCK = re.compile(
    r"\b(?P<noon>noon|midday|midnight)\b|\b(?P<hour>1[0-2]|[1-9])(?::(?P<minute>[0-5]\d))?(?: ?(?P<half>am|pm)\b| (?P<oclock>oclock)\b| in the (?P<part>morning|afternoon|evening)\b|(?=\s*(?:[.,;]|\Z|on\b|sharp\b)))"
)
_NEAR = 24
"""Characters between a day and its hour."""


def _with_clock(text: str, mention: Mention) -> Mention:
    """The mention with an hour said right beside it: `Friday at 5 pm`, `by noon on Friday`, `9 oclock Saturday morning`."""
    after = text[mention.end : mention.end + _NEAR]
    match = re.match(
        r"(?: (?:morning|afternoon|evening|night))?,?(?: (?:at|by|until|before))? (?:" + _CLOCK.pattern + ")",
        after,
    )
    if match is not None and not re.match(r" \d", match[0]):
        return replace(mention, clock=clock_of(match, text))
    before = text[max(0, mention.start - _NEAR) : mention.start]
    last = None
    for each in _CLOCK.finditer(before):
        if re.fullmatch(r",? ?(?:on |this )?", before[each.end() :]) and re.search(
            r"\b(?:at|by|until|till|before|from|to)\s+(?:about |around )?\Z", before[: each.start()]
        ):
            last = each
    return replace(mention, clock=clock_of(last, text)) if last is not None else mention


def clock_of(match: re.Match[str], text: str) -> time | None:
    """The time of a match of the clock pattern; hours without a half of the day are those of waking people."""
    if match["noon"]:
        # Midnight of a day is its end, which a bare date says already.
        return None if match["noon"] == "midnight" else time(12, 0)
    hour, minute = int(match["hour"]), int(match["minute"] or 0)
    half = match["half"] or {"morning": "am", "afternoon": "pm", "evening": "pm"}.get(match["part"] or "", "")
    if not half:
        half = "am" if 8 <= hour <= 11 and "night" not in text and "evening" not in text else "pm"
    return time(hour % 12 + (12 if half == "pm" else 0), minute)
