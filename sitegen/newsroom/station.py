"""Reading content/station.yaml: who publishes, where, for which counties."""

from __future__ import annotations

import re
from zoneinfo import ZoneInfo

from sitegen.newsroom.fields import Fields, Findings, nearest
from sitegen.newsroom.nodes import Mapping, Node, Scalar
from sitegen.newsroom.records import (
    County,
    SecurityContact,
    Spot,
    Station,
    StationContact,
    Town,
)
from sitegen.newsroom.slugs import BEYOND, is_slug, slug
from sitegen.newsroom.times import TimeError, read_moment, zone_named, zone_names

KEYS = (
    "station", "programme", "address", "time_zone", "language", "contact", "theme", "last_days", "recheck_days",
    "area_word", "media_host", "holidays", "as_of", "counties", "map", "security", "desk",
)  # fmt: skip
CONTACT_KEYS = ("email", "phone", "answers", "mail")
COUNTY_KEYS = ("name", "key", "seat", "position", "towns")
TOWN_KEYS = ("name", "position", "postal_codes")
SECURITY_KEYS = ("contact", "expires")

MOST_DAYS = 366
"""Of `last_days` and `recheck_days`."""
_LANGUAGE = re.compile(r"[a-zA-Z]{2,3}(?:-[a-zA-Z0-9]{2,8})*\Z")
# A host's name in letters that addresses have, and a path without steps up (RFC 3986); no name and password, which pages would publish.
_SITE = re.compile(r"https?://[A-Za-z0-9.-]+(?::\d+)?(?:/(?!\.\.?(?:/|\Z))[A-Za-z0-9._~!$&'()*+,;=:@%-]*)*\Z")
_HOST = re.compile(r"https://[A-Za-z0-9.-]+(?::\d+)?/?\Z")


def is_language(text: str) -> bool:
    """True for a well-formed BCP 47 tag (RFC 5646, 2.1, without its rarer parts)."""
    return _LANGUAGE.match(text) is not None


def read_station(node: Mapping, path: str, findings: Findings) -> Station | None:
    """The station's record; None when a required value is missing or unreadable."""
    fields = Fields(node, path, findings, KEYS, "station.yaml")
    before = len(findings.found)
    for key, example in (
        ("station", "Saltmarsh Community Television"),
        ("programme", "Small Wonders"),
        ("address", "https://www.example.org/small-wonders/"),
        ("time_zone", "America/New_York"),
        ("language", "en-US"),
        ("contact", "{email: goodnews@example.org, phone: 237-555-0100}"),
        ("counties", "a list of {name: …} entries"),
    ):
        fields.require(key, example)
    address = _address(fields)
    zone = _zone(fields)
    language = fields.text("language")
    if language and not is_language(language):
        fields.fault(
            "language",
            "language",
            f"'{language}' is not a language tag.",
            "Write, for example: language: en-US",
        )
    as_of = fields.text("as_of")
    if as_of and zone is not None:
        try:
            read_moment(as_of, zone)
        except TimeError as error:
            fields.fault("as_of", "time", f"'as_of' of station.yaml: {error}")
    media_host = fields.text("media_host")
    if media_host and not _HOST.match(media_host):
        fields.fault(
            "media_host",
            "address",
            f"'{media_host}' is not a host's https address.",
            "Write, for example: media_host: https://video.example.org",
        )
    theme = fields.text("theme") or "tidetable"
    if not is_slug(theme):
        fields.fault(
            "theme",
            "not-a-slug",
            f"'{theme}' cannot be the name of a theme's folder.",
            f"Write instead: theme: {slug(theme) or 'tidetable'}",
        )
    station = Station(
        station=fields.text("station"),
        programme=fields.text("programme"),
        address=address,
        time_zone=zone.key if zone is not None else "",
        language=language,
        contact=_contact(fields),
        counties=_counties(fields),
        theme=theme,
        last_days=fields.whole("last_days", 0, MOST_DAYS, 3),
        recheck_days=fields.whole("recheck_days", 1, MOST_DAYS, 7),
        area_word=fields.text("area_word") or "county",
        media_host=media_host.rstrip("/"),
        holidays=fields.days("holidays"),
        as_of=as_of,
        map=fields.text("map"),
        security=_security(fields, zone),
        origin=fields.origin,
    )
    faults = any(finding.weight == "fault" for finding in findings.found[before:])
    return None if faults and not (zone and station.counties and address and language) else station


