"""What the source itself must get right whatever the page says: ids, attributes, machine-readable times."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import lru_cache

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE

# ACT lists no criterion for these two: criterion 4.1.1 is no longer part of WCAG.
UNIQUE_ID = Rule("id-unique", act=("3ea0c8",))
DUPLICATE_ATTRIBUTE = Rule("attribute-twice", act=("e6952f",))
SPACE_IN_ID = Rule("id-without-space")
TIME = Rule("time-readable")
ENCODING = Rule("encoding")


def _check(page: Page) -> Iterator[PageFinding]:
    document = page.document
    for note in document.notes:
        yield page.fails(ENCODING, 1, note, "Save the page as UTF-8.")
    for element in document.repeated_ids:
        name = element.attrs["id"]
        if name:
            yield page.fails(
                UNIQUE_ID,
                element,
                f'The id "{name}" already belongs to the {document.ids[name].tag} at line {document.ids[name].line}.',
                "Give each element an id of its own.",
            )
    for name, element in document.ids.items():
        # https://html.spec.whatwg.org/multipage/dom.html#the-id-attribute
        if name.split() != [name]:
            yield page.fails(
                SPACE_IN_ID, element, f'An id cannot be empty or hold a space: "{name}".', "Use hyphens."
            )
    for line, tag, name in document.duplicates:
        yield page.fails(
            DUPLICATE_ATTRIBUTE,
            line,
            f"The attribute {name} stands twice on this {tag}.",
            "Keep the one that is meant.",
        )
    for element in document.tagged("time"):
        written = element.attrs.get("datetime")
        value = element.text() if written is None else written
        if not is_machine_readable(value.strip(WHITESPACE)):
            yield page.fails(
                TIME,
                element,
                f'No machine can read this time: "{value.strip(WHITESPACE)}".',
                'Write datetime like "2026-11-25" or "2026-11-25T17:00-05:00".',
            )


_DATE = r"(?P<year>\d{4,})-(?P<month>\d\d)-(?P<day>\d\d)"
_CLOCK = r"(?:[01]\d|2[0-3]):[0-5]\d(?::[0-5]\d(?:\.\d{1,3})?)?"
_OFFSET = r"(?:Z|[+-](?:[01]\d|2[0-3]):?[0-5]\d)"
_WITH_DATE = re.compile(rf"{_DATE}(?:[T ]{_CLOCK}{_OFFSET}?)?", re.ASCII)
_OTHER = re.compile(
    rf"{_CLOCK}|{_OFFSET}"
    r"|P(?=[\dT])(?:\d+D)?(?:T(?=\d)(?:\d+H)?(?:\d+M)?(?:\d+(?:\.\d{1,3})?S)?)?"
    r"|(?:\d+(?:\.\d{1,3})?[ \t\n\f\r]*[wWdDhHmMsS][ \t\n\f\r]*)+",
    re.ASCII,
)
_YEAR = re.compile(r"(?P<year>\d{4,})(?:-(?P<month>0[1-9]|1[0-2])|-W(?P<week>[0-5]\d))?", re.ASCII)
_YEARLESS = re.compile(r"(?:--)?(?P<month>\d\d)-(?P<day>\d\d)", re.ASCII)


@lru_cache(maxsize=1024)
def is_machine_readable(value: str) -> bool:
    """Whether this is a value the time element may have: a month, date, time of day, instant, offset, week, year or duration
    (https://html.spec.whatwg.org/multipage/text-level-semantics.html#datetime-value)."""
    if found := _WITH_DATE.fullmatch(value):
        return _exists(_year(found["year"]), int(found["month"]), int(found["day"]))
    if found := _YEARLESS.fullmatch(value):
        return _exists(2000, int(found["month"]), int(found["day"]))  # 29 February is allowed
    if found := _YEAR.fullmatch(value):
        year = _year(found["year"])
        if found["week"] is None:
            return year > 0
        week = int(found["week"])
        # The last week of a year is the one that holds 28 December (ISO 8601).
        return 0 < year <= 9999 and 1 <= week <= date(year, 12, 28).isocalendar().week
    return _OTHER.fullmatch(value) is not None


def _year(digits: str) -> int:
    """A year, or of one of many digits another with the same calendar: it repeats every 400 years, so every 10,000."""
    digits = digits.lstrip("0") or "0"
    return int(digits) if len(digits) < 9 else 10_000 + int(digits[-4:])


def _exists(year: int, month: int, day: int) -> bool:
    if year < 1:
        return False
    try:
        date((year - 1) % 400 + 1, month, day)  # the calendar repeats every 400 years
    except ValueError:
        return False
    return True


FAMILY = Family((ENCODING, UNIQUE_ID, SPACE_IN_ID, DUPLICATE_ATTRIBUTE, TIME), _check)
