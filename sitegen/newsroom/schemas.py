"""JSON Schemas (draft 2020-12) of the files a producer writes, for editors that complete and check as one types.

A schema says of a file what can be said of it alone: its keys, their shapes, the few words that are possible. It never refuses
what the reader takes (a key may be left blank, a number may stand in quotes), and the reader refuses much that no schema can:
a county nobody knows, a date that does not exist. Three exceptions are deliberate: a key that must be there is marked as missing
in a story on hold, too; where one of a few words is wanted, an editor marks spaces before, after and twice in it, which the
reader mends; and where one text is wanted an empty list, which the reader takes for nothing.

Every group of keys is held against the reader's own tuple of them, so neither can gain a key without the other.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, TypeAlias

from sitegen.newsroom.asks import ASK_KEYS, CONTACT_KEYS, GOAL_KEYS, KINDS, MOST_MINUTES
from sitegen.newsroom.episodes import EPISODE_KEYS, PAGE_KEYS, PROMISE_KEYS, RUNDOWN_KEYS
from sitegen.newsroom.listings import COLUMNS, NEEDED
from sitegen.newsroom.places import PLACE_KEYS, REFERENCE_KEYS, STOP_KEYS
from sitegen.newsroom.records import CorrectionKind
from sitegen.newsroom.station import CONTACT_KEYS as STATION_CONTACT_KEYS
from sitegen.newsroom.station import COUNTY_KEYS, MOST_DAYS, SECURITY_KEYS, TOWN_KEYS
from sitegen.newsroom.station import KEYS as STATION_KEYS
from sitegen.newsroom.stories import CORRECTION_KEYS, PHOTO_KEYS, STORY_KEYS, USES, VIDEO_KEYS

Schema: TypeAlias = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ID = "urn:sitegen:schema:"
"""Begins the `$id` of each, which says that a file is one of these."""

_DAY = r"\d{4}-\d{2}-\d{2}"
_WHEN = _DAY + r"(?:[ T]+\d{2}:\d{2}(?::\d{2})?)?"
_WEB = r"(?:[hH][tT][tT][pP][sS]?://|[mM][aA][iI][lL][tT][oO]:|[tT][eE][lL]:)\S+"
_NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)"
_LENGTH = r"(?:\d{1,2}:)?\d{1,2}:\d{2}"
_SLUG = r"[a-z0-9-]+"
_LANGUAGE = r"[a-zA-Z]{2,3}(?:-[a-zA-Z0-9]{2,8})*"


# --- values ----------------------------------------------------------------------------------


def _says(schema: Schema, words: str, *examples: object) -> Schema:
    """The schema with what an editor shows about it."""
    shown = {"examples": list(examples)} if examples else {}
    return {"description": words, **shown, **schema}


def _or_blank(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"$ref": "#/$defs/blank"}]}


def _text(words: str, *examples: object) -> Schema:
    # Every scalar is read as its text: 1984 and true are texts, too.
    return _says({"type": ["string", "number", "boolean", "null"]}, words, *examples)


def _like(pattern: str, words: str, *examples: object, numbers: bool = False) -> Schema:
    """A text of a form; the reader trims it, and a blank is nothing."""
    types = ["string", "number", "null"] if numbers else ["string", "null"]
    return _says(_or_blank({"type": types, "pattern": rf"^\s*{pattern}\s*$"}), words, *examples)


def _word(known: Iterable[str], words: str) -> Schema:
    return _says(_or_blank({"enum": list(known)}), words)


def _flag(words: str) -> Schema:
    return _says(_or_blank({"enum": [True, False, "true", "True", "TRUE", "false", "False", "FALSE"]}), words)


def _number(words: str, least: float, most: float | None = None, *examples: object) -> Schema:
    number: Schema = {"type": "number", "minimum": least}
    if most is not None:
        number["maximum"] = most
    written = {"type": "string", "pattern": rf"^\s*{_NUMBER}\s*$"}
    return _says({"anyOf": [number, written, {"$ref": "#/$defs/blank"}]}, words, *examples)


def _one_or_list(schema: Schema, words: str, *examples: object) -> Schema:
    """One value or a list of them, in which blanks do not count."""
    return _says({"anyOf": [schema, {"type": "array", "items": schema}]}, words, *examples)


def _texts(words: str, *examples: object) -> Schema:
    return _one_or_list({"type": ["string", "number", "boolean", "null"]}, words, *examples)


def _slugs(words: str, *examples: object) -> Schema:
    each = {"type": ["string", "number", "null"], "pattern": rf"^\s*(?:{_SLUG}(?:\s*))?$"}
    return _one_or_list(each, words, *examples)


def _day(words: str, *examples: object) -> Schema:
    return _like(_DAY, words, *examples)


def _days(words: str, *examples: object) -> Schema:
    each = {
        "anyOf": [
            {"type": "string", "pattern": rf"^\s*{_DAY}\s*(?:\.\.\.?\s*{_DAY}\s*)?$"},
            {"$ref": "#/$defs/blank"},
        ]
    }
    return _one_or_list(each, words, *examples)


def _when(words: str, *examples: object) -> Schema:
    return _like(_WHEN, words, *examples)


def _hours(words: str) -> Schema:
    return _text(words, "Mo-Fr 09:00-17:00; Sa 10:00-14:00", "by appointment", "unknown")


def _group(
    known: Iterable[str], properties: dict[str, Schema], words: str, required: Iterable[str] = (), **more: Any
) -> Schema:
    """A group of keys. Raises AssertionError unless its keys are those that the reader knows."""
    assert set(properties) == set(known), set(properties) ^ set(known)
    schema: Schema = {"type": "object", "additionalProperties": False}
    if required:
        schema["required"] = list(required)
    return _says(schema | {"properties": {key: properties[key] for key in known}} | more, words)


def _list(each: Schema, words: str) -> Schema:
    return _says({"anyOf": [{"type": "array", "items": each}, {"$ref": "#/$defs/blank"}]}, words)


_BLANK: Schema = {
    "description": "Nothing: as if the key were not written.",
    "anyOf": [
        {"type": "null"},
        {"type": "string", "pattern": r"^\s*$"},
        {"type": "array", "items": {"$ref": "#/$defs/blank"}},
    ],
}
_DESK = _says({}, "For the newsroom: anything. Never published.")
_POSITION = _says(
    _or_blank(
        {
            "type": "array",
            "minItems": 2,
            "maxItems": 2,
            "items": {"anyOf": [{"type": "number"}, {"type": "string", "pattern": rf"^\s*{_NUMBER}\s*$"}]},
        }
    ),
    "Latitude, then longitude, in degrees.",
    [34.7, -60.5],
)
_ACCESS = ("yes", "no", "unknown")


# --- parts of several files ------------------------------------------------------------------


def _stop() -> Schema:
    return _group(
        STOP_KEYS,
        {
            "when": _when("From when on.", "2026-12-01 15:00"),
            "say": _text("What to tell people.", "the shelves are full"),
            "instead": _text("What they can do instead."),
        },
        "Full, moved or called off before its time.",
        ("when", "say"),
    )


def _place_keys() -> dict[str, Schema]:
    return {
        "name": _text("What the place is called.", "Millrace Library"),
        "street": _text("Street and number.", "4 Hill Road"),
        "town": _text("Its town.", "Millrace"),
        "county": _text("The county it lies in, as station.yaml has it.", "Tidewick"),
        "postal_code": _text("Its postal code."),
        "position": _POSITION,
        "hours": _hours("When it is open; or: by appointment; or: unknown."),
        "closed": _days("Days on which it is closed, or ranges of them.", ["2026-12-25"], ["2026-12-24..2027-01-01"]),
        "special_hours": _says(
            _or_blank(
                {
                    "type": "object",
                    "propertyNames": {"pattern": rf"^\s*{_DAY}\s*$"},
                    "additionalProperties": {"type": ["string", "number", "boolean", "null"]},
                }
            ),
            "Hours of single days, in place of the ordinary ones.",
            {"2026-12-12": "08:00-12:00"},
        ),
        "step_free": _word(_ACCESS, "Whether people come in without a step."),
        "transit": _text("Bus lines and stops."),
        "parking": _text("Where to park."),
        "drive_up": _word(_ACCESS, "Whether things are taken from the car."),
        "note": _text("What to know at the door.", "ring the side bell"),
        "phone": _text("Its phone number.", "237-555-0142"),
        "web": _like(_WEB, "Its web address.", "https://…"),
        "address": _word(("withheld",), "withheld: only the town is shown, in every output."),
        "home": _or_blank(
            _group(
                ("consent",), {"consent": _day("When its owner agreed to be named.")}, "A private home.", ("consent",)
            )
        ),
        "desk": _DESK,
    }  # fmt: skip


_PLACE_NEEDS = ("name", "town", "county", "hours")


def _drop_off() -> Schema:
    keys = _place_keys()
    window = {
        "from": _when("From when it takes things, inside the ask's time."),
        "until": _when("Until when; a bare date counts to its end."),
        "stopped": _or_blank({"$ref": "#/$defs/stopped"}),
    }
    reference = _group(
        REFERENCE_KEYS,
        {
            "place": _text("A file of content/places, without its ending.", "millrace-library"),
            **window,
            **{key: keys[key] for key in ("hours", "closed", "special_hours", "note")},
        },
        "A shared place, with what differs for this ask.",
        ("place",),
    )
    written = _group((*PLACE_KEYS, *window), {**keys, **window}, "A place written out here.", _PLACE_NEEDS)
    return {
        "description": "A place: a file of content/places, or a group of keys.",
        "if": {"type": "object"},
        "then": {"if": {"required": ["place"]}, "then": reference, "else": written},
        "else": {"type": ["string", "number", "boolean", "null"]},
    }


def _photo() -> Schema:
    return _group(
        PHOTO_KEYS,
        {
            "file": _text("A file in content/photos.", "coat-closet.jpg"),
            "alt": _text("What it shows, for people who do not see it. Without it the photo is not shown."),
            "credit": _text("Who took it."),
            "courtesy": _text("By whose courtesy it is shown."),
            "use": _word(USES, "What it is cleared for."),
            "focus": _texts("Its point of interest, from the left and from the top, 0 to 1.", [0.5, 0.3]),
            "children": _flag("Whether it shows children."),
            "consent": _text("Where the consent for children is on file. Never published."),
            "rights_end": _when("Until when it may be shown."),
        },
        "The story's picture.",
        ("file",),
    )


def _video(episode: bool) -> Schema:
    keys = {
        "file": _like(
            _WEB, "Its address on the station's media host.", "https://video.example.org/coats.mp4"
        ),
        "captions": _text("A WebVTT file in content/captions.", "coats.vtt"),
        "poster": _text("A file in content/photos.", "coat-closet.jpg"),
        "runs": _like(_LENGTH, "How long it runs.", "1:35"),
        "described": _text("How the pictures are told to people who do not see them.", "in the narration"),
        "courtesy": _text("By whose courtesy it is shown."),
        "use": _word(USES, "What it is cleared for."),
        "rights_end": _when("Until when it may be shown."),
    }
    offset = {
        "web_offset": _like(
            "-?" + _LENGTH, "What to add to a broadcast time to find it on the web.", "-0:02:10"
        )
    }
    known = (*VIDEO_KEYS, "web_offset") if episode else VIDEO_KEYS
    return _group(known, keys | (offset if episode else {}), "The video.", ("file",))


def _ask() -> Schema:
    contact = _group(
        CONTACT_KEYS,
        {
            "name": _text("Who answers."),
            "phone": _text("Phone number.", "237-555-0142"),
            "email": _like(r"[^@\s]+@[^@\s]+\.[^@\s]+", "E-mail address.", "coats@example.org"),
            "web": _like(_WEB, "Web address.", "https://…"),
            "pick_up": _text("How things are collected from the giver."),
            "ship_to": _text("Where to send things."),
            "languages": _one_or_list(
                {"type": ["string", "null"], "pattern": rf"^\s*(?:{_LANGUAGE}\s*)?$"}, "Languages spoken.", ["en", "es"]
            ),
        },
        "Whom to ask.",
    )  # fmt: skip
    goal = _group(
        GOAL_KEYS,
        {
            "number": _number("How many are wanted.", 0, None, 400),
            "unit": _text("Of what.", "coats"),
            "so_far": _number("How many have come.", 0),
            "last_time": _number("How many came last time.", 0),
            "counted_on": _day("When that was counted."),
        },
        "What is to be reached.",
        ("number",),
    )
    places = _or_blank(
        {"anyOf": [{"$ref": "#/$defs/place"}, {"type": "array", "items": {"$ref": "#/$defs/place"}}]}
    )
    properties = {
        "title": _text("What is asked, in a few words.", "Bring a winter coat"),
        "kind": _word(KINDS, "What a viewer can do."),
        "key": _slugs("A name that stays when the title changes."),
        "starts": _when("When it opens; before, it is shown as coming."),
        "deadline": _like(f"(?:ongoing|{_WHEN})", "The last day, or a date and time; or: ongoing.", "2026-12-15"),
        "check_again_by": _when("With `deadline: ongoing`: when it must be confirmed again."),
        "stopped": _or_blank({"$ref": "#/$defs/stopped"}),
        "dates": _one_or_list(
            {"type": ["string", "null"], "pattern": rf"^\s*(?:{_WHEN}\s*(?:\.\.\.?\s*{_WHEN}\s*)?)?$"},
            "A date, a date and time, a range, or a list.",
            "2026-11-27..2026-12-26",
        ),
        "hours": _hours("When it is open on its dates."),
        "closed": _days("Dates on which it is not open."),
        "quieter": _text("Days on which organizers expect fewer people.", "Mo-Th"),
        "minutes": _number("How long it runs.", 1, MOST_MINUTES),
        "accepts": _texts("What is taken.", ["clean winter coats", "all sizes"]),
        "not_accepted": _texts("What is not.", ["shoes"]),
        "helps": _texts("Counties that benefit; else the story's."),
        "goal": _or_blank(goal),
        "contact": _or_blank(contact),
        "confirmed": _or_blank(
            _group(
                ("date", "with"),
                {"date": _day("When."), "with": _text("With whom.")},
                "When this was last checked. Never published.",
                ("date",),
            )
        ),
        "drop_off": _says(places, "Where to bring things."),
        "where": _says(places, "Where to go."),
        "who_for": _text("For whom.", "anyone, no papers asked"),
        "cost": _text("What it costs.", "free"),
        "bring": _text("What to bring along."),
        "payee": _text("Who receives the money."),
        "goes_to": _word(("organization", "named person"), "To whom the money goes."),
        "registration": _text("The charity's number."),
        "if_too_much": _text("What happens with more than is needed."),
        "desk": _DESK,
    }  # fmt: skip

    def of(*kinds: str) -> Schema:
        return {"properties": {"kind": {"enum": list(kinds)}}, "required": ["kind"]}

    reachable = {"anyOf": [{"required": [key]} for key in ("contact", "drop_off", "where")]}
    return _group(
        ASK_KEYS,
        properties,
        "One thing a viewer can do.",
        ("title", "kind"),
        allOf=[
            {"if": of("bring", "volunteer", "get help"), "then": {"required": ["deadline"], **reachable}},
            {"if": of("give"), "then": {"required": ["deadline"], "anyOf": [{"required": ["payee"]}, {"required": ["contact"]}]}},
            {"if": of("go"), "then": {"required": ["dates"], **reachable}},
            {"if": of("tune in"), "then": {"required": ["dates", "minutes"]}},
            {
                "if": {**of("bring", "volunteer", "get help", "give"), "properties": {
                    "kind": {"enum": ["bring", "volunteer", "get help", "give"]}, "deadline": {"const": "ongoing"}
                }, "required": ["kind", "deadline"]},
                "then": {"required": ["check_again_by"]},
            },
        ],
    )  # fmt: skip


# --- the files -------------------------------------------------------------------------------


def _file(name: str, title: str, schema: Schema, **parts: Schema) -> Schema:
    return {
        "$schema": DIALECT,
        "$id": ID + name,
        "title": title,
        **schema,
        "$defs": {"blank": _BLANK, **parts},
    }


def _station() -> Schema:
    town = _group(
        TOWN_KEYS,
        {
            "name": _text("The town's name.", "Millrace"),
            "position": _POSITION,
            "postal_codes": _texts("Its postal codes, by which viewers find it."),
        },
        "A town.",
        ("name",),
    )
    county = _group(
        COUNTY_KEYS,
        {
            "name": _text("The county's name.", "Tidewick"),
            "key": _slugs("Its address, when two names would share one."),
            "seat": _text("Its seat."),
            "position": _POSITION,
            "towns": _list({"if": {"type": "object"}, "then": town, "else": {"type": ["string", "number", "boolean", "null"]}}, "Its towns."),
        },
        "A county.",
        ("name",),
    )  # fmt: skip
    contact = _group(
        STATION_CONTACT_KEYS,
        {
            "email": _like(r"[^@\s]+@[^@\s]+\.[^@\s]+", "E-mail address."),
            "phone": _text("Phone number."),
            "answers": _hours("When the phone is answered."),
            "mail": _text("Postal address, in one line."),
        },
        "How viewers reach the station.",
        anyOf=[{"required": [key]} for key in ("email", "phone", "mail")],
    )
    properties = {
        "station": _text("The station's name.", "Saltmarsh Community Television"),
        "programme": _text("The weekly segment this archive is for.", "Small Wonders"),
        "address": _like(r"https?://[^/\s?#]+(?:/[^\s?#]*)?", "Where viewers will find the site.", "https://www.example.org/small-wonders/"),
        "time_zone": _like(r"[A-Za-z0-9_+-]+(?:/[A-Za-z0-9_+-]+)*", "An IANA name.", "America/New_York"),
        "language": _like(_LANGUAGE, "BCP 47.", "en-US", "es-MX"),
        "contact": contact,
        "theme": _like(_SLUG, "A theme's folder."),
        "last_days": _number("Days before a deadline in which an ask counts as in its last days.", 0, MOST_DAYS),
        "recheck_days": _number("An open ask must have been confirmed this recently.", 1, MOST_DAYS),
        "area_word": _text("What counties are called here.", "county", "parish", "borough", "district"),
        "media_host": _like(r"https://[A-Za-z0-9.-]+(?::\d+)?/?", "The one other host, asked only when a viewer presses play."),
        "holidays": _days("Ordinary hours on such a day are a concern until someone speaks to them."),
        "as_of": _text("A fixed moment, for a demonstration or a frozen archive."),
        "counties": {
            "description": "The station's area.",
            "type": "array",
            "minItems": 1,
            "items": {"if": {"type": "object"}, "then": county, "else": {"type": ["string", "number", "boolean", "null"]}},
        },
        "map": _text("The map's file, beside station.yaml (GeoJSON, RFC 7946)."),
        "security": _or_blank(
            _group(
                SECURITY_KEYS,
                {"contact": _like(_WEB, "mailto: or https: address."), "expires": _when("Until when this holds.")},
                "What security.txt says (RFC 9116).",
                ("contact", "expires"),
            )
        ),
        "desk": _DESK,
    }  # fmt: skip
    needed = ("station", "programme", "address", "time_zone", "language", "contact", "counties")
    return _file("station", "content/station.yaml", _group(STATION_KEYS, properties, "The station.", needed))


def _story() -> Schema:
    correction = _group(
        CORRECTION_KEYS,
        {
            "date": _day("When."),
            "kind": _word(CorrectionKind, "What it is."),
            "text": _text("What was wrong and what is right."),
        },
        "A change made in the open.",
        ("date", "text"),
    )
    properties = {
        "headline": _text("The headline.", "A library closet wants 400 winter coats"),
        "summary": _text("One sentence that says what happens and who can do what."),
        "aired": _when("When it aired; not needed for a story in an episode's rundown.", "2026-11-21"),
        "county": _texts("One, a list, or: beyond.", "Tidewick"),
        "town": _text("The dateline.", "Millrace"),
        "reporter": _text("Who reported it."),
        "topics": _texts("What it is about.", ["clothing", "libraries"]),
        "embargo": _when("Not before this moment.", "2026-11-21 18:30"),
        "hold": _flag("true: not to be published."),
        "say_on_air": _slugs("The short address the host reads out.", "coats"),
        "heard_as": _slugs("Other spellings that lead there.", ["coat"]),
        "photo": _or_blank(_photo()),
        "video": _or_blank(_video(episode=False)),
        "sponsored_by": _text("Who pays for the segment; said plainly on the page."),
        "language": _like(_LANGUAGE, "Of a story in another language than the station's.", "es"),
        "follows": _text("The earlier story this follows up.", "2025/coat-closet"),
        "translates": _text("The story that this one tells in another language."),
        "old_addresses": _one_or_list(
            {"type": ["string", "null"], "pattern": r"^\s*(?:/[a-z0-9/-]+\s*)?$"},
            "Addresses it had before.",
            ["/old/coats/"],
        ),
        "withdrawn": _or_blank(
            _group(
                ("date", "notice"),
                {
                    "date": _day("From when on."),
                    "notice": _text("What stands at its address."),
                },
                "Taken back.",
                ("date", "notice"),
            )
        ),
        "corrections": _list(correction, "Changes made in the open, with their dates."),
        "desk": _DESK,
        "asks": _list({"$ref": "#/$defs/ask"}, "What a viewer can do, one entry each."),
        "listing": _text("A round-up: a file of content/listings.", "parades-2026.csv"),
    }
    story = _group(
        STORY_KEYS,
        properties,
        "A story's front matter.",
        ("headline",),
        anyOf=[{"required": ["county"]}, {"required": ["town"]}],
    )
    return _file(
        "story", "content/stories/*/*.md, front matter", story, stopped=_stop(), place=_drop_off(), ask=_ask()
    )


def _episode() -> Schema:
    rundown = _group(
        RUNDOWN_KEYS,
        {
            "time": _like(_LENGTH, "When it starts in the broadcast.", "00:00:35"),
            "story": _text("A file of content/stories, without its ending.", "2026/coat-closet"),
        },
        "One story of the show.",
        ("story",),
    )
    promise = _group(
        PROMISE_KEYS,
        {
            "time": _like(_LENGTH, "When it was said.", "00:09:20"),
            "said": _text("In which words.", "the list of places is on our website"),
            "kept_by": _text("The story that keeps it.", "2026/coat-closet"),
        },
        "Something said on air that the site must hold. Never published.",
        ("said",),
    )
    each = {"type": ["string", "null"], "pattern": rf"^\s*(?:{_WHEN}\s*)?$"}
    properties = {
        "aired": _when("When it airs.", "2026-11-21 18:30"),
        "repeats": _one_or_list(each, "When it is shown again.", ["2026-11-22 09:00"]),
        "hold": _flag("true: a show that does not air as planned holds its stories with it."),
        "title": _text("What it is called."),
        "video": _or_blank(_video(episode=True)),
        "rundown": _list(rundown, "Its stories, in the order of the show."),
        "promises": _list(promise, "What was promised on air."),
        "desk": _DESK,
    }
    return _file(
        "episode",
        "content/episodes/*.md, front matter",
        _group(EPISODE_KEYS, properties, "An episode's front matter.", ("aired",)),
    )


def _place() -> Schema:
    place = _group(PLACE_KEYS, _place_keys(), "A shared place.", _PLACE_NEEDS)
    return _file("place", "content/places/*.yaml", place)


def _page() -> Schema:
    properties = {
        "title": _text("The page's title.", "About us"),
        "summary": _text("What it says, in one sentence."),
        "language": _like(_LANGUAGE, "Of a page in another language than the station's."),
        "desk": _DESK,
    }
    page = _group(PAGE_KEYS, properties, "A station page's front matter.", ("title",))
    return _file("page", "content/pages/*.md, front matter", page)


def _listing() -> Schema:
    said = {
        "what": "What happens.",
        "town": "In which town.",
        "county": "In which county, as station.yaml has it.",
        "date": "On which day: 2026-12-05.",
        "starts": "From what time: 18:30. May be empty.",
        "ends": "Until when; a time before `starts` is on the next day. May be empty.",
        "place": "Where in the town. May be empty.",
        "note": "What else to know. May be empty.",
        "stopped": "Called off or moved: words, which count from the start, or a date (and time) and words.",
    }
    row = _group(
        COLUMNS, {name: {"type": "string", "description": words} for name, words in said.items()}, "One row.", NEEDED
    )  # fmt: skip
    return _file("listing", "content/listings/*.csv: one row by its columns", row)


_FILES = {
    "station": _station,
    "story": _story,
    "episode": _episode,
    "place": _place,
    "page": _page,
    "listing": _listing,
}
NAMES = tuple(_FILES)
"""What there are schemas of."""


def schema_of(name: str) -> Schema:
    """The schema of one kind of file; `name` is one of `NAMES`. That of a listing describes a row, and is for people."""
    return _FILES[name]()


def schema_text(name: str) -> str:
    """The same as the text of a file."""
    return json.dumps(schema_of(name), ensure_ascii=False, indent=1) + "\n"
