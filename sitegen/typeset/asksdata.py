"""`data/asks.json`: every ask that is open or coming, for other rooms of the station.

Its shape is `sitegen/schemas/asks.schema.json`. Words are in the station's language except those of a story in another one,
whose language is named; instants carry their offset. What is withheld is not in it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from sitegen.edition.models import AskView, ContactView, DropOffView, GoalView, Ref
from sitegen.edition.outlets import AskRecord, AsksFile
from sitegen.typeset.addresses import absolute
from sitegen.typeset.dates import Dates
from sitegen.typeset.timing import timing_lines

FORMAT = 1
"""Raised when a reader of the older format would misread the newer one."""


def asks_bytes(file: AsksFile, dates: Dates) -> bytes:
    """The file as JSON, UTF-8, one ask on a line."""
    frame = file.frame
    head = {
        "format": FORMAT,
        "station": frame.station,
        "programme": frame.programme,
        "address": frame.address,
        "language": frame.language,
        "time_zone": frame.time_zone,
    }
    opening = json.dumps(head, ensure_ascii=False, indent=1)[:-2]
    rows = [json.dumps(_ask(ask, file, dates), ensure_ascii=False) for ask in file.asks]
    listed = "[\n" + ",\n".join(f"  {row}" for row in rows) + "\n ]" if rows else "[]"
    return f'{opening},\n "asks": {listed}\n}}\n'.encode()


def _ask(record: AskRecord, file: AsksFile, dates: Dates) -> dict[str, Any]:
    view, base = record.view, file.frame.address
    story = view.story
    address = absolute(base, f"{story.address}#{view.anchor}")
    return {
        "id": record.id,
        "true_until": record.true_until or None,
        "address": address,
        "kind": view.kind.value,
        "title": view.title,
        "standing": view.standing.word,
        "when": list(timing_lines(record.timing, dates)),
        "counties": _counties(record.counties, dates),
        "story": _known(
            {
                "headline": story.label,
                "address": absolute(base, story.address),
                "language": story.language or file.frame.language,
            }
        ),
        **_known(
            {
                "opens": view.opens and view.opens.iso,
                "closes": view.closes and view.closes.iso,
                "check_again_by": view.check_again_by and view.check_again_by.iso,
                "dates": [
                    {"first": each.first.iso, "last": each.last.iso, "ends": each.ends} for each in view.dates
                ],
                "hours": view.hours and view.hours.text,
                "closed": [day.isoformat() for day in view.closed],
                "minutes": view.minutes,
                "accepts": list(view.accepts),
                "not_accepted": list(view.not_accepted),
                "helps": _counties(view.helps, dates),
                "goal": _goal(view.goal),
                "who_for": view.who_for,
                "cost": view.cost,
                "bring": view.bring,
                "payee": view.payee,
                "goes_to": view.goes_to,
                "registration": view.registration,
                "if_too_much": view.if_too_much,
                "contact": _contact(view.contact),
                "places": [_place(place, view, base, dates) for place in view.places],
            }
        ),
    }


def _place(drop_off: DropOffView, ask: AskView, base: str, dates: Dates) -> dict[str, Any]:
    place = drop_off.place
    position = None
    if place.latitude is not None and place.longitude is not None:
        position = {
            "latitude": round(place.latitude, 5),
            "longitude": round(place.longitude, 5),
            "of": "town" if place.position_is_towns else "place",
        }
    return {
        "name": place.name,
        "town": place.town,
        "county": _county(place.county, dates),
        "hours": place.hours.text or place.hours.mode.value,
        "withheld": place.withheld,
        **_known(
            {
                "opens": drop_off.from_ and drop_off.from_.iso,
                # The day of checking again is no closing: until then nobody knows of a last chance.
                "last_chance": drop_off.last_chance.iso
                if drop_off.before_close or not ask.check_again_by
                else "",
                "street": place.street,
                "postal_code": place.postal_code,
                "position": position,
                "special_hours": [
                    {"day": each.day.isoformat(), "hours": dates.day_hours(each, year=True)}
                    for each in place.special_hours
                ],
                "closed": [day.isoformat() for day in place.closed],
                "step_free": place.step_free.value,
                "drive_up": place.drive_up.value,
                "transit": place.transit,
                "parking": place.parking,
                "note": _joined(place.ask_note, place.note),
                "phone": place.phone,
                "web": place.web,
                "address": absolute(base, place.page) if place.page else "",
            }
        ),
    }


def _joined(first: str, second: str) -> str:
    """Two notes as sentences of one."""
    if not first or not second:
        return first or second
    return f"{first}{'' if first[-1] in '.!?' else '.'} {second}"


def _counties(refs: Iterable[Ref], dates: Dates) -> list[str]:
    return [_county(ref, dates) for ref in refs]


def _county(ref: Ref, dates: Dates) -> str:
    return ref.label or dates.words.say("county.beyond")


def _contact(contact: ContactView | None) -> dict[str, Any]:
    if contact is None:
        return {}
    return _known(
        {
            "name": contact.name,
            "phone": contact.phone,
            "email": contact.email,
            "web": contact.web,
            "pick_up": contact.pick_up,
            "ship_to": contact.ship_to,
            "languages": list(contact.languages),
        }
    )


def _goal(goal: GoalView | None) -> dict[str, Any]:
    if goal is None:
        return {}
    return {
        "number": goal.number,
        **_known({"unit": goal.unit, "counted_on": goal.counted_on and goal.counted_on.isoformat()}),
        **{
            key: value
            for key, value in (("so_far", goal.so_far), ("last_time", goal.last_time))
            if value is not None
        },
    }


def _known(row: dict[str, Any]) -> dict[str, Any]:
    """Without what nobody wrote."""
    return {key: value for key, value in row.items() if value not in (None, "", [], {})}
