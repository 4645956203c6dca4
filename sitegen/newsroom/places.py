"""Reading places: content/places/*.yaml, and places written out in an ask."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from sitegen.newsroom.context import Context
from sitegen.newsroom.fields import Fields, did_you_mean
from sitegen.newsroom.hours import Range, Ranges, afternoon_ends, opening_ranges, ranges_text, read_ranges
from sitegen.newsroom.nodes import Mapping, Node, Scalar
from sitegen.newsroom.records import Access, DayHours, DropOff, Hours, Mode, Place, Spot, Stop
from sitegen.newsroom.times import TimeError, read_date

PLACE_KEYS = (
    "name", "street", "town", "county", "postal_code", "position", "hours", "closed", "special_hours", "step_free",
    "transit", "parking", "drive_up", "note", "phone", "web", "address", "home", "desk",
)  # fmt: skip
WINDOW_KEYS = ("from", "until", "note", "stopped")
REFERENCE_KEYS = ("place", "from", "until", "hours", "closed", "special_hours", "note", "stopped")
STOP_KEYS = ("when", "say", "instead")
HOME_KEYS = ("consent",)


def read_place(node: Mapping, path: str, place_id: str, context: Context) -> Place | None:
    """A shared place's record; None when what it must have is missing."""
    return _place(Fields(node, path, context.findings, PLACE_KEYS, "a place"), place_id, context)


def _place(fields: Fields, place_id: str, context: Context) -> Place | None:
    whole = True
    for key, example in (
        ("name", "Millrace Library"),
        ("town", "Millrace"),
        ("county", context.county_for_example(fields.text("town"))),
        ("hours", '"Mo-Fr 09:00-17:00"  (or: by appointment, or: unknown)'),
    ):
        whole = fields.require(key, example) and whole
    name, spot = fields.text("county"), fields.spot("county")
    county = context.county(name, spot) if name else ""
    context.check_town(fields, (county,) if county else (), "the place's")
    hours = fields.hours("hours")
    withheld = fields.choice("address", ("withheld",)) == "withheld"
    home = fields.group("home", HOME_KEYS, "home")
    consent = home.day("consent") if home is not None else None
    if home is not None and consent is None:
        message = "A private home needs the date its owner agreed to be named."
        instead = "Write: home: {consent: 2026-11-01}, or leave the place out."
        if home.held and not home.has("consent"):
            home.missing("consent", message, instead)
        else:
            home.fault("consent", "home-without-consent", message, instead)
    closed, special = fields.days("closed"), _special_hours(fields)
    _closed_wins(fields, closed, special)
    place = Place(
        id=place_id,
        name=fields.text("name"),
        town=fields.text("town"),
        county=county,
        hours=hours or Hours(Mode.UNKNOWN, text="unknown"),
        street=fields.text("street"),
        postal_code=fields.text("postal_code"),
        position=fields.position("position"),
        closed=closed,
        special_hours=special,
        step_free=Access(fields.choice("step_free", ("yes", "no", "unknown"), "unknown")),
        transit=fields.text("transit"),
        parking=fields.text("parking"),
        drive_up=Access(fields.choice("drive_up", ("yes", "no", "unknown"), "unknown")),
        note=fields.text("note"),
        phone=fields.phone("phone"),
        web=fields.web("web"),
        withheld=withheld,
        home_consent=consent,
        is_home=home is not None,
        origin=fields.origin,
    )
    readable = whole and hours is not None and (bool(county) or context.station is None)
    return place if readable else None


def _special_hours(fields: Fields) -> tuple[DayHours, ...]:
    node = fields.node("special_hours")
    if node is None:
        return ()
    if not isinstance(node, Mapping):
        fields.fault(
            "special_hours",
            "wrong-shape",
            "'special_hours' must give hours by date.",
            'Write: special_hours: {2026-12-12: "08:00-12:00"}',
        )
        return ()
    found: list[DayHours] = []
    for key, value in node.entries:
        spot = Spot(fields.path, key.line, key.column)
        try:
            day = read_date(key.text.strip(), fields.near)
        except TimeError as error:
            fields.findings.fault(spot, "time", f"'special_hours': {error.problem}", error.instead)
            continue
        if not isinstance(value, Scalar):
            fields.findings.fault(
                spot,
                "wrong-shape",
                "Special hours of a day must be one text.",
                'Write: {2026-12-12: "08:00-12:00"}',
            )
            continue
        ranges, problem, instead = read_ranges(value.text.strip())
        if problem:
            fields.findings.fault(
                Spot(fields.path, value.line, value.column),
                "hours",
                f"Special hours of {day}: {problem}",
                instead,
            )
            continue
        likely = afternoon_ends(ranges)
        if likely != ranges:
            fields.overnight(
                Spot(fields.path, value.line, value.column),
                f"Special hours of {day}",
                ranges,
                f'{day}: "{ranges_text(likely)}"',
            )
        found.append(DayHours(day, ranges))
    return tuple(sorted(found, key=lambda each: each.day))


def _closed_wins(fields: Fields, closed: tuple[date, ...], special: tuple[DayHours, ...]) -> None:
    for each in special:
        if each.day in closed:
            fields.concern(
                "special_hours",
                "closed-and-special",
                f"{each.day} is closed and has special hours; closed counts.",
                "Keep only one of the two.",
            )


def read_stop(fields: Fields, context: Context, key: str = "stopped") -> Stop | None:
    """`stopped: {when, say, instead}`."""
    group = fields.group(key, STOP_KEYS, "stopped", STOP_KEYS[:2])
    if group is None:
        return None
    if not group.require("when", "2026-12-01 15:00") or not group.require("say", "the shelves are full"):
        return None
    when = group.when("when", context.zone)
    return Stop(when, group.text("say"), group.text("instead")) if when is not None else None


