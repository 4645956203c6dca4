"""Words that are true on one day only, and weekdays that are not those of their dates.

A story is read on any day after it aired: "this Saturday" is then another one. What a quoted person said stays as
it was said, apart from words that tell a viewer when to come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from sitegen.newsroom.records import Finding
from sitegen.newsroom.times import MONTH_NAMES, WEEKDAY_NAMES
from sitegen.proof.copychecks.base import Desk, concern, day_words
from sitegen.proof.copychecks.dates import DateMention
from sitegen.proof.copychecks.texts import Text

_EN_DAY = "(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_EN_COUNT = r"(?:\d+|an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|few|couple\s+of|several)"
_ES_DAY = "(?:lunes|martes|miércoles|jueves|viernes|sábado|domingo)"
_ES_SPAN = rf"(?:{_ES_DAY}|semana|fin\s+de\s+semana|mes)"
_ES_COUNT = r"(?:\d+|una?|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|poc[oa]s|un[oa]s)"

# (what one of must stand in a text before its pattern is worth a run, the pattern); all in small letters.
_PATTERNS: dict[str, tuple[tuple[tuple[str, ...], re.Pattern[str]], ...]] = {
    "en": (
        (
            ("today", "tonight", "tomorrow", "yesterday"),
            re.compile(r"\b(?:today|tonight|tomorrow|yesterday)\b"),
        ),
        (
            ("this", "next", "last", "past", "coming"),
            re.compile(
                rf"\b(?:this\s+(?:coming\s+)?(?:{_EN_DAY}|week|weekend|month|morning|afternoon|evening)"
                rf"|(?:next|last|past|coming)\s+(?:{_EN_DAY}|week|weekend|month|night))\b"
            ),
        ),
        (
            (" left", "to go", "remain", "from now", " ago"),
            re.compile(
                rf"\b{_EN_COUNT}\s+(?:more\s+)?(?:hour|day|week)s?\s+(?:left|to\s+go|remaining|remain|from\s+now|ago)\b"
            ),
        ),
    ),
    "es": (
        (
            ("hoy", "ayer", "anoche", "mañana"),
            re.compile(r"\b(?:hoy(?!\s+en\s+día)|anoche|anteayer|ayer|pasado\s+mañana|mañana)\b"),
        ),
        (
            ("este ", "esta ", "próxim", "pasad", "que viene"),
            re.compile(
                rf"\b(?:este\s+(?:{_ES_DAY}|fin\s+de\s+semana|mes)|esta\s+(?:semana|noche|tarde|mañana)"
                rf"|(?:el|la)\s+(?:próxim[oa]|pasad[oa])\s+{_ES_SPAN}"
                rf"|(?:el|la)\s+{_ES_SPAN}\s+(?:que\s+viene|próxim[oa]|pasad[oa]))\b"
            ),
        ),
        (
            ("hace", "dentro de", "queda", "falta"),
            re.compile(rf"\b(?:hace|dentro\s+de|quedan?|faltan?)\s+{_ES_COUNT}\s+(?:hora|día|semana)s?\b"),
        ),
    ),
}
_COUNTED_FROM_THE_TEXT = re.compile(
    r"\b(?:the|an?|its|his|her|their|our|your|every|each|that|very|until|till)\s+\Z", re.IGNORECASE
)
"""Before `last Saturday` or `next morning`: then it is counted from something the text says."""
_GOES_ON = re.compile(r"\s+(?:of|before|after|in)\b")
_WORD_BEFORE = re.compile(r"(\w+)\s+\Z")
_NOT_TOMORROW = frozenset(
    (
        "la", "una", "esta", "cada", "de", "media", "toda", "otra", "aquella", "esa", "misma", "buena", "primera",
        "linda", "bella", "mejor", "tal",
    )
)  # fmt: skip
"""Words before `mañana` that make it the morning."""
_SENTENCE_START = re.compile(
    r"(?:\A|[.!?:]['\"”»’)*_]*\s+|\n\s*|[¿¡“\"«(*_]\s*|[-–—]\s*|^[#>*-]+\s*)\Z", re.MULTILINE
)
_INVITING = re.compile(r"\b(?:this|next|coming|est[ea]|próxim[oa]|que viene)\b", re.IGNORECASE)
_STEPS = {"today": 0, "tonight": 0, "tomorrow": 1, "yesterday": -1, "hoy": 0, "ayer": -1, "anoche": -1}
_WEEKDAYS = tuple(zip(("mon", "tue", "wed", "thu", "fri", "sat", "sun"), range(7), strict=True)) + tuple(
    zip(("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo"), range(7), strict=True)
)


def relative_time(desk: Desk) -> Iterator[Finding]:
    """`today`, `this Saturday`, `3 days left`: in an archive they are wrong from the next day on."""
    return desk.found_in_texts("relative-time", _relative_time)


def _relative_time(text: Text) -> Iterator[Finding]:
    quotations: tuple[tuple[int, int], ...] | None = None
    for phrase, start in _relative(text.words, text.language):
        if quotations is None:
            quotations = text.quotations()
        quoted = any(begin <= start < end for begin, end in quotations)
        if quoted and not _INVITING.search(phrase):
            continue
        day = _meant(phrase, text.aired)
        date_words = f"the date, such as {day_words(day)}" if day is not None else "the date"
        yield concern(
            text.at(start),
            "relative-time",
            f"{text.name} says '{phrase}', and it will be read on other days.",
            f"After the quoted words, give {date_words}, or quote less."
            if quoted
            else f"Write {date_words}.",
        )


def weekday_mismatch(desk: Desk) -> Iterator[Finding]:
    """`Friday, December 22` where that day is a Tuesday: one of the two is wrong, and viewers come on either."""
    return desk.found_in_texts("weekday-mismatch", mismatches)


def mismatches(text: Text) -> Iterator[Finding]:
    """Weekdays of one text that are not those of their dates."""
    for mention in text.dates:
        if mention.weekday is not None:
            yield from _mismatch(text, mention)


def _mismatch(text: Text, mention: DateMention) -> Iterator[Finding]:
    weekday = mention.weekday
    assert weekday is not None
    days = _possible(mention, text.aired)
    if any(day.weekday() == weekday for day in days):
        return
    if not days:
        yield concern(
            text.at(mention.start),
            "weekday-mismatch",
            f"{text.name} says '{mention.text}', and there is no {MONTH_NAMES[mention.month - 1]} {mention.day}"
            f"{f', {mention.year}' if mention.year else ''}.",
            "Look up the date.",
        )
        return
    day = days[0]
    before = day - timedelta(days=(day.weekday() - weekday) % 7)
    yield concern(
        text.at(mention.start),
        "weekday-mismatch",
        f"{text.name} says '{mention.text}', and {MONTH_NAMES[day.month - 1]} {day.day}, {day.year}, "
        f"is a {WEEKDAY_NAMES[day.weekday()]}.",
        f"Ask which is meant: {day_words(day)}; or {day_words(before)}; or {day_words(before + timedelta(days=7))}.",
    )


def _possible(mention: DateMention, aired: date) -> list[date]:
    """The days a mention may mean: in its year; without one, the nearest to the air date, and the air date's year."""
    if mention.year is not None:
        return _day(mention.year, mention)
    near = [day for year in (aired.year, aired.year + 1, aired.year - 1) for day in _day(year, mention)]
    nearest = sorted(near, key=lambda day: abs((day - aired).days))[:1]
    return list(dict.fromkeys([*nearest, *_day(aired.year, mention)]))


