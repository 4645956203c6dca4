"""Dates, times, spans, hours and numbers in words.

The words and patterns are the catalogue's; here stands only how they are put together. For US English they follow
news style (common practice, no source): "Dec. 15", months of five letters or fewer never shortened, "5:30 p.m.",
"noon"; the end of a whole day is "through" that day, never "until midnight".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING
from unicodedata import category

from sitegen.edition.models import DatesView, Moment
from sitegen.newsroom.records import DayHours, Hours, Mode
from sitegen.typeset.words import Words, with_capital

if TYPE_CHECKING:
    from babel import Locale

_DAY = 24 * 60
_MIDNIGHT = time(0, 0)
_NOON = time(12, 0)
NO_BREAK = "\u00a0"
MOST_KEPT = 4096
"""Words of moments, of hours and of numbers that are kept: pages say the same ones again and again."""

Ranges = Sequence[tuple[int, int]]
"""(start, end) in minutes from a day's 00:00, as in `sitegen.newsroom.records.Rule`."""


@dataclass(frozen=True)
class Dates:
    """How one language says when."""

    words: Words
    language: str
    """BCP 47; for the marks in numbers and the names of languages."""
    _said: dict[tuple[date, bool, bool], str] = field(default_factory=dict, repr=False, compare=False)
    _wholes: dict[str, str] = field(default_factory=dict, repr=False, compare=False)
    _numbers: dict[str, str] = field(default_factory=dict, repr=False, compare=False)
    _hours: dict[Hours, tuple[str, ...]] = field(default_factory=dict, repr=False, compare=False)

    # --- days and clock times ----------------------------------------------------------------

    def day(self, day: date, *, weekday: bool = False, year: bool = False) -> str:
        """Such as `Tuesday, Dec. 15, 2026`, without the weekday or the year unless they are asked for."""
        key = (day, weekday, year)
        if key not in self._said:
            self._said[key] = self.words.say(
                "date.day" + (".weekday" if weekday else "") + (".year" if year else ""),
                weekday=self.weekday(day.weekday()),
                month=self.words.say(f"month.{day.month}.dated"),
                day=day.day,
                year=day.year,
            )
        return self._said[key]

    def month(self, day: date) -> str:
        """The month of a day, such as `December 2026`."""
        return self.words.say("date.month", month=self.words.say(f"month.{day.month}"), year=day.year)

    def weekday(self, weekday: int) -> str:
        """Monday is 0."""
        return self.words.say(f"weekday.{weekday}")

    def clock(self, clock: time) -> str:
        """Such as `5:30 p.m.`, `9 a.m.`, `noon`, `midnight`."""
        if clock in (_MIDNIGHT, _NOON):
            return self.words.say("clock.noon" if clock == _NOON else "clock.midnight")
        return self._half(clock.hour >= 12, self._hour(clock))

    def moment(self, moment: Moment, *, weekday: bool = True, year: bool = False) -> str:
        """A day, and the clock time when one is meant: `Saturday, Dec. 12, 2 p.m.`."""
        day = self.day(moment.day, weekday=weekday, year=year)
        if moment.clock is None:
            return day
        return self.words.say("date.at", day=day, clock=self.clock(moment.clock))

    def until(self, moment: Moment, *, year: bool = False) -> tuple[str, str]:
        """(key of the message that holds it, words of the moment itself) for an end.

        The end of a whole day, and 00:00 likewise, is said as that day itself: a bare midnight could be either of two.
        """
        if moment.clock is None or moment.clock == _MIDNIGHT:
            return "date.through", self.day(last_day(moment), weekday=True, year=year)
        return "date.until", self.moment(moment, year=year)

    def closing_hour(self, moment: Moment) -> str:
        """The hour of an end whose day has been said: `5 p.m.`, or that the whole day is meant."""
        if moment.clock is None or moment.clock == _MIDNIGHT:
            return self.words.say("clock.end-of-day")
        return self.clock(moment.clock)

    def ended(self, moment: Moment) -> str:
        """The day of an end in the past, with its year: `Dec. 15, 2026`."""
        return self.day(last_day(moment), year=True)

    def beginning(self, moment: Moment, *, year: bool = False) -> str:
        """A start; 00:00 is said as the day that begins then."""
        if moment.clock == _MIDNIGHT:
            moment = Moment(moment.iso, moment.day)
        return self.moment(moment, year=year)

    def span(self, view: DatesView, *, year: bool = False) -> tuple[str, str, str]:
        """(key of the message, words of the first moment, words of the last); the last is empty for a single one."""
        first, last = view.first, view.last
        if first == last:
            return "span.single", self.beginning(first, year=year), ""
        if first.day == last.day and first.clock is not None and last.clock is not None:
            return "span.same-day", *self._ends_of_day_span(first, last.clock, year)
        if last.clock is None or last.clock == _MIDNIGHT:
            return "span.days", self.beginning(first, year=year), self.until(last, year=year)[1]
        return "span.moments", self.beginning(first, year=year), self.moment(last, year=year)

    def _ends_of_day_span(self, first: Moment, last: time, year: bool) -> tuple[str, str]:
        assert first.clock is not None
        start, end = self._pair(first.clock, last)
        return self.words.say("date.at", day=self.day(first.day, weekday=True, year=year), clock=start), end

    # --- opening hours -----------------------------------------------------------------------

    def hours(self, hours: Hours) -> tuple[str, ...]:
        """One line for each rule, such as `Monday-Friday 9 a.m.-5 p.m.`; or that they are unknown or by appointment."""
        known = self._hours.get(hours)
        if known is None:
            if len(self._hours) >= MOST_KEPT:
                self._hours.clear()
            known = self._hours[hours] = self._lines(hours)
        return known

    def _lines(self, hours: Hours) -> tuple[str, ...]:
        if hours.mode is Mode.UNKNOWN:
            return (self.words.say("hours.unknown"),)
        if hours.mode is Mode.BY_APPOINTMENT:
            return (self.words.say("hours.appointment"),)
        return tuple(
            with_capital(
                self.words.say(
                    "hours.rule", days=self._days(rule.days, rule.weeks), ranges=self.ranges(rule.ranges)
                )
            )
            for rule in hours.rules
        )

    def ranges(self, ranges: Ranges) -> str:
        """Such as `9 a.m.-noon and 1-5 p.m.`; `closed` when there are none."""
        if not ranges:
            return self.words.say("hours.closed")
        return self.together([self._range(start, end) for start, end in ranges])

    def closed(self, days: Sequence[date], year: int | None, *, weekday: bool = True) -> str:
        """Days on which a door stays shut; those that follow one another as one. `year`: the one that goes without saying."""

        def said(day: date) -> str:
            return self.day(day, weekday=weekday, year=day.year != year)

        runs = day_runs(days)
        if len(runs) == len(days):
            return self.together([said(day) for day in days])
        form = self.words.form("span.days")
        return "; ".join(
            said(first) if first == last else form.format(first=said(first), last=said(last))
            for first, last in runs
        )

    def day_hours(self, special: DayHours, *, year: bool = False) -> str:
        """A date's own hours: `Saturday, Dec. 12: 8 a.m.-noon`."""
        return self.words.say(
            "hours.special",
            day=self.day(special.day, weekday=True, year=year),
            ranges=self.ranges(special.ranges),
        )

    def weekdays(self, days: Iterable[int]) -> str:
        """Such as `Monday-Thursday`, `Monday, Wednesday and Friday`, `Saturday and Sunday`."""
        said = []
        for run in _runs(days):
            if len(run) > 2:
                said.append(
                    self.words.say("hours.days", first=self.weekday(run[0]), last=self.weekday(run[-1]))
                )
            else:
                said.extend(self.weekday(day) for day in run)
        return self.together(said)

    def _days(self, days: tuple[int, ...], weeks: tuple[int, ...]) -> str:
        if weeks:
            nth = self.together([self.words.say("week.last" if n < 0 else f"week.{n}") for n in weeks])
            # Said with each day: "first Monday and Tuesday" could mean every Tuesday.
            return self.together(
                [self.words.say("hours.nth", nth=nth, day=self.weekday(day)) for day in days]
            )
        return self.words.say("hours.daily") if len(days) == 7 else self.weekdays(days)

    def _range(self, start: int, end: int) -> str:
        if (start, end) == (0, _DAY):
            return self.words.say("hours.all-day")
        first, last = self._pair(_clock_at(start), _clock_at(end))
        key = "hours.overnight" if end > _DAY else "hours.range"
        return self.words.say(key, start=first, end=last)

    def _pair(self, start: time, end: time) -> tuple[str, str]:
        """Both ends of a range of clock times: what they share is said once, as in `6-8 p.m.`."""
        # The hours around twelve are easily misheard, so there both ends say which half of the day they mean.
        plain = start.hour % 12 and end not in (_MIDNIGHT, _NOON)
        if plain and start < end and (start.hour < 12) == (end.hour < 12):
            return self._hour(start), self.clock(end)
        return self.clock(start), self.clock(end)

    def _hour(self, clock: time) -> str:
        key = "clock.hour" if clock.minute == 0 else "clock.minutes"
        return self.words.say(key, hour=clock.hour % 12 or 12, minutes=f"{clock.minute:02}")

    def _half(self, after_noon: bool, hour: str) -> str:
        return self.words.say("clock.pm" if after_noon else "clock.am", clock=hour)

    def whole(self, words: str) -> str:
        """Words for a page, with no break inside `5 p.m.` or `Dec. 15`. For sight alone: data and feeds keep their spaces."""
        known = self._wholes.get(words)
        if known is None:
            if len(self._wholes) >= MOST_KEPT:
                self._wholes.clear()
            known = self._inseparable.sub(lambda found: found[0].replace(" ", NO_BREAK), words)
            self._wholes[words] = known
        return known

    @cached_property
    def _inseparable(self) -> re.Pattern[str]:
        """An hour with its half of the day and, where the language says it so, a month with its day."""
        halves = (self.words.form(key) for key in ("clock.am", "clock.pm"))
        parts = [re.escape(half).replace(re.escape("{clock}"), r"\d") for half in halves]
        if self.words.form("date.day") == "{month} {day}":
            months = (self.words.form(f"month.{month}.dated") for month in range(1, 13))
            parts += [rf"\b{re.escape(month)} (?=\d)" for month in months]
        return re.compile("|".join(parts))

    # --- lists, numbers, names ---------------------------------------------------------------

    def together(self, parts: Sequence[str]) -> str:
        """Such as `one, two and three`."""
        if not parts:
            return ""
        *others, last = parts
        if not others:
            return last
        return self.words.say(and_key(last), others=self.words.say("list.comma").join(others), last=last)

    def number(self, number: float) -> str:
        """With the marks of the language: `1,200`, `2.5`."""
        written = repr(number)  # Zero and its negative are equal, and said differently.
        known = self._numbers.get(written)
        if known is None:
            from babel.numbers import format_decimal

            if len(self._numbers) >= MOST_KEPT:
                self._numbers.clear()
            known = self._numbers[written] = format_decimal(number, locale=self._locale)
        return known

    def measure(self, number: float, unit: str) -> str:
        """A number of something: `400 coats`; a currency sign stands before it, `$1,250.50`."""
        if not unit or _is_currency(unit):
            return self.amount(number, unit)
        return self.words.say("number.unit", number=self.number(number), unit=unit)

    def amount(self, number: float, unit: str) -> str:
        """The number alone, where its unit has been said; only a currency sign is said every time."""
        if not _is_currency(unit):
            return self.number(number)
        from babel.numbers import format_decimal

        whole = number == int(number)
        amount = format_decimal(number, format="#,##0" if whole else "#,##0.00", locale=self._locale)
        return self.words.say("number.money", number=amount, unit=unit)

    def running(self, seconds: int) -> str:
        """A length or a place in a broadcast: `1:35`, `1:02:05`."""
        minutes, rest = divmod(seconds, 60)
        hours, minutes = divmod(minutes, 60)
        return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"

    def language_name(self, tag: str) -> str:
        """The name of a language in this one, such as `Spanish`; the tag itself when nobody names it."""
        from babel import Locale, UnknownLocaleError

        try:
            return Locale.parse(tag, sep="-").get_display_name(self._locale) or tag
        except (UnknownLocaleError, ValueError):
            return tag

    @cached_property
    def _locale(self) -> Locale:
        from babel import Locale, UnknownLocaleError

        for tag in (self.language, self.words.language, "en"):
            try:
                return Locale.parse(tag, sep="-")
            except (UnknownLocaleError, ValueError):
                continue
        raise AssertionError("Babel knows English")


