"""What a page gives its script, which alone knows the present: words, opening hours in figures, counts to come, and the
finder's data. The words are the catalogue's, still with their `{parameters}`; static text never shows them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Any

from markupsafe import Markup

from sitegen.edition.models import (
    AskView,
    ContactView,
    FinderPlace,
    FinderTake,
    Moment,
    PlacesFile,
    PlaceView,
)
from sitegen.newsroom.records import DayHours, Hours, Kind, Mode
from sitegen.typeset.dates import NO_BREAK, Dates
from sitegen.typeset.timing import MOST_DATES
from sitegen.typeset.words import Words

MOST_DAYS_LEFT = 7
"""Days before an end from which the script says how many are left."""

# CLDR 48, supplemental/measurementData.xml (from memory): these territories tell road distances in miles.
MILES = frozenset({"US", "GB", "LR", "MM"})


def script_words(words: Words, zone: str) -> Markup:
    """The words of the one script, and the zone it reckons in, as JSON that can stand in an attribute."""
    plain = {
        "today": "now.today",
        "today_at": "now.today_at",
        "tomorrow": "now.tomorrow",
        "open": "now.open",
        "open_until": "now.open_until",
        "open_until_on": "now.open_until_on",
        "opens_today": "now.opens_today",
        "opens_tomorrow": "now.opens_tomorrow",
        "opens_on": "now.opens_on",
        "opens_later": "now.opens_later",
        "ended": "ended.known",
        "takes_no_more": "now.takes_no_more",
        "opened": "now.opened",
        "none": "now.none",
        "seek": "now.seek",
        "noon": "clock.noon",
        "midnight": "clock.midnight",
        "am": "clock.am",
        "pm": "clock.pm",
        "hour": "clock.hour",
        "minutes": "clock.minutes",
    }
    held: dict[str, object] = {"zone": zone} if zone else {}
    held |= {name: words.form(key) for name, key in plain.items()}
    held |= {half: words.form(plain[half]).replace(" ", NO_BREAK) for half in ("am", "pm")}
    held["days"] = [words.say("now.days_left", count=count) for count in range(MOST_DAYS_LEFT + 1)]
    held["weekdays"] = [words.say(f"weekday.{day}") for day in range(7)]
    return json_attribute(held)


def finder_words(words: Words, language: str) -> Markup:
    """The finder's words as JSON, with the kinds of asks and the unit of distances a language's territory uses."""
    unit = "find.miles" if tells_miles(language) else "find.kilometres"
    plain = {
        "found": "find.found",
        "found_near": "find.found_near",
        "found_in": "find.found_in",
        "found_none": "find.found_none",
        "shown": "find.shown",
        "unknown_spot": "find.unknown_spot",
        "many_spots": "find.many_spots",
        "locating": "find.locating",
        "no_position": "find.no_position",
        "here": "find.here",
        "of_town": "find.of_town",
        "last": "place.last_chance",
        "more": "find.more",
        "call": "row.call",
        "step_free": "place.step_free.yes",
        "drive_up": "place.drive_up.yes",
        "transit": "place.transit",
        "withheld": "place.withheld",
        "distance": unit,
    }
    held: dict[str, object] = {name: words.form(key) for name, key in plain.items()}
    held["unit"] = 1609.344 if unit == "find.miles" else 1000  # metres; the international mile
    held["kinds"] = {
        kind: words.say(f"kind.{kind.replace(' ', '_')}")
        for kind in ("bring", "give", "volunteer", "go", "get help", "tune in")
    }
    return json_attribute(held)


def search_words(words: Words) -> Markup:
    """The search's words as JSON."""
    plain = {
        "found": "search.found",
        "help": "kind.get_help",
        "looking": "search.looking",
        "none": "search.none",
        "some": "search.some",
        "read_as": "search.read_as",
        "shown": "search.shown",
        "failed": "search.failed",
        "short": "search.short",
    }
    return json_attribute({name: words.form(key) for name, key in plain.items()})


def tells_miles(language: str) -> bool:
    """True where a language's territory tells road distances in miles; of a bare language, its likeliest territory."""
    from babel.core import get_global

    likely = str(get_global("likely_subtags").get(language.split("-")[0].lower(), ""))
    parts = [*language.split("-")[1:], *likely.split("_")[1:]]
    territory = next((part for part in parts if len(part) == 2 and part.isalpha()), "")
    return territory.upper() in MILES


