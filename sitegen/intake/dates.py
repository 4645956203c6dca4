"""Days and hours as people say them, resolved against the day of the broadcast.

Each mention says how sure it is: a weekday alone, a bare number of the month or `next Friday` can be meant otherwise, and then
`unsure` says how. Days with names are in `feasts.py`, by the country of the station's language.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, time, timedelta

from sitegen.intake.feasts import FEASTS, clock_change, feast

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


def find_days(text: str, aired: date, country: str = "US", named: Sequence[date] = ()) -> tuple[Mention, ...]:
    """The days of a plain sentence, by their place in it; overlapping readings give way to the longer one.

    `named`: the days that were named before it, the latest last, from which `the day before` is counted.
    """
    kept = _apart(_all(text, aired, country))
    kept = _apart([*(_counted_from(text, each, aired) for each in kept), *kept])
    kept = list(_same_days(text, kept, aired, named))
    kept = _apart([*_counted_back(text, kept, aired, named), *kept])
    kept = list(_same_days(text, kept, aired, named))  # They lean on counted days, too.
    kept = _joined(text, kept)
    return tuple(
        _with_clock(text, replace(each, written=text[each.start : each.end]))
        for each in kept
        if each.day is not None or each.latest is not None
    )


def _apart(mentions: Iterable[Mention]) -> list[Mention]:
    """The longest of those that overlap, in the order they are said."""
    kept: list[Mention] = []
    for each in sorted(mentions, key=lambda each: (each.start - each.end, each.start)):
        if all(each.end <= other.start or each.start >= other.end for other in kept):
            kept.append(each)
    return sorted(kept, key=lambda each: each.start)


def _all(text: str, aired: date, country: str) -> Iterator[Mention]:
    for pattern, read in _PATTERNS:
        for match in pattern.finditer(text):
            mention = _numeric(match, aired, country) if read is _numeric else read(match, aired)
            if mention is not None:
                yield mention
    yield from _feasts(text, aired, country)
    yield from _clock_changes(text, aired, country)
    yield from _long_weekends(text, aired, country)


# --- days counted from others ----------------------------------------------------------------

_COUNTED_FROM = re.compile(
    rf"\b(?:(?P<count>{_COUNT}) (?P<unit>{_UNIT})|(?<!any )(?<!every )(?<!each )(?<!one )(?<!some )(?<!a )(?<!of )(?:the )?(?:very )?(?P<what>day|night|evening|week|weekend)|(?:the )?(?:1st |first |last )?(?P<weekday>{_WEEKDAY})(?: (?:morning|afternoon|evening|night))?)"
    r",? (?:(?P<way>before|after|from|ahead of|following|of|on) )?(?:on )?\Z"
)
_TIMES = re.compile(
    r"\b(?:once|twice|times|days?|nights?|evenings?|mornings?|afternoons?|hours?|dollars?|shifts?|\d+) \Z"
)
"""`Two days a week on Friday` is no day."""


_OF_A_WEEK = re.compile(r"[^,.;:?!]{1,24}\bweek\b")
"""`Holy Week`, `Thanksgiving week`."""


def _counted_from(text: str, mention: Mention, aired: date) -> Mention:
    """A day with the words that count from it: `the Saturday before Easter`, `two weeks from Friday`, `a week on Monday`."""
    match = _COUNTED_FROM.search(text[: mention.start])
    if match is None or mention.day is None or mention.left:
        return mention
    way = match["way"]
    if match["count"]:
        weeks = match["unit"].startswith(("week", "fortnight"))
        apart = way is None and "," in match[0]  # `No, two weeks, the 27th` says one day twice.
        if (
            way == "of"
            or apart
            or (way in (None, "on") and (not weeks or _TIMES.search(text[: match.start()])))
        ):
            return mention
        step = -1 if way in ("before", "ahead of") else 1
        day, doubt = _steps(mention.day, match, step)
        word = re.match(r"\w+", text[mention.start :])
        if word is not None and word[0] in WEEKDAYS:
            near, _ = _steps(_beside(aired, WEEKDAYS[word[0]], back=False), match, step)
            if near == mention.day:  # `A week from Friday, the eleventh` says the day itself.
                day = near
        return replace(mention, start=match.start(), day=day, unsure=doubt, vague=False, last=None)
    if way == "of" and match["weekday"] and mention.last is not None:
        day = _beside(mention.last + timedelta(days=1), WEEKDAYS[match["weekday"]], back=True)
        return replace(mention, start=match.start(), day=day, last=None, unsure="")
    week = _OF_A_WEEK.match(text, mention.start)
    if way == "of" and match["weekday"] and week is not None and week.end() >= mention.end:
        day = mention.day + timedelta(days=WEEKDAYS[match["weekday"]] - mention.day.weekday())
        return replace(mention, start=match.start(), end=week.end(), day=day)
    if way not in ("before", "after", "following", "ahead of"):
        return mention
    if match["what"] in ("week", "weekend"):
        return replace(mention, start=match.start(), day=None)  # No day that one could name.
    back = way in ("before", "ahead of")
    if match["weekday"]:
        day = _beside(mention.day, WEEKDAYS[match["weekday"]], back=back)
    else:
        day = mention.day + timedelta(days=-1 if back else 1)
    return replace(mention, start=match.start(), day=day, vague=False, last=None)


def _steps(day: date, match: re.Match[str], way: int) -> tuple[date, str]:
    """(the day so many days, weeks or months away, what is unsure about it)."""
    word, unit = match["count"], match["unit"]
    doubt = (
        f"'{word} {unit}' is not exact"
        if word in ("a few", "a couple of") or unit.startswith("month")
        else ""
    )
    return _later(day, way * _count(word), unit), doubt


def _beside(day: date, weekday: int, *, back: bool) -> date:
    """The last such weekday before a day, or the next one after it."""
    if back:
        return day - timedelta(days=(day.weekday() - weekday - 1) % 7 + 1)
    return day + timedelta(days=(weekday - day.weekday() - 1) % 7 + 1)


COUNTED_BACK = re.compile(
    rf"\b(?:(?P<count>{_COUNT}) (?P<unit>{_UNIT}) (?:before|ahead|beforehand|earlier|sooner|prior|in advance)"
    rf"|the (?P<what>day|night|evening) (?P<way>before|after|ahead of(?= that))|the (?P<weekday>{_WEEKDAY})(?: (?:morning|afternoon|evening|night))? (?P<side>before|after|ahead of(?= that))"
    rf"|the (?P<again>one|week) (?:right |just )?(?:after|following)(?: that)?(?= ?(?:[.,;:?!]|\Z))"
    rf"|the following (?P<following>{_WEEKDAY}|day)"
    rf"|(?P<within>{_WEEKDAY}) (?:of|in) that (?:same )?week)\b(?! (?:last|next|noon|dark|midnight|that one|yesterday|school|work|church|\d))"
    r"(?: (?:that|then|it|the \w+)\b)?"
)


"""Days counted from one that is named elsewhere."""


def _counted_back(
    text: str, mentions: Sequence[Mention], aired: date, named: Sequence[date]
) -> Iterator[Mention]:
    """Days counted from one that was named before: `the day before`, `the Monday of that week`."""
    for match in COUNTED_BACK.finditer(text):
        # In `the Saturday, the day before`, both are one day.
        here = [
            each.day
            for each in mentions
            if each.day
            and each.end <= match.start()
            and text[each.end : match.start()] not in (", ", ", the ")
        ]
        if match["again"]:
            weekdays = [each.day for each in mentions if each.day and each.end <= match.start() and _HAS_WEEKDAY.search(text, each.start, each.end)]  # fmt: skip
            if weekdays and weekdays[-1] + timedelta(days=7) >= aired:
                yield Mention(match.start(), match.end(), weekdays[-1] + timedelta(days=7))
            continue
        if "after" in match[0] and not re.match(r" ?(?:[.,;:?!]|\Z)", text[match.end() :]):
            continue  # `The day after she was born`.
        for base in reversed([*named, *here]):
            if match["count"]:
                day, doubt = _steps(base, match, -1)
            elif match["what"]:
                day, doubt = base + timedelta(days=1 if match["way"] == "after" else -1), ""
            elif match["following"]:
                after = match["following"]
                day = (
                    base + timedelta(days=1) if after == "day" else _beside(base, WEEKDAYS[after], back=False)
                )
                doubt = ""
            elif match["weekday"]:
                weekday, back = WEEKDAYS[match["weekday"]], match["side"] != "after"
                day = _beside(base, weekday, back=back)
                if any(_beside(other, weekday, back=back) == base for other in [*named, *here]):
                    day = base  # Said once more.
                doubt = ""
            else:
                day, doubt = base + timedelta(days=WEEKDAYS[match["within"]] - base.weekday()), ""
            if day >= aired:
                yield Mention(match.start(), match.end(), day, unsure=doubt)
                break


_HAS_WEEKDAY = re.compile(_WEEKDAY)
_A_WEEKDAY = re.compile(r"\b(?:a|the|that) \Z")
_COMING_WEEK, _IN_SIGHT = 7, 75
"""Days within which a weekday by itself is the next one of its name, and beyond which no day is leant on."""


def _same_days(
    text: str, mentions: Sequence[Mention], aired: date, named: Sequence[date]
) -> Iterator[Mention]:
    """Weekdays that lean on a day that was named: `the 24th, that's a Wednesday`, `she cooks on the 25th, so by the Monday`."""
    known = list(named)
    here: date | None = None
    week: Mention | None = None
    for each in mentions:
        article = _A_WEEKDAY.search(text[: each.start])
        bare = each.day is not None and each.vague and text[each.start : each.end] in WEEKDAYS
        if bare and each.day is not None and article is not None:
            weekday = each.day.weekday()
            day = next((day for day in reversed(known) if day.weekday() == weekday), None)
            if day is not None:
                yield replace(each, day=day, vague=False)
            elif article[0] != "a ":
                yield _leaning(text, each, known[-1] if known else None, aired)
            continue
        if (
            bare
            and each.day is not None
            and week is not None
            and week.day is not None
            and each.start - week.end <= 6
        ):
            yield replace(each, day=_beside(week.day - timedelta(days=1), each.day.weekday(), back=False))
            continue
        if bare:
            yield _leaning(text, each, here, aired)
            continue
        if each.vague and each.day is not None and not _HAS_WEEKDAY.search(text, each.start, each.end):
            limit = _LIMITING.search(text[: each.start]) is not None or "so " in text[: each.start]
            base = here or (known[-1] if known and limit else None)
            each = _in_month(each, base, aired, limit=limit)
        if each.day is not None:
            known.append(each.day)
            here = each.day
        week = each if each.last is not None else None
        yield each


def _in_month(mention: Mention, base: date | None, aired: date, *, limit: bool) -> Mention:
    """A bare number of the month beside a day of a later month: of that month, or, where it is a limit, the last such day before."""
    assert mention.day is not None
    number = mention.day.day
    if (
        base is None
        or (base.year, base.month) <= (mention.day.year, mention.day.month)
        or (base - aired).days > _IN_SIGHT
    ):
        return mention
    day = _day(base.year, base.month, number)
    if day is not None and day > base and limit:
        before = _month_after(base, -1)
        day = _day(before.year, before.month, number)
    return replace(mention, day=day) if day is not None and day >= aired else mention


def _leaning(text: str, mention: Mention, base: date | None, aired: date) -> Mention:
    """A weekday of the time around a day that is farther away than a week: before it where it is a limit, or else the nearest."""
    assert mention.day is not None
    if base is None or not _COMING_WEEK < (base - aired).days <= _IN_SIGHT:
        return mention
    day = _beside(base, mention.day.weekday(), back=True)
    if (base - day).days > 3 and not _LIMITING.search(text[: mention.start]):
        day += timedelta(days=7)
    return replace(mention, day=day) if day >= aired else mention


_LIMITING = re.compile(
    r"\b(?:by|before|until|till|through)\b[^.,;]{0,40}\Z|\bso(?: the| on){0,2} \Z"
    r"|\b(?:want|need|must have|have to have|'ve got to have) (?:it|them|those|everything|all|my|our|your|the)\b[^.,;]{0,40}\Z"
)


_SAME = re.compile(
    r",? ?(?:so,? )?(?:(?:that's|that is|that'd be|that would be|that'll be|that makes it|which is|which'd be|which would be|which'll be|which makes it|which falls on|it's|i think|i believe|i mean|meaning|so that's|this year that's|this year)(?: on)? )?(?:on |the |this )*"
)
"""What stands between two names of one day."""


def _joined(text: str, mentions: Sequence[Mention]) -> list[Mention]:
    """Those that name one day twice as one: `the Friday before, the 28th`, `the day before, Wednesday`."""

    def bare(mention: Mention) -> bool:
        return text[mention.start : mention.end] in WEEKDAYS

    def feast_day(mention: Mention) -> bool:
        """Feasts may begin on the eve."""
        return text[mention.start : mention.end] in FEASTS

    kept: list[Mention] = []
    for each in mentions:
        before = kept[-1] if kept else None
        if (
            before is not None
            and before.day is not None
            and each.day is not None
            and _SAME.fullmatch(text, before.end, each.start)
            and before.last is not None
            and before.day <= each.day <= before.last
            and each.last is None
        ):
            kept[-1] = replace(each, start=before.start)  # `By the weekend, so, Sunday.`
        elif (
            before is not None
            and before.day is not None
            and each.day is not None
            and _SAME.fullmatch(text, before.end, each.start)
            and before.last is None
            and (
                before.day == each.day
                or (
                    before.day.weekday() == each.day.weekday()
                    and not feast_day(before)
                    and (bare(each) or each.vague or bare(before))
                )
                or (
                    each.vague
                    and not bare(each)
                    and (before.day.day == each.day.day or abs((each.day - before.day).days) == 1)
                )
                or (feast_day(before) and not feast_day(each) and abs((each.day - before.day).days) == 1)
            )
        ):
            # What was said last and with a number says what was meant.
            counted = each.vague and not bare(each) and before.day.day != each.day.day
            surer = each if bare(before) or counted or (feast_day(before) and not bare(each)) else before
            kept[-1] = replace(surer, start=before.start, end=each.end)
        else:
            kept.append(each)
    return kept


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
    if match["month"] == "may" and not match["weekday"] and _MODAL.search(match.string[: match.start()]):
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
        if month == "the month" and day is not None and day < aired:
            day = _day(*_month_after(aired).timetuple()[:2], number)
    elif month == "the year":
        day = date(aired.year + 1, 1, 1) if number == 1 else None
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


_EXCEPTED = re.compile(
    r"\b(?:every|any|each|all|whole|seven|7|anytime)\b[^.,;:?!]{0,25},? (?:but|except|bar|save)(?: for| on)? (?:the |a )?\Z"
    r"|\b(?:except(?: for| on)?|other than|besides|apart from|aside from|outside of) (?:the |a )?\Z"
)
"""`Every afternoon but Monday`."""


def _weekday(match: re.Match[str], aired: date) -> Mention | None:
    weekday = WEEKDAYS[match["weekday"]]
    lead = (match["lead"] or "").strip()
    if _EXCEPTED.search(match.string[: match.start("weekday")]):
        return None
    ahead = (weekday - aired.weekday() - 1) % 7 + 1
    past = lead == "past" and match.string[: match.start()].endswith(("the ", "these "))
    if lead in ("last", "this past") or past:
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
    if (match["week"] or " next") != " next":
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
        "yesterday": -1,
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
    """So long from the day of the broadcast."""
    day, doubt = _steps(aired, match, 1)
    return _made(match, day, unsure=doubt)


def _weekdays_on(match: re.Match[str], aired: date) -> Mention | None:
    """`Two Saturdays from now`."""
    first = _beside(aired, WEEKDAYS[match["weekday"]], back=False)
    return _made(match, first + timedelta(days=7 * (_count(match["count"]) - 1)))


def _week_of(match: re.Match[str], aired: date) -> Mention | None:
    """`Wednesday of next week`: weeks begin on Monday."""
    monday = aired - timedelta(days=aired.weekday())
    day = monday + timedelta(days=WEEKDAYS[match["weekday"]])
    if match["which"] != "this" or day <= aired:
        day += timedelta(days=7)
    return _made(match, day)


def _bound(match: re.Match[str], aired: date) -> Mention | None:
    return Mention(
        match.start(), match.end(), None, latest=_later(aired, _count(match["count"]), match["unit"])
    )


def _end_of(match: re.Match[str], aired: date) -> Mention | None:
    what = match["what"]
    if what in ("week", "month", "year"):
        what = f"the {what}"
    if what in ("the week", "this week", "next week"):
        monday = aired - timedelta(days=aired.weekday())
        friday = (
            monday + timedelta(days=11)
            if what == "next week"
            else aired + timedelta(days=(4 - aired.weekday()) % 7)
        )
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


def _rest_of(match: re.Match[str], aired: date) -> Mention | None:
    end = _end_of(match, aired)
    return replace(end, left=True) if end is not None else None


def _start_of(match: re.Match[str], aired: date) -> Mention | None:
    what = match["what"]
    if what == "next week":
        day: date | None = aired + timedelta(days=7 - aired.weekday())
    elif what == "next month":
        day = _month_after(aired)
    else:
        day = coming(_month_number(what), 1, aired)
    return _made(match, day, unsure="the beginning may be some days long")


def _first_week(match: re.Match[str], aired: date) -> Mention | None:
    day = coming(_month_number(match["what"]), 1, aired)
    return _made(match, day, last=day + timedelta(days=6) if day else None, unsure="a week has seven days")


_SEASONS = {"spring": (3, 20), "summer": (6, 21), "fall": (9, 22), "autumn": (9, 22), "winter": (12, 21)}
"""When seasons begin by the sun in the north, give or take a day (common knowledge, from memory)."""


def _season(match: re.Match[str], aired: date) -> Mention | None:
    day = coming(*_SEASONS[match["season"]], aired)
    return _made(match, day, unsure="a season may begin a day earlier or later")


def _new_year(match: re.Match[str], aired: date) -> Mention | None:
    return _made(match, date(aired.year + 1, 1, 1))


def _ides(match: re.Match[str], aired: date) -> Mention | None:
    """The fifteenth of March, May, July and October, the thirteenth of all others."""
    for months in range(12) if not match["month"] else (0,):
        month = _month_number(match["month"]) if match["month"] else _month_after(aired, months).month
        day = coming(month, 15 if month in (3, 5, 7, 10) else 13, aired)
        if day is not None and day >= aired:
            return _made(match, day)
    return None


def _nth_weekday(match: re.Match[str], aired: date) -> Mention | None:
    nth = _NUMBER_WORDS[match["nth"]]
    weekday = WEEKDAYS[match["weekday"]]
    what = match["what"]
    if what in (
        "it",
        "that",
        "that month",
    ):  # `They start in June, and want them by the first Saturday of it.`
        said = re.findall(rf"\b{_MONTH}\b", match.string[: match.start()])
        if not said:
            return None
        what = said[-1]
    if what in ("the month", "this month", "every month", "each month"):
        if what.startswith(("every", "each")):
            return None
        first = aired.replace(day=1)
    elif what == "next month":
        first = _month_after(aired)
    elif what == "advent":
        sunday = feast("advent sunday", aired - timedelta(days=21), "")
        if sunday is None or nth < 0:
            return None
        return _made(match, sunday + timedelta(days=(weekday - 6) % 7 + 7 * (nth - 1)))
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


_WEEKEND_LIMIT = re.compile(r"\b(?:by|before|until|till|through|over|after|of) \Z")


def _weekend(match: re.Match[str], aired: date) -> Mention | None:
    if match["lead"] == "the" and not _WEEKEND_LIMIT.search(match.string[: match.start()]):
        return None  # `Have a good one, and enjoy the weekend`.
    ahead = (5 - aired.weekday()) % 7 or (7 if match["lead"] != "this" else 0)
    if match["lead"] == "next" and ahead < 5:
        ahead += 7
    saturday = aired + timedelta(days=ahead)
    return _made(match, saturday, last=saturday + timedelta(days=1), unsure="a weekend has two days")


def _left(match: re.Match[str], aired: date) -> Mention | None:
    """`You've got ten days`, `only two weeks left`: counted from the broadcast."""
    if not match["yours"] and not (match["over"] or match["more"] or match["still"]):
        return None
    day = _later(aired, _count(match["count"]), match["unit"])
    return _made(
        match, day, unsure="counted from the day of the broadcast", left=bool(match["yours"] or match["over"])
    )


def _middle_of(match: re.Match[str], aired: date) -> Mention | None:
    month = match["what"]
    if month in ("the week", "this week", "next week"):
        ahead = (2 - aired.weekday()) % 7 if month != "next week" else 9 - aired.weekday()
        return _made(match, aired + timedelta(days=ahead), unsure="the middle of a week is no day")
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


_ON = r"(?: ?(?:[.,;:?!]|\Z)|'s (?:a|the|our|your|their|when|it|as)\b| (?:at|and|from|to|itself|in the (?:morning|evening|afternoon)|in (?:january|february|march|april|may|june|july|august|september|october|november|december)|is|isn't|was|will|or|so|for|now|then|this time|instead|again|because|since|if|when|while|by|on|before|after|until|till|through|with|without|as|they|we|he|she|it|you|i|who|which|that|but|not|please|too|only|comes|falls|works|rolls|arrives|passes|goes|there|would|has|can)\b)"
"""What may follow a day of the month that no month follows: no noun that it might count."""

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
            rf"\b(?:(?P<weekday>{_WEEKDAY}),? )?(?:the )?(?P<day>{_NTH})(?: day)?(?: of|(?= (?!may|march|mar\b){_MONTH}(?:{_ON}))) (?P<month>{_MONTH}|this month|next month|the month|the year)\b"
        ),
        _nth_of,
    ),
    (
        re.compile(rf"\b(?:(?P<weekday>{_WEEKDAY}),? )?the (?P<day>{_NTH})(?={_ON})(?!-)"),
        _bare_nth,
    ),
    (
        re.compile(
            rf"\b(?<!every )(?<!each )(?<!any )(?<!most )(?<!some )(?<!one )(?<!no )(?<!since )(?<!ago )(?<!ago on )(?:(?P<lead>this coming|this past|coming|this|next|last|past|on|by|until|till|through|before) )?(?P<weekday>{_WEEKDAY})\b(?!'(?!s (?:the|a|your|our|when|it|as|over|out|up|done|through)\b))(?! last\b)(?! (?:nights|mornings|afternoons|evenings|noons)\b)(?! (?:(?:night|morning|afternoon|evening) )?(?:club|crew|page|paper|edition|boat|ferry|train|bus|class|choir|game|group|shift|market)\b)(?P<week> (?:a )?week\b| after next\b| next(?= ?(?:[.,;:?!]|\Z)))?"
        ),
        _weekday,
    ),
    (
        re.compile(
            r"\b(?:the )?day after tomorrow\b|\b(?:tomorrow|yesterday|tonight|today|this (?:evening|afternoon))\b(?!'s)"
        ),
        _near,
    ),
    (re.compile(rf"\bin (?P<count>{_COUNT}) (?P<unit>{_UNIT})\b(?! (?:of|or)\b)"), _from),
    (re.compile(rf"\b(?P<count>{_COUNT}|2|3|4) (?P<weekday>{_WEEKDAY})s from now\b"), _weekdays_on),
    (
        re.compile(rf"\b(?P<weekday>{_WEEKDAY}),? (?:of |in )?(?P<which>this|next|the following) week\b"),
        _week_of,
    ),
    (re.compile(rf"\b(?P<which>this|next) week,? (?:on )?(?P<weekday>{_WEEKDAY})\b"), _week_of),
    (
        re.compile(
            rf"\b(?:less than|under|not quite|barely|fewer than|within) (?P<count>{_COUNT}) (?P<unit>{_UNIT})(?: (?:away|off|from now|left|to go|out))?\b"
        ),
        _bound,
    ),
    (
        re.compile(
            rf"\b(?:just |only |exactly )?(?P<count>{_COUNT}) (?P<unit>{_UNIT}) (?:away|off|from (?:right )?now)\b"
        ),
        _from,
    ),
    (
        re.compile(
            rf"(?<!back )\b(?:the )?(?:very |tail )?(?:end|last day|last (?:minute|hour|moment|second)|close) of (?P<what>{_MONTH}|the month|this month|next month|the week|this week|next week|the year|this year)\b"
        ),
        _end_of,
    ),
    (re.compile(r"\b(?:the )?(?P<what>month|year|week)'s end\b"), _end_of),
    (
        re.compile(
            rf"(?:(?<=got )|(?<=have )|(?<=got all )|(?<=have all )|(?<=have till )|(?<=gives you ))(?:the rest of|all(?: of)?|the whole(?: month)?(?: of)?|the entire(?: month of)?|(?<!all )the month of) (?P<what>{_MONTH}|the month|this month|next month|the week|this week|next week|the year|this year)\b"
        ),
        _rest_of,
    ),
    (
        re.compile(
            rf"(?<=\bbefore )(?:(?:the|this) )?(?P<what>month|year|week|{_MONTH})(?:'s| is) (?:out|over|up|done|through|gone)\b"
        ),
        _end_of,
    ),
    (re.compile(rf"\b(?:the )?(?:whole )?(?:first|1st) week (?:in|of) (?P<what>{_MONTH})\b"), _first_week),
    (
        re.compile(rf"\b(?:the )?(?:start|beginning) of (?P<what>{_MONTH}|next month|next week)\b"),
        _start_of,
    ),
    (re.compile(r"\b(?:the )?(?:first|1st) day of (?P<season>spring|summer|fall|autumn|winter)\b"), _season),
    (
        re.compile(
            r"(?:(?<=by )|(?<=before )|(?<=until )|(?<=till )|(?<=through ))(?:the )?new year\b(?!'s)"
        ),
        _new_year,
    ),
    (re.compile(rf"\bthe ides(?: of (?P<month>{_MONTH}))?\b"), _ides),
    (
        re.compile(
            rf"\b(?:the )?(?P<nth>1st|first|2nd|second|3rd|third|4th|fourth|last) (?P<weekday>{_WEEKDAY}) (?:in|of) (?P<what>{_MONTH}|advent|the month|this month|next month|every month|each month|it|that month|that)\b"
        ),
        _nth_weekday,
    ),
    (
        re.compile(r"(?<![\d/.$-])(?P<month>\d{1,2})/(?P<day>\d{1,2})(?:/(?P<year>\d{4}|\d\d))?(?![\d/])"),
        _numeric,
    ),
    (
        re.compile(r"(?<=\bthrough )(?:all of )?(?P<what>this week|next week|next month|this month)\b"),
        _end_of,
    ),
    (re.compile(r"\b(?P<lead>this|next|the) weekend\b(?! (?:before|after)\b)"), _weekend),
    (
        re.compile(
            rf"\b(?:(?P<yours>(?:you|people|folks)(?:'ve|'ll have| have| only have| still have)(?: got)?)|there(?:'s| is| are)|it's|with)?(?: just| only| still| about| exactly){{0,2}} ?\b(?P<more>(?:for )?another |for the next )?(?P<count>{_COUNT})(?P<still> more)? (?P<unit>{_UNIT})\b(?P<over> left| to go| remaining)?(?! (?:from|after|before|ago|of|away|off|old|in|since|until|later)\b)"
        ),
        _left,
    ),
    (
        re.compile(
            rf"\b(?:(?:the )?middle of|mid-?) ?(?P<what>{_MONTH}|the month|this month|the week|this week|next week)\b"
        ),
        _middle_of,
    ),
    (
        re.compile(
            rf"(?:(?P<weekday>{_WEEKDAY}),? |(?<=by )|(?<=until )|(?<=till )|(?<=before )|(?<=through )|(?<=on )|(?<=after )|(?<=to )|(?<=deadline is )|(?<=day is )|(?<=date is )|(?<=so )|(?<=now )|(?<=then )|(?<=deadline's )|(?<=due )|(?<=it's )|(?<=saying )|(?<=say )|(?<=make it )|(?=the \w+ itself\b))the (?P<day>first|second|third|fourth|1st|2nd|3rd|4th)(?={_ON})"
        ),
        _bare_word,
    ),
)


# --- holidays --------------------------------------------------------------------------------

_KINDS = (
    "(?:boat|ship|lumber)?yard|hall|chapel|church|school|house|inn|hotel|library|farm|orchard|nursery|museum"
    "|court|lane|street|road|avenue|island|point|head|bay|cove|creek|bridge|square|park|cottages?|cafe|diner|bakery|lodge|wharf|pier|landing"
)
"""What is called after a day, and stands on all of them: `the Candlemas boatyard`."""
_FEAST = re.compile(
    rf"(?:\b(?P<weekday>{_WEEKDAY}),? )?\b(?P<name>"
    + "|".join(sorted(map(re.escape, FEASTS), key=len, reverse=True))
    .replace(r"saint\ ", r"(?:saint|st\.?)\ ")
    .replace("'", "'?")
    + rf")(?![\w'])(?P<eve> eve\b)?(?! (?:eve|party|parade|tree|dinner|calendars?|wreaths?|candles?|bazaar|service|windows?|lights?|story|show|gifts?|presents?|season|cards?|costumes?|candy|boxes|pud|{_KINDS})\b)(?P<weekend> weekend\b)?"
)
_TO_SATURDAY = (-2, -3, 3, 2, 1, 0, -1)
"""Days from a feast on Monday, Tuesday and so on to the Saturday of its weekend."""


_WISHED = re.compile(r"\b(?:(?:merry|happy) |have (?:a|an) (?:\w+,? ){1,3})\Z")
"""What makes a day's name a greeting."""


