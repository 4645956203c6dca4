"""Calendars to bytes: RFC 5545 with the properties of RFC 7986.

No METHOD stands in them, so DTSTAMP is what RFC 5545, 3.8.7.2, makes of it then: when what an entry says was last revised.
That is true of the story whenever the site is built, and so equal content gives equal bytes.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from sitegen import __version__
from sitegen.clock.events import Extent, Occasion
from sitegen.edition.calendars import CalendarEntry, CalendarFile, CalendarPlace, Purpose
from sitegen.edition.models import Moment
from sitegen.edition.recurrence import Series
from sitegen.newsroom.records import Kind
from sitegen.newsroom.times import is_twice, local_day, zone_named
from sitegen.typeset.addresses import absolute
from sitegen.typeset.dates import Dates
from sitegen.typeset.timezone import timezone_bytes
from sitegen.typeset.words import with_capital

if TYPE_CHECKING:
    from icalendar import Alarm, Calendar, Event

Speaker = Callable[[str], Dates]
"""The words for a language (BCP 47): its own where the theme has them, else the station's."""

ASK_AGAIN = timedelta(hours=6)
"""How often a program that follows a calendar should look: a stop reaches it the same day."""
_END = b"END:VCALENDAR\r\n"


class CalendarSetter:
    """Sets calendars; an entry that stands in several is set once."""

    def __init__(self, speaker: Speaker) -> None:
        self._speaker = speaker
        self._set: dict[tuple[str, str, CalendarEntry], bytes] = {}

    def calendar(self, file: CalendarFile) -> bytes:
        """The calendar's bytes: UTF-8, lines of at most 75 octets that end with CRLF."""
        zone = zone_named(file.frame.time_zone)
        shell: bytes = self._shell(file).to_ical()
        assert shell.endswith(_END)
        # Its zone stands there even when it has no entries: a calendar must have one component.
        parts = [
            timezone_bytes(zone, *file.years),
            *(self._entry(file, entry, zone) for entry in file.entries),
        ]
        return shell.removesuffix(_END) + b"".join(parts) + _END

    def _shell(self, file: CalendarFile) -> Calendar:
        """The calendar without its components."""
        from icalendar import Calendar

        frame, dates = file.frame, self._speaker(file.frame.language)
        host = urlsplit(frame.address).hostname or ""
        calendar = Calendar()
        calendar.add("VERSION", "2.0")
        calendar.add("PRODID", f"-//{host}//sitegen {__version__}//{dates.words.language.upper()}")
        calendar.add("CALSCALE", "GREGORIAN")
        if not file.ask:
            name = _name(file, dates)
            calendar.add("NAME", name)
            # Programs older than RFC 7986 read the name here.
            calendar.add("X-WR-CALNAME", name)
            calendar.add("DESCRIPTION", dates.words.say("calendar.described", station=frame.station))
            calendar.add("REFRESH-INTERVAL", ASK_AGAIN, parameters={"VALUE": "DURATION"})
            calendar.add("SOURCE", absolute(frame.address, file.address), parameters={"VALUE": "URI"})
            calendar.add("URL", _address(file, file.page))
        return calendar

    def _entry(self, file: CalendarFile, entry: CalendarEntry, zone: ZoneInfo) -> bytes:
        key = (file.frame.address, file.frame.language, entry)
        if key not in self._set:
            self._set[key] = self._event(file, entry, zone).to_ical()
        return self._set[key]

    def _event(self, file: CalendarFile, entry: CalendarEntry, zone: ZoneInfo) -> Event:
        from icalendar import Event

        language = entry.story.language or file.frame.language
        dates = self._speaker(language)
        spoken = {"LANGUAGE": language}
        event = Event()
        event.add("UID", entry.uid)
        event.add("DTSTAMP", entry.revised.astimezone(UTC))
        event.add("SEQUENCE", entry.sequence)
        event.add("SUMMARY", _summary(entry, dates), parameters=spoken)
        event.add("DESCRIPTION", "\n".join(_lines(file, entry, dates)), parameters=spoken)
        event.add("URL", _address(file, entry.story.address))
        event.add("STATUS", "CANCELLED" if entry.called_off is not None else "CONFIRMED")
        # A date to know of takes nobody's time.
        event.add("TRANSP", "TRANSPARENT")
        if entry.kind is not None:
            event.add("CATEGORIES", [dates.words.say(f"kind.{entry.kind.name.lower()}")])
        if entry.place is not None and _written(entry.place):
            event.add("LOCATION", _written(entry.place))
            if entry.place.latitude is not None and entry.place.longitude is not None:
                event.add("GEO", (entry.place.latitude, entry.place.longitude))
        _add_times(event, entry.series, zone)
        if entry.reminder is not None:
            event.add_component(_alarm(entry.reminder, _summary(entry, dates)))
        return event