def json_attribute(held: object) -> Markup:
    """JSON as the value of an attribute in single quotes: its double quotes, of which there are many, stay as they are.

    In an attribute, and not in a script element: a page without any inline script is plainly within its policy.
    """
    said = json.dumps(held, ensure_ascii=False, separators=(",", ":"))
    for sign in "&'<":
        said = said.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(said)


def hours_code(hours: Hours, closed: Iterable[date] = (), special: Iterable[DayHours] = ()) -> str:
    """Opening hours as the script reads them: `2026-12-24:;01234:540-1020;5/2,4:600-840`.

    Dates with hours of their own come first, then weekdays (Monday 0) with the weeks of the month that count (-1 the
    last); ranges are minutes of the day. Empty when nobody knows or an appointment decides.
    """
    if hours.mode is not Mode.REGULAR:
        return ""
    shut = tuple(closed)
    parts = [f"{day.isoformat()}:" for day in shut]
    parts += [f"{each.day.isoformat()}:{_ranges(each.ranges)}" for each in special if each.day not in shut]
    for rule in hours.rules:
        weeks = "/" + ",".join(map(str, rule.weeks)) if rule.weeks else ""
        parts.append("".join(map(str, rule.days)) + weeks + ":" + _ranges(rule.ranges))
    return ";".join(parts)


def _ranges(ranges: Sequence[tuple[int, int]]) -> str:
    return ",".join(f"{start}-{end}" for start, end in ranges)


def last_of(moments: Iterable[Moment]) -> str:
    """The latest of some moments, as an instant."""
    return max((moment.iso for moment in moments), key=datetime.fromisoformat)


# --- the finder's data -------------------------------------------------------------------------


def places_bytes(file: PlacesFile, dates: Dates) -> bytes:
    """The finder's data as JSON, UTF-8: only what is open or coming, in the station's language."""
    year = min((day.year for each in (*file.places, *file.help) for day in _days(each)), default=None)
    counties = {ref.address: number for number, ref in enumerate(file.counties)}
    held = {
        "counties": [[ref.label, ref.address] for ref in file.counties],
        "towns": [
            _without_empty(
                {
                    "name": town.name,
                    "county": town.county,
                    "at": _at(town.latitude, town.longitude),
                    "codes": town.postal_codes,
                }
            )
            for town in file.towns
        ],
        # Counties as what may be typed: by name, or with the station's word for them.
        "areas": [
            {"name": ref.label, "codes": [f"{ref.label} {file.area_word}"], "key": ref.address.split("/")[1]}
            for ref in file.counties
            if ref.label
        ],
        "asks": [_ask(ask, counties, year, dates) for ask in file.asks],
        "places": [_place(place, file.asks, counties, year, dates) for place in file.places],
        "help": [_place(place, file.asks, counties, year, dates) for place in file.help],
    }
    return (json.dumps(held, ensure_ascii=False, separators=(",", ":")) + "\n").encode()


def _ask(ask: AskView, counties: dict[str, int], year: int | None, dates: Dates) -> dict[str, Any]:
    end = ask.closes or ask.check_again_by
    is_help = ask.kind.value == "get help"
    phone = ask.contact.phone if ask.contact is not None and is_help else ""
    return _without_empty(
        {
            "kind": ask.kind.value,
            "title": ask.title,
            "address": ask.story.address,
            "language": ask.story.language,
            "accepts": ask.accepts,
            "ends": end.iso if end is not None else "",
            "over": _over(ask, dates.words),
            "when": list(_when(ask, year, dates)),
            "phone": phone,
            "who_for": ask.who_for,
            "organizer": ask.contact.name if ask.contact is not None and is_help else "",
            "counties": [counties[ref.address] for ref in ask.helps if ref.address in counties]
            if is_help
            else (),
        }
    )


def _over(ask: AskView, words: Words) -> list[str]:
    """What is left of an ask's row where a place shuts before its end, as the pages' `over_here` has it, and at its end."""
    ended = words.say("ended.known")
    takes = ask.kind not in (Kind.GO, Kind.TUNE_IN, Kind.GET_HELP)
    at_end = (
        lapsed_words(ask.contact, words) if ask.closes is None and ask.check_again_by is not None else ended
    )
    return [words.say("now.takes_no_more") if takes else ended, at_end]


def lapsed_words(contact: ContactView | None, words: Words) -> str:
    """What is said of an ask that nobody has confirmed again: whom to ask."""
    name, phone = (contact.name, contact.phone) if contact is not None else ("", "")
    if name and phone:
        return words.say("ended.lapsed_call", organizer=name, phone=phone)
    if phone:
        return words.say("ended.lapsed_phone", phone=phone)
    return words.say("ended.lapsed_organizer", organizer=name) if name else words.say("ended.lapsed")