_SOMEBODYS = re.compile(
    r"\b(?:(?:some|any|every|no)(?:body|one)'s|(?:our|your|my|their|her|his|people's|folks')(?: \w+)?) \Z"
)
"""`That's somebody's Christmas.`"""
_SEASONAL = frozenset(("christmas", "easter", "thanksgiving", "halloween", "hanukkah", "valentine's", "new year's", "kwanzaa", "passover"))  # fmt: skip
_DETERMINED = re.compile(
    r"\b(?:the|an?|our|your|my|their|her|his|its|every|each|some|any|no|these|those|\w+'s)(?: (?:big|first|annual|little|old|\d+))? \Z"
)
_NOUN_NEXT = re.compile(
    r" (?!(?:before|after|that|this|when|if|and|or|but|so|at|in|on|by|to|for|from|with|until|till|through|is|was|will|we|they|he|she|it|i|you|who|which|as|of|day|eve|morning|night|afternoon|evening|week|weekend|because|since|again|now|then|itself|the|a|an|my|our|your|their|her|his|just|not|please)\b)[a-z]{3,}"
)
"""`The Christmas babies`: what is called after a day."""


def _feasts(text: str, aired: date, country: str) -> Iterator[Mention]:
    for match in _FEAST.finditer(text):
        if (
            _WISHED.search(text[: match.start()])
            or _SOMEBODYS.search(text[: match.start()])
            or (
                match["name"] in _SEASONAL
                and _DETERMINED.search(text[: match.start()])
                and _NOUN_NEXT.match(text, match.end())
            )
        ):
            continue
        day = feast(match["name"], aired, country)
        if day is None:
            continue
        if match["eve"]:
            day -= timedelta(days=1)
        last: date | None = None
        doubt = ""
        if match["weekend"]:
            saturday = day + timedelta(days=_TO_SATURDAY[day.weekday()])
            day, last = saturday, max(day, saturday + timedelta(days=1))
            doubt = "a weekend has two days"
        elif match["weekday"] and day.weekday() != WEEKDAYS[match["weekday"]]:
            doubt = _weekday_doubt(match["weekday"], day)["unsure"]
        yield Mention(match.start(), match.end(), day, last=last, unsure=doubt)