def last_day(moment: Moment) -> date:
    """The last day that an end leaves: 00:00 belongs to the day that it ends."""
    return moment.day - timedelta(days=1) if moment.clock == _MIDNIGHT else moment.day


_I_SOUND = re.compile(r"(?!hi[aeo])h?[ií]", re.IGNORECASE)


def and_key(last: str) -> str:
    """The message that joins a list's last part: Spanish says `e` for `y` before the sound of i, as in `español e
    inglés`, though not in `agua y hielo` (the Spanish Academy's rule, from memory)."""
    return "list.and.before_i" if _I_SOUND.match(last) else "list.and"


def _is_currency(unit: str) -> bool:
    return len(unit) == 1 and category(unit) == "Sc"


def _clock_at(minute: int) -> time:
    hour, rest = divmod(minute % _DAY, 60)
    return time(hour, rest)


def day_runs(days: Iterable[date]) -> list[tuple[date, date]]:
    """Ascending days as (first, last) of those that follow one another; two such days stay by themselves."""
    found: list[list[date]] = []
    for day in days:
        if found and day - found[-1][-1] == timedelta(days=1):
            found[-1].append(day)
        else:
            found.append([day])
    return [
        ends
        for run in found
        for ends in ([(run[0], run[-1])] if len(run) > 2 else [(day, day) for day in run])
    ]


def _runs(days: Iterable[int]) -> list[list[int]]:
    """Weekdays in unbroken runs; when all of them are one run around the week's end, such as Sa, Su, Mo, that run."""
    runs: list[list[int]] = []
    for day in sorted(set(days)):
        if runs and runs[-1][-1] == day - 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    if len(runs) == 2 and runs[0][0] == 0 and runs[1][-1] == 6 and len(runs[0]) + len(runs[1]) > 2:
        return [runs[1] + runs[0]]
    return runs