def _day(year: int, mention: DateMention) -> list[date]:
    try:
        return [date(year, mention.month, mention.day)]
    except ValueError:
        return []


def _relative(words: str, language: str) -> Iterator[tuple[str, int]]:
    """(phrase as written, its offset) of everything in a text that is true on one day only."""
    low = words.lower()
    if len(low) != len(words):
        low = words
    for needed, pattern in _PATTERNS.get(language.partition("-")[0].lower(), ()):
        if any(word in low for word in needed):
            for match in pattern.finditer(low):
                phrase = words[match.start() : match.end()]
                if not _means_otherwise(phrase, words[: match.start()], words[match.end() :]):
                    yield " ".join(phrase.split()), match.start()


def _means_otherwise(phrase: str, before: str, after: str) -> bool:
    low = phrase.lower()
    if low.startswith(("next", "last", "past")) and (
        _COUNTED_FROM_THE_TEXT.search(before[-12:]) or _GOES_ON.match(after)
    ):
        return True
    if low == "mañana":
        word = _WORD_BEFORE.search(before[-16:])
        if word is not None and word.group(1).lower() in _NOT_TOMORROW:
            return True
    # A large letter inside a sentence is a name's: the Tomorrow Fund.
    return phrase[0].isupper() and not phrase.isupper() and not _SENTENCE_START.search(before[-16:])


def _meant(phrase: str, aired: date) -> date | None:
    """The date a phrase means when it is said on the air date; None when that can't be told."""
    low = phrase.lower()
    if low in _STEPS:
        return aired + timedelta(days=_STEPS[low])
    if low == "mañana":
        return aired + timedelta(days=1)
    if low.startswith(("last", "past")) or "pasad" in low:
        return None
    for name, weekday in _WEEKDAYS:
        if re.search(rf"\b{name}", low):
            return aired + timedelta(days=(weekday - aired.weekday() - 1) % 7 + 1)
    return None
