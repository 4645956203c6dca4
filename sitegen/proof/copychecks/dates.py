"""Dates in running text, in English and Spanish: `Friday, Dec. 22`, `22 December 2026`, `12/22`, `viernes 22 de diciembre`.

Only what cannot be anything else is read: a month's name needs a day beside it, and a number in a fraction or a
larger number is none. The ways of writing are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

_ENGLISH = (
    "January|Jan", "February|Feb", "March|Mar", "April|Apr", "May", "June|Jun",
    "July|Jul", "August|Aug", "September|Sept|Sep", "October|Oct", "November|Nov", "December|Dec",
)  # fmt: skip
_SPANISH = (
    "enero", "febrero", "marzo", "abril", "mayo", "junio",
    "julio", "agosto", "septiembre|setiembre", "octubre", "noviembre", "diciembre",
)  # fmt: skip
_MONTHS: dict[str, int] = {
    word.lower(): number
    for names in (_ENGLISH, _SPANISH)
    for number, words in enumerate(names, 1)
    for word in words.split("|")
}
_WEEKDAYS: dict[str, int] = {
    word: day
    for day, words in enumerate(
        (
            "monday mon lunes",
            "tuesday tues tue martes",
            "wednesday weds wed miércoles miercoles",
            "thursday thurs thur thu jueves",
            "friday fri viernes",
            "saturday sat sábado sabado",
            "sunday sun domingo",
        )
    )
    for word in words.split()
}
_EN = "|".join("|".join((words, words.upper())) for words in _ENGLISH)
# Spanish months begin small, and large at the start of a headline.
_ES = "|".join("|".join((words, words.title(), words.upper())) for words in _SPANISH)
_YEAR = r"(?:19|20)\d\d(?!\d)"
# `May 15,000 people` and `May 5.5 inches` hold no dates.
_ALONE = r"(?!\d|[.,:/]\d|%)"

# Each pattern begins with its first letters or digits, which lets the engine skip all others: three times as fast.
_MONTH_FIRST = re.compile(
    rf"(?=[JFMASOND])\b(?P<month>{_EN})\b\.?\s+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?{_ALONE}"
    rf"(?:\s?(?:[-–—]|and|&|to|through)\s?(?P<last>\d{{1,2}})(?:st|nd|rd|th)?{_ALONE}(?!\s*[ap]\.?m))?"
    rf"(?:,?\s+(?P<year>{_YEAR}))?"
)
_DAY_FIRST = re.compile(
    r"(?=\d)(?<![\d.,:/$-])(?P<day>\d{1,2})(?:st|nd|rd|th|\.?º|°)?\s+"
    rf"(?:(?:of\s+)?(?P<month>{_EN})\b\.?(?:,?\s+(?P<year>{_YEAR}))?"
    rf"|de\s+(?P<mes>{_ES})\b(?:,?\s+(?:del?\s+)?(?P<ano>{_YEAR}))?)"
)
_NUMBERS = re.compile(
    r"(?<![\d/.,$-])(?P<one>\d{1,2})/(?P<two>\d{1,2})(?:/(?P<year>\d{4}|\d{2}))?(?![\w/]|\.\d)"
)
_ISO = re.compile(r"(?=[12])(?<![\d-])(?P<year>(?:19|20)\d\d)-(?P<month>\d\d)-(?P<day>\d\d)(?![\d-])")
_DIGIT = re.compile(r"\d")
# A full stop after a whole name ends a sentence; after a shortened one it may not.
_ANY_WEEKDAY = "|".join(
    word if len(word) > 5 else rf"{word}\b\.?" for word in sorted(_WEEKDAYS, key=len, reverse=True)
)
_BEFORE = re.compile(
    rf"(?:\b(?P<other>{_ANY_WEEKDAY}),?\s*(?:and|or|to|through|thru|[-–—&,]|y|o|a)\s*)?"
    rf"\b(?P<weekday>{_ANY_WEEKDAY}),?\s+(?:the\s+|el\s+(?:día\s+)?)?\Z",
    re.IGNORECASE,
)
_LOOK_BACK = 40
"""Characters; two weekdays and what joins them."""


@dataclass(frozen=True, slots=True)
class DateMention:
    """A date in a text."""

    start: int
    """Offset of its first character, its weekday included."""
    end: int
    text: str
    """As written."""
    month: int
    """1 to 12."""
    day: int
    """1 to 31; the month need not have it."""
    year: int | None
    weekday: int | None
    """Monday 0; None when none is written, or when it names one of several days."""

    def is_on(self, day: date) -> bool:
        """True when it may mean this date."""
        return (self.month, self.day) == (day.month, day.day) and self.year in (None, day.year)


def find_dates(text: str, day_first: bool = False) -> Iterator[DateMention]:
    """The dates of a text, by way of writing. `day_first`: how `1/2` is read where both are months."""
    if _DIGIT.search(text) is None:
        return
    for match in _MONTH_FIRST.finditer(text):
        month, year = _MONTHS[match["month"].lower()], _year(match["year"])
        yield from _mention(text, match.start(), match.end(), month, int(match["day"]), year)
        if match["last"]:
            yield from _mention(text, match.start("last"), match.end(), month, int(match["last"]), year)
    for match in _DAY_FIRST.finditer(text):
        month = _MONTHS[(match["month"] or match["mes"]).lower()]
        year = _year(match["year"] or match["ano"])
        yield from _mention(text, match.start(), match.end(), month, int(match["day"]), year)
    if "/" in text:
        for match in _NUMBERS.finditer(text):
            first, second = int(match["one"]), int(match["two"])
            day, month = (first, second) if day_first else (second, first)
            yield from _mention(text, match.start(), match.end(), month, day, _year(match["year"]))
    for match in _ISO.finditer(text):
        yield from _mention(
            text, match.start(), match.end(), int(match["month"]), int(match["day"]), int(match["year"])
        )


def _mention(
    text: str, start: int, end: int, month: int, day: int, year: int | None
) -> Iterator[DateMention]:
    if not (1 <= month <= 12 and 1 <= day <= 31):
        return
    weekday: int | None = None
    back = max(0, start - _LOOK_BACK)
    before = _BEFORE.search(text[back:start])
    if before is not None:
        start = back + before.start()
        if before["other"] is None:
            weekday = _WEEKDAYS[before["weekday"].lower().rstrip(".")]
    yield DateMention(start, end, " ".join(text[start:end].split()), month, day, year, weekday)


def _year(written: str | None) -> int | None:
    if not written:
        return None
    return int(written) if len(written) == 4 else 2000 + int(written)