def read_drop_offs(fields: Fields, key: str, context: Context) -> tuple[DropOff, ...]:
    """The entries of `drop_off` or `where`: shared places by name, with or without a window, or whole places."""
    found: list[DropOff] = []
    for item in _entries(fields, key):
        entry = _drop_off(item, fields, context)
        if entry is not None:
            found.append(entry)
    return tuple(found)


def _entries(fields: Fields, key: str) -> tuple[Node, ...]:
    node = fields.node(key)
    return (node,) if isinstance(node, (Scalar, Mapping)) else fields.items(key)


def _drop_off(item: Node, fields: Fields, context: Context) -> DropOff | None:
    spot = Spot(fields.path, item.line, item.column)
    if isinstance(item, Scalar):
        place = _shared(item.text.strip(), spot, context)
        if place is None:
            return None
        return DropOff(place, origin=replace(fields.origin, spot=spot, keys=""))
    if not isinstance(item, Mapping):
        fields.findings.fault(
            spot,
            "wrong-shape",
            "A place here is a file's name or a group of keys.",
            "Write: - millrace-library",
        )
        return None
    if any(name.text == "place" for name, _ in item.entries):
        return _reference(fields.inner(item, REFERENCE_KEYS, "a drop-off"), context)
    inline = fields.inner(item, (*PLACE_KEYS, "from", "until", "stopped"), "a drop-off")
    place = _place(inline, "", context)
    if place is None:
        return None
    zone = context.zone
    return DropOff(
        place,
        inline.when("from", zone),
        inline.when("until", zone, ends=True),
        read_stop(inline, context),
        origin=inline.origin,
    )


def places_called(words: str, places: Iterable[Place]) -> list[Place]:
    """The shared places of a name, or of a name and town: `Millrace Library, Millrace`. Capitals and spaces don't count."""
    wanted = _plain(words)
    return [
        place for place in places if wanted in (_plain(place.name), _plain(f"{place.name}, {place.town}"))
    ]


def _plain(words: str) -> str:
    return " ".join(words.split()).casefold()


def _shared(name: str, spot: Spot, context: Context) -> Place | None:
    place = context.places.get(name)
    if place is None and name not in context.unreadable_places:
        called = sorted(place.id for place in places_called(name, context.places.values()))
        context.findings.fault(
            spot,
            "unknown-place",
            f"There is no place file content/places/{name}.yaml.",
            (f"Did you mean {' or '.join(repr(each) for each in called)}?" if called else "")
            or did_you_mean(name, sorted(context.places))
            or "Make the file, or write the place out here: {name: …, town: …, county: …, hours: …}",
        )
    return place


def _reference(fields: Fields, context: Context) -> DropOff | None:
    zone = context.zone
    hours, closed, special = fields.hours("hours"), fields.days("closed"), _special_hours(fields)
    note = fields.text("note")
    from_, until, stopped = (
        fields.when("from", zone),
        fields.when("until", zone, ends=True),
        read_stop(fields, context),
    )
    place = (
        _shared(fields.text("place"), fields.spot("place"), context)
        if fields.require("place", "millrace-library")
        else None
    )
    if place is None:
        return None
    all_closed = {*place.closed, *closed}
    _closed_wins(fields, tuple(sorted(all_closed)), special)
    days = {each.day: each for each in place.special_hours}
    if hours is not None:
        # What is taken at its own hours is not taken outside of them because the door is open longer on some day.
        days, shut = _within(hours, place)
        all_closed |= shut
    days |= {each.day: each for each in special}
    place = replace(
        place,
        hours=hours or place.hours,
        closed=tuple(sorted(all_closed)),
        special_hours=tuple(days[day] for day in sorted(days)),
    )
    return DropOff(place, from_, until, stopped, fields.has("hours"), note, fields.origin)


def _within(hours: Hours, place: Place) -> tuple[dict[date, DayHours], set[date]]:
    """What becomes of some hours of one ask on a place's special days: (days with other hours than usual, days without any).

    Where the door is open as long as usual, nothing changes; elsewhere what is taken is taken while it is open, and hours that lie
    outside of the usual ones anyway are not kept on a shorter day. The door of a night is that of the day before, too.
    """
    special = {each.day: each.ranges for each in place.special_hours}
    days: dict[date, DayHours] = {}
    shut: set[date] = set()
    for day in sorted({day + timedelta(days=more) for day in special for more in (0, 1)}):
        own = opening_ranges(hours, day)
        last = max((1440, *(end for _, end in own)))
        usual, now = _door(day, place, {}, last), _door(day, place, special, last)
        shared = _both(own, usual)
        if not own or _both(shared, now) == shared != () or _both(usual, now) == usual:
            continue
        left = _both(own, now)
        if not left:
            shut.add(day)
        elif left != own:
            days[day] = DayHours(day, left)
    return days, shut


def _door(day: date, place: Place, special: dict[date, Ranges], last: int) -> Ranges:
    """When a place is open on a day until its minute `last`, in minutes from its 00:00, with what the nights around it have."""
    ranges = sorted(
        (max(start + more * 1440, 0), min(end + more * 1440, last))
        for more in (-1, 0, 1)
        for around in (day + timedelta(days=more),)
        for start, end in special.get(around, opening_ranges(place.hours, around))
        if end + more * 1440 > 0 and start + more * 1440 < last
    )
    merged: list[Range] = []
    for start, end in ranges:
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)


def _both(one: Ranges, other: Ranges) -> Ranges:
    """The minutes of both."""
    pairs = ((max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other)
    return tuple(pair for pair in pairs if pair[0] < pair[1])