# --- when ------------------------------------------------------------------------------------


def _add_times(event: Event, series: Series, zone: ZoneInfo) -> None:
    """DTSTART and DTEND of the first occasion, and the rule for the rest."""
    first, last = series.occasions[0], series.occasions[-1]
    whole = first.extent is Extent.DAYS
    event.add("DTSTART", _start(first, zone))
    if whole:
        event.add("DTEND", _day_after(first, zone))
    elif first.extent is Extent.HOURS:
        event.add("DTEND", _wall(first.closes, zone))
    if series.rule is None:
        return
    until: date = _start(last, zone) if whole else last.opens.astimezone(UTC)
    rule: dict[str, object] = {"FREQ": series.rule.frequency, "UNTIL": until}
    if series.rule.days:
        rule["BYDAY"] = list(series.rule.days)
    event.add("RRULE", rule)
    if series.left_out:
        days = [local_day(moment, zone) for moment in series.left_out]
        left_out: list[date] = days if whole else [moment.astimezone(zone) for moment in series.left_out]
        event.add("EXDATE", left_out, parameters={"VALUE": "DATE"} if whole else {})


def _start(occasion: Occasion, zone: ZoneInfo) -> date:
    """A date for whole days, else a wall time in the zone."""
    return local_day(occasion.opens, zone) if occasion.extent is Extent.DAYS else _wall(occasion.opens, zone)


def _wall(moment: datetime, zone: ZoneInfo) -> datetime:
    """A wall time in the zone; one that clocks show twice as UTC, since readers do not agree which of the two is meant."""
    local = moment.astimezone(zone)
    return moment.astimezone(UTC) if is_twice(local.replace(tzinfo=None, fold=0), zone) else local


def _day_after(occasion: Occasion, zone: ZoneInfo) -> date:
    """The day after the last of an occasion's whole days."""
    return local_day(occasion.closes - timedelta(seconds=1), zone) + timedelta(days=1)


def _alarm(at: datetime, words: str) -> Alarm:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", words)
    # An instant, not a distance from the start: in a series only its last occasion is the last chance.
    alarm.add("TRIGGER", at.astimezone(UTC), parameters={"VALUE": "DATE-TIME"})
    return alarm


# --- what is said ----------------------------------------------------------------------------


def _name(file: CalendarFile, dates: Dates) -> str:
    programme = file.frame.programme
    if file.county is None:
        return dates.words.say("calendar.whole", programme=programme)
    area = file.county.label
    if not area:
        return dates.words.say("calendar.area", programme=programme, area=dates.words.say("county.beyond"))
    word = file.frame.area_word
    kind = dates.words.say(f"area.{word}") if f"area.{word}" in dates.words.messages else word
    named = dates.words.say("county.name", name=area, area=kind[:1].upper() + kind[1:])
    return dates.words.say("calendar.area", programme=programme, area=named)


def _summary(entry: CalendarEntry, dates: Dates) -> str:
    if entry.called_off is not None:
        return dates.words.say("calendar.stopped", title=entry.title)
    keys = {Purpose.CLOSING: "calendar.closes", Purpose.CHECK: "calendar.check"}
    key = keys.get(entry.purpose)
    return dates.words.say(key, title=entry.title) if key else entry.title


def _lines(file: CalendarFile, entry: CalendarEntry, dates: Dates) -> list[str]:
    """What a copy may say for ever: no phone and no hours, since nobody can call a copy back."""
    say = dates.words.say
    lines = [entry.story.label]
    if entry.called_off is not None:
        lines += [with_capital(words) for words in (entry.called_off.say, entry.called_off.instead) if words]
    if entry.opens is not None:
        lines.append(say("ask.opens", moment=dates.beginning(entry.opens, year=True)))
    if entry.closes is not None:
        key, moment = dates.until(entry.closes, year=True)
        lines.append(with_capital(say(key, moment=moment)))
    if entry.last_place is not None:
        lines.append(say("row.last_place", count=entry.places, moment=_moment(entry.last_place, dates)))
    if entry.no_places_left:
        lines.append(say("ask.no_places_left"))
    if entry.places > 1:
        lines.append(say("row.places", towns=dates.together(entry.towns), count=entry.places))
    if entry.note:
        lines.append(entry.note)
    if entry.kind is Kind.GIVE and entry.called_off is None:
        lines += [say("care.check"), say("care.record")]
    lines.append(_address(file, entry.story.address))
    return lines


def _moment(moment: Moment, dates: Dates) -> str:
    return dates.moment(moment, year=True)


def _written(place: CalendarPlace) -> str:
    town = f"{place.town} {place.postal_code}".strip()
    return ", ".join(part for part in (place.name, place.street, town) if part)


def _address(file: CalendarFile, address: str) -> str:
    path, sign, fragment = address.partition("#")
    return absolute(file.frame.address, path) + sign + fragment