_LONG_WEEKEND = re.compile(r"\b(?:the|this|that) (?:long|holiday|three-day|3-day) weekend\b")
_MONDAYS = ("mlk day", "presidents day", "memorial day", "labor day", "columbus day")
"""American holidays that make a weekend long."""


def _long_weekends(text: str, aired: date, country: str) -> Iterator[Mention]:
    """`The Saturday of the long weekend`: Saturday to Monday."""
    for match in _LONG_WEEKEND.finditer(text):
        if country == "US":
            monday = min(day for name in _MONDAYS if (day := feast(name, aired, country)) is not None)
            yield Mention(match.start(), match.end(), monday - timedelta(days=2), last=monday, unsure="a weekend has several days")  # fmt: skip


_CHANGING = re.compile(
    rf"(?:\b(?:the )?(?P<lead>{_WEEKDAY}|day|night|weekend) (?:(?:that|when|on which|where) )?)?\b(?:"
    r"(?:the|our|your|all the) clocks (?:all )?(?:go(?:es)?|move|turn|change|jump|spring|fall|roll|slip|are (?:set|turned|moved)|get (?:set|turned|moved))(?: (?:an hour|ahead|forward|on|up|back))*"
    r"|(?:we|you|they|everybody|everyone)(?:'ll| all| have to)? (?:(?:set|turn|put|move|wind|roll)s? (?:(?:the|our|your|their|all the) )?clocks?(?: an hour)? (?:ahead|forward|on|up|back)|changes? (?:(?:the|our|your|their|all the) )?clocks)"
    r"|(?:we|you|they|everybody|everyone)(?:'ll| all)? (?:lose|gain)s? (?:an|that|the) hour"
    r"|(?:we|you|they)(?:'ll| all)? (?:spring (?:ahead|forward)|fall back)"
    r"|daylight[- ]savings?(?: time)? (?:begins|starts|kicks in|comes in|ends|is over|stops|is done|goes out)"
    r"|the time chang(?:es?|ing)"
    r"|the hour (?:changes|goes (?:ahead|forward|on|back))"
    r")(?![\w'])"
)
_BACK = re.compile(r"\b(?:back|gain\w*|ends|over|stops|done|goes out)\b")
_AHEAD = re.compile(r"\b(?:ahead|forward|on|up|lose\w*|begins|starts|kicks in|comes in)\b")


def _clock_changes(text: str, aired: date, country: str) -> Iterator[Mention]:
    """`The Saturday we set the clocks back`, `when daylight saving begins`: the Sunday of it, or the day of its weekend that is named."""
    for match in _CHANGING.finditer(text):
        said = match[0].removeprefix(f"{match['lead']} ") if match["lead"] else match[0]
        way = "back" if _BACK.search(said) else "ahead" if _AHEAD.search(said) else ""
        day = clock_change(way, aired, country)
        if day is None:
            continue
        lead, last = match["lead"], None
        if lead == "weekend":
            day, last = day - timedelta(days=1), day
        elif lead == "night":
            day -= timedelta(days=1)
        elif lead in WEEKDAYS:
            day -= timedelta(days=(day.weekday() - WEEKDAYS[lead]) % 7)
        if day >= aired:
            yield Mention(match.start(), match.end(), day, last=last)


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