def _when(ask: AskView, year: int | None, dates: Dates) -> Iterator[list[str]]:
    """Lines of when, as a row says it: words; the name of a data attribute and its value, where the script has
    something to do then; a class."""
    words = dates.words
    if ask.opens is not None:
        begins = dates.beginning(ask.opens, year=_says_year(ask.opens, year))
        yield [words.say("ask.opens", moment=dates.whole(begins)), "end", ask.opens.iso, "opens"]
    if ask.dates:
        for view in ask.dates[:MOST_DATES]:
            key, first, last = dates.span(view, year=_says_year(view.last, year))
            yield [dates.whole(words.say(key, first=first, last=last)), "end", view.ends]
        if len(ask.dates) > MOST_DATES:
            yield [words.say("ask.more_dates", count=len(ask.dates) - MOST_DATES)]
    elif ask.closes is not None:
        key, said = dates.until(ask.closes, year=_says_year(ask.closes, year))
        line = [words.say(key, moment=dates.whole(said))]
        yield line if ask.no_places_left else [*line, "left", ask.closes.iso]
    elif ask.check_again_by is not None:
        said = dates.moment(ask.check_again_by, year=_says_year(ask.check_again_by, year))
        yield [words.say("ask.ongoing", moment=dates.whole(said))]
    else:
        yield [words.say("ask.no_end")]
    if ask.no_places_left:
        yield [words.say("ask.no_places_left")]


def _days(each: FinderPlace) -> Iterator[date]:
    """The days that are told of a place."""
    yield from (take.last.day for take in each.takes)
    yield from each.place.closed
    yield from (special.day for special in each.place.special_hours)


def _place(
    each: FinderPlace, asks: Sequence[AskView], counties: dict[str, int], year: int | None, dates: Dates
) -> dict[str, Any]:
    place = each.place
    return _without_empty(
        {
            "name": place.name,
            "page": place.page,
            "street": place.street,
            "town": place.town,
            "code": place.postal_code,
            "county": counties.get(place.county.address),
            "at": _at(place.latitude, place.longitude),
            "of_town": place.position_is_towns,
            "withheld": place.withheld,
            "hours": hours_code(place.hours, place.closed, place.special_hours),
            "lines": _hour_lines(place, year, dates),
            "step_free": place.step_free.value == "yes",
            "drive_up": place.drive_up.value == "yes",
            "transit": place.transit,
            "said": place.ask_note,
            "language": place.language,
            "note": place.note,
            "phone": place.phone,
            "takes": [_take(take, asks[take.ask], year, dates) for take in each.takes],
        }
    )


def _take(take: FinderTake, ask: AskView, year: int | None, dates: Dates) -> list[int | str]:
    """The ask's index, from when and until when it is taken there, the latter in words; for an event its hours, in
    figures and in words, with the days on which they do not count."""
    row: list[int | str] = [
        take.ask,
        take.opens,
        take.last.iso,
        dates.whole(dates.moment(take.last, year=_says_year(take.last, year))),
    ]
    if take.hours is None:
        return row
    said = list(dates.hours(take.written)) if take.written is not None else []
    said += _closed_line(ask.closed, year, dates)
    return [*row, hours_code(take.hours, take.closed, take.special_hours), dates.whole("; ".join(said))]


def _hour_lines(place: PlaceView, year: int | None, dates: Dates) -> list[str]:
    lines = list(dates.hours(place.hours))
    lines += [dates.day_hours(each, year=each.day.year != year) for each in place.special_hours]
    lines += _closed_line(place.closed, year, dates)
    return [dates.whole(line) for line in lines]


def _closed_line(days: Sequence[date], year: int | None, dates: Dates) -> list[str]:
    """Which days somebody comes in vain, as one line, or as none."""
    if not days:
        return []
    return [dates.words.say("place.closed", days=dates.closed(days, year))]


def _says_year(moment: Moment, year: int | None) -> bool:
    return year is not None and moment.day.year != year


def _at(latitude: float | None, longitude: float | None) -> tuple[float, float] | None:
    """Five decimals are about a metre: no phone knows better where it is."""
    return None if latitude is None or longitude is None else (round(latitude, 5), round(longitude, 5))


def _without_empty(row: dict[str, Any]) -> dict[str, Any]:
    return {
        key: value for key, value in row.items() if value or (isinstance(value, int) and value is not False)
    }