def _address(fields: Fields) -> str:
    address = fields.text("address")
    if address and not _SITE.match(address):
        fields.fault(
            "address",
            "address",
            f"'{address}' is not the address of a site: a scheme, a host and folders, in the letters that addresses have.",
            "Write, for example: address: https://www.example.org/small-wonders/ (a name with accents as its host has it: xn--…, and %C3%B6 in folders)",
        )
        return ""
    return address if not address or address.endswith("/") else address + "/"


def _zone(fields: Fields) -> ZoneInfo | None:
    name = fields.text("time_zone")
    if not name:
        return None
    try:
        return zone_named(name)
    except TimeError as error:
        close = nearest(name, zone_names())
        fields.fault(
            "time_zone",
            "time-zone",
            str(error),
            f"Did you mean '{close}'?" if close else "Write an IANA name, such as America/New_York.",
        )
        return None


def _contact(fields: Fields) -> StationContact:
    contact = fields.group("contact", CONTACT_KEYS, "the station's contact")
    if contact is None:
        return StationContact()
    if not any(contact.has(key) for key in ("email", "phone", "mail")):
        contact.fault(
            "",
            "missing",
            "The station's contact has no way to reach it.",
            "Write, for example: contact: {phone: 237-555-0100}",
        )
    return StationContact(
        contact.email("email"), contact.phone("phone"), contact.hours("answers"), contact.text("mail")
    )


def _security(fields: Fields, zone: ZoneInfo | None) -> SecurityContact | None:
    security = fields.group("security", SECURITY_KEYS, "security")
    if security is None:
        return None
    if not security.require("contact", '"mailto:security@example.org"') or not security.require(
        "expires", "2027-11-01"
    ):
        return None
    contact, expires = security.web("contact"), security.when("expires", zone)
    return SecurityContact(contact, expires) if contact and expires is not None else None


def _counties(fields: Fields) -> tuple[County, ...]:
    counties: list[County] = []
    keys: dict[str, str] = {}
    names: set[str] = set()
    for item in fields.items("counties"):
        county = _county(item, fields)
        if county is None:
            continue
        spot = Spot(fields.path, item.line, item.column)
        if county.name in names:
            fields.findings.fault(
                spot,
                "county-twice",
                f"{county.name} stands twice in the list of counties.",
                "Remove one of them.",
            )
            continue
        if county.key in keys:
            fields.findings.fault(
                spot,
                "county-address",
                f"{county.name} and {keys[county.key]} would share the address /counties/{county.key}/.",
                f"Give one of them a key of its own: key: {county.key}-2",
            )
            continue
        if county.key == BEYOND:
            fields.findings.fault(
                spot,
                "county-address",
                f"/counties/{BEYOND}/ is the page of stories from elsewhere.",
                "Give this county another key.",
            )
            continue
        keys[county.key] = county.name
        names.add(county.name)
        counties.append(county)
    if not counties and fields.has("counties"):
        fields.fault(
            "counties", "missing", "The list of counties is empty.", "Write at least one: - {name: Tidewick}"
        )
    return tuple(counties)


def _county(item: Node, fields: Fields) -> County | None:
    if isinstance(item, Scalar):
        name = " ".join(item.text.split())
        if not slug(name):
            fields.findings.fault(
                Spot(fields.path, item.line, item.column),
                "not-a-slug",
                f"'{name}' has no letter or digit that an address could hold.",
                "Write: - {name: Tidewick, key: tidewick}",
            )
            return None
        return County(name, slug(name))
    if not isinstance(item, Mapping):
        fields.findings.fault(
            Spot(fields.path, item.line, item.column),
            "wrong-shape",
            "A county must be a name or a group of keys.",
            "Write: - {name: Tidewick}",
        )
        return None
    one = Fields(item, fields.path, fields.findings, COUNTY_KEYS, "a county")
    if not one.require("name", "Tidewick"):
        return None
    name = one.text("name")
    keys = one.slugs("key")
    key = keys[0] if keys else slug(name)
    if not key:
        one.fault(
            "name",
            "not-a-slug",
            f"'{name}' has no letter or digit that an address could hold.",
            "Add a key: key: tidewick",
        )
        return None
    towns: list[Town] = []
    for town in one.items("towns"):
        if isinstance(town, Scalar):
            towns.append(Town(" ".join(town.text.split())))
        elif isinstance(town, Mapping):
            each = Fields(town, fields.path, fields.findings, TOWN_KEYS, "a town")
            if each.require("name", "Millrace"):
                towns.append(Town(each.text("name"), each.position("position"), each.texts("postal_codes")))
        else:
            fields.findings.fault(
                Spot(fields.path, town.line, town.column),
                "wrong-shape",
                "A town must be a name or a group of keys.",
                "Write: - {name: Millrace}",
            )
    return County(name, key, one.text("seat"), one.position("position"), tuple(towns))
