"""Words that are true on one day only, and weekdays that are not those of their dates.

A story is read on any day after it aired: "this Saturday" is then another one. What a quoted person said stays as
it was said, apart from words that tell a viewer when to come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from sitegen.newsroom.records import Finding
from sitegen.proof.copychecks.base import DAY_NAMES, MONTH_NAMES, Desk, concern, day_words
from sitegen.proof.copychecks.dates import DateMention, find_dates
from sitegen.proof.copychecks.texts import Text, ask_texts, episode_texts, story_texts

_EN_DAY = "(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_EN_COUNT = r"(?:\d+|a|an|one|two|three|four|five|six|seven|eight|nine|ten|twelve|a few|a couple of|several)"
_ENGLISH = re.compile(
    rf"""
    \b(?:
      (?P<near>today|tonight|tomorrow|yesterday)
    | this\ (?P<this>coming\ )?(?P<this_when>{_EN_DAY}|week|weekend|month|morning|afternoon|evening)
    | (?P<the>\b(?:the|a|an|its|his|her|their|our|your|every|each|that|very|until|till)\ )?
      (?P<other>next|last|past|coming)\ (?P<other_when>{_EN_DAY}|week|weekend|month|night)
    | {_EN_COUNT}\ (?:more\ )?(?:hour|day|week)s?\ (?P<count>left|to\ go|remaining|remain|from\ now|ago)
    )\b
    """,
    re.VERBOSE | re.IGNORECASE,
)
_ES_DAY = "(?:lunes|martes|miércoles|jueves|viernes|sábado|domingo)"
_ES_SPAN = f"(?:{_ES_DAY}|semana|fin de semana|mes)"
_ES_COUNT = r"(?:\d+|un|una|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|pocos|pocas|unos|unas)"
_SPANISH = re.compile(
    rf"""
    \b(?:
      (?P<near>hoy(?!\ en\ día)|anoche|anteayer|pasado\ mañana|ayer)
    | (?P<before>\w+\ )?(?P<manana>mañana)
    | (?:este|esta)\ (?P<este_when>{_ES_DAY}|semana|fin\ de\ semana|mes|noche|tarde|mañana)
    | (?:el|la)\ (?:próxim[oa]|pasad[oa])\ {_ES_SPAN.replace(" ", chr(92) + " ")}
    | (?:el|la)\ {_ES_SPAN.replace(" ", chr(92) + " ")}\ (?:que\ viene|próxim[oa]|pasad[oa])
    | (?:hace|dentro\ de|quedan?|faltan?)\ {_ES_COUNT}\ (?:hora|día|semana)s?
    )\b
    """,
    re.VERBOSE | re.IGNORECASE,
)
_NOT_TOMORROW = frozenset(
    (
        "la", "una", "esta", "cada", "de", "media", "toda", "otra", "aquella", "esa", "misma", "buena", "primera",
        "linda", "bella", "mejor", "tal",
    )
)  # fmt: skip
"""Words before `mañana` that make it the morning."""
_SENTENCE_START = re.compile(r"(?:\A|[.!?:]['\"”»’)*_]*\s+|\n\s*|[¿¡“\"«(*_]\s*|[-–—]\s*|^[#>*-]+\s*)\Z", re.MULTILINE)
_INVITING = re.compile(r"this|next|coming|est[ea]|próxim|que viene", re.IGNORECASE)
_STEPS = {"today": 0, "tonight": 0, "tomorrow": 1, "yesterday": -1, "hoy": 0, "ayer": -1, "anoche": -1}
_WEEKDAYS = tuple(zip(("mon", "tue", "wed", "thu", "fri", "sat", "sun"), range(7), strict=True)) + tuple(
    zip(("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo"), range(7), strict=True)
)


def relative_time(desk: Desk) -> Iterator[Finding]:
    """`today`, `this Saturday`, `3 days left`: in an archive they are wrong from the next day on."""
    for text, aired, language in _texts(desk):
        pattern = {"en": _ENGLISH, "es": _SPANISH}.get(language.partition("-")[0].lower())
        if pattern is None:
            continue
        words = text.words
        quotations: tuple[tuple[int, int], ...] | None = None
        for match in pattern.finditer(words):
            phrase, start = _phrase(match, words)
            if not phrase:
                continue
            if quotations is None:
                quotations = text.quotations()
            quoted = any(begin <= start < end for begin, end in quotations)
            if quoted and not _INVITING.match(phrase):
                continue
            day = _meant(phrase, aired)
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
    for text, aired, language in _texts(desk):
        for mention in find_dates(text.words, day_first=language.lower() not in ("en", "en-us")):
            if mention.weekday is not None:
                yield from _mismatch(text, mention, aired)


def _mismatch(text: Text, mention: DateMention, aired: date) -> Iterator[Finding]:
    weekday = mention.weekday
    assert weekday is not None
    days = _possible(mention, aired)
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
        f"is a {DAY_NAMES[day.weekday()]}.",
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


def _texts(desk: Desk) -> Iterator[tuple[Text, date, str]]:
    """(text, air date, language) of all that stays on a page."""
    language = desk.newsroom.station.language
    for each in desk.stories:
        story = each.story
        for text in story_texts(story):
            yield text, story.aired.day, story.language or language
        for live in each.live:
            for text in ask_texts(live.ask):
                yield text, story.aired.day, story.language or language
    for episode in desk.newsroom.episodes:
        if not episode.hold:
            for text in episode_texts(episode):
                yield text, episode.aired.day, language


def _phrase(match: re.Match[str], words: str) -> tuple[str, int]:
    """(phrase, its offset) of a match; an empty phrase when it says something else after all."""
    groups = match.groupdict()
    start = match.start()
    if groups.get("the") and groups["other"].lower() != "coming":
        # "the last Saturday of the month", "the next morning": counted from something in the text.
        return "", start
    if groups.get("other") and re.match(r"\s+(?:of|before|after|in)\b", words[match.end() :]):
        return "", start
    if groups.get("manana"):
        before = (groups["before"] or "").strip().lower()
        if before in _NOT_TOMORROW:
            return "", start
        start = match.start("manana")
    phrase = words[start : match.end()]
    if phrase[0].isupper() and not phrase.isupper() and not _SENTENCE_START.search(words[:start]):
        return "", start  # a name: the Tomorrow Fund
    return phrase, start


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
