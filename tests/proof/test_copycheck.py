"""Each check of the copy speaks of the record that is wrong, and of nothing else in a record that is right."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import pytest

from sitegen.newsroom.keeping import NoDrawer
from sitegen.newsroom.records import Weight
from sitegen.proof.copycheck import CHECKS, check_copy
from sitegen.proof.copychecks.base import CopyCheck, lay_out
from sitegen.proof.copychecks.outliving import text_outlives_ask, withheld_address
from sitegen.proof.copychecks.pasted import left_in_text
from sitegen.proof.copychecks.wording import relative_time, weekday_mismatch
from tests.samples.checked_copy import AS_OF, PLACE, STATION, ask, check, checks, moment, newsroom, story

TRIED_ELSEWHERE: set[CopyCheck] = {
    text_outlives_ask,
    withheld_address,
    relative_time,
    weekday_mismatch,
    left_in_text,
}
"""In the tests of what texts say."""
STORY = "stories/2026/coats.md"
LATER = "stories/2026/later.md"
ROWS, COLUMNS = "listings/parades.csv", "what,town,county,date\n"
LONG = "The closet stands between the large-print shelf and the furnace room."
ANNEX = "places/annex.yaml"
AGAIN = "stories/2026/abrigos.md"
EPISODE = "episodes/2026-11-21.md"
HALL = "places/lowgate-hall.yaml"
VIDEO = '{file: "https://video.example.com/show.mp4", captions: show.vtt}'
CAPTIONS = "WEBVTT\n\n00:01.000 --> 00:02.000\nHello.\n"


def told(*asks: str, **keys: str) -> dict[str, str]:
    """A story with some asks, and with some keys of its own."""
    return {STORY: story("\n".join(f"{key}: {value}" for key, value in keys.items()), asks="".join(asks))}


def two_words(first: str, second: str, more: str = "") -> dict[str, str]:
    """Two stories with a word each; the second aired a day later."""
    return {
        STORY: story(f"say_on_air: {first}"),
        LATER: story(f"aired: 2026-11-22\nsay_on_air: {second}\n{more}"),
    }


def hall(*lines: str, without: str = "") -> dict[str, str]:
    """The shared place with more lines, and without the line that begins with a word."""
    kept = [line for line in PLACE.splitlines() if not without or not line.startswith(without)]
    return {HALL: "\n".join([*kept, *lines]) + "\n"}


def aired(more: str, episode: str = EPISODE) -> dict[str, str]:
    return {episode: f"---\naired: 2026-11-21 18:30\nrundown: [{{story: 2026/coats}}]\n{more}\n---\n"}


def at_hall(**keys: str) -> str:
    return "[{place: lowgate-hall, " + ", ".join(f"{key}: {value}" for key, value in keys.items()) + "}]"


def inline(**keys: str) -> str:
    place = {"name": "Bakery", "town": "Lowgate", "county": "Heron Flats", "hours": '"Mo-Fr 09:00-17:00"'}
    place |= {"position": "[34.5, -60.5]", "closed": "[2026-12-25]"}
    return "[{" + ", ".join(f"{key.rstrip('_')}: {value}" for key, value in (place | keys).items()) + "}]"


def told_again(*asks: str, first: str = "", more: str = "") -> dict[str, str]:
    """The story with an ask, and the same in Spanish with other ones."""
    again = story(f"language: es\ntranslates: 2026/coats\n{more}", asks="".join(asks))
    return told(first or ask()) | {AGAIN: again}


def two_asks_at(first: str, second: str) -> dict[str, str]:
    """Two stories, each with an ask and its places."""
    return {STORY: story(asks=ask(drop_off=first)), LATER: story(asks=ask(drop_off=second))}


LAST_YEAR = story(
    "aired: 2025-11-22",
    asks=ask(deadline="2025-12-15", confirmed=None, goal="{number: 300, unit: coats, so_far: 210}"),
)
DAILY_BAKERY = inline(hours='"Mo-Su 09:00-17:00"')[1:-1]


@dataclass(frozen=True)
class Case:
    check: str
    wrong: dict[str, str]
    right: dict[str, str]
    says: str
    """Something the message or what to write instead must hold."""
    at: tuple[str, str]
    """(file, text on the line it points at)"""
    as_of: str = AS_OF
    station: str = STATION
    right_station: str = ""
    weight: Weight = Weight.CONCERN
    files: dict[str, str] = field(default_factory=dict)
    """In both."""


GIVE = {
    "kind": "give",
    "drop_off": None,
    "payee": "Friends of Lowgate",
    "goes_to": "organization",
    "if_too_much": "goes on",
}
GO = {"kind": "go", "deadline": None, "drop_off": None, "where": "[lowgate-hall]", "title": "See the lights"}
HELP = {"kind": "get help", "drop_off": None}
NIGHTS = inline(hours='"Fr 20:00-02:00"')
GO_NIGHTS = {key: value for key, value in GO.items() if key != "where"} | {
    "dates": "2026-12-10..2026-12-11",
    "hours": '"Mo-Su 20:00-01:00"',
}

CASES = [
    # --- an ask against its dates and doors
    Case("deadline-before-air", told(ask(deadline="2025-12-15")), told(ask()), "2025", (STORY, "deadline")),
    Case(
        "deadline-before-air",
        told(ask(**GO, dates="2026-11-20 19:00")),
        told(ask(**GO, dates="2026-11-27 10:00")),
        "November 20",
        (STORY, "dates"),
    ),
    Case(
        "deadline-before-air",
        told(ask(kind="tune in", deadline=None, drop_off=None, dates="2026-11-20 19:00", minutes="60")),
        told(ask(kind="tune in", deadline=None, drop_off=None, dates="2026-11-21 19:00", minutes="60")),
        "8 p.m.",
        (STORY, "dates"),
    ),
    Case(
        "deadline-far-off",
        told(ask(deadline="2027-12-15")),
        told(ask(deadline="2027-11-19")),
        "2027",
        (STORY, "deadline"),
    ),
    Case(
        "deadline-far-off",
        told(ask(**GO, dates="[2026-11-27 10:00, 2027-12-01 10:00]")),
        told(ask(**GO, dates="[2026-11-27 10:00, 2027-11-19 10:00]")),
        "2027",
        (STORY, "dates"),
    ),
    Case(
        "starts-after-deadline",
        told(ask(starts="2026-12-16")),
        told(ask(starts="2026-12-15")),
        "December 16",
        (STORY, "starts"),
    ),
    Case(
        "midnight-end",
        told(ask(deadline="2026-12-15 00:00")),
        told(ask(deadline="2026-12-14")),
        "deadline: 2026-12-15 to count that day to its end, or deadline: 2026-12-14",
        (STORY, "deadline"),
    ),
    Case(  # Over by one reading, and not by the other.
        "midnight-end",
        told(ask(deadline="2026-12-15 00:00"), aired="2026-11-21"),
        told(ask(deadline="2026-12-15 00:01")),
        "Monday, December 14, 2026",
        (STORY, "deadline"),
        as_of="2026-12-15 09:00",
    ),
    Case(
        "midnight-end",
        told(ask(drop_off=at_hall(until="2026-12-12 00:00"))),
        told(ask(drop_off=at_hall(until="2026-12-11"))),
        "until: 2026-12-12",
        (STORY, "until"),
    ),
    Case(
        "until-before-start",
        told(ask(drop_off=at_hall(**{"from": "2026-12-02", "until": "2026-12-01"}))),
        told(ask(drop_off=at_hall(**{"from": "2026-12-01", "until": "2026-12-01"}))),
        "'until' comes before its 'from'",
        (STORY, "until"),
    ),
    Case(
        "until-before-start",
        told(ask(starts="2026-12-02", drop_off=at_hall(until="2026-12-01"))),
        told(ask(starts="2026-12-01", drop_off=at_hall(until="2026-12-01"))),
        "before the ask begins",
        (STORY, "until"),
    ),
    Case(
        "until-before-start",
        told(ask(drop_off=at_hall(**{"from": "2026-12-16"}))),
        told(ask(drop_off=at_hall(**{"from": "2026-12-15"}))),
        "when the ask is over",
        (STORY, "from"),
    ),
    Case(
        "never-open",
        told(ask(drop_off=at_hall(**{"from": "2026-11-28", "until": "2026-11-29"}))),
        told(ask(drop_off=at_hall(**{"from": "2026-11-27", "until": "2026-11-29"}))),
        "Mo-Fr 09:00-17:00",
        (STORY, "place: lowgate-hall"),
    ),
    Case(  # Open before the story is published, and not after.
        "never-open",
        told(ask(drop_off=at_hall(until="2026-11-22"))),
        told(ask(drop_off=at_hall(until="2026-11-23"))),
        "November 20",
        (STORY, "place: lowgate-hall"),
    ),
    Case(
        "never-open",
        told(ask(**GO, dates="2026-11-28..2026-11-29")),
        told(ask(**GO, dates="2026-11-27..2026-11-29")),
        "on the event's dates",
        (STORY, "where"),
    ),
    Case(
        "event-never-open",
        told(ask(**GO, dates="2026-11-28..2026-11-29", hours='"Mo-Fr 17:00-20:00"')),
        told(ask(**GO, dates="2026-11-27..2026-11-29", hours='"Mo-Fr 17:00-20:00"')),
        "fall on none of its dates",
        (STORY, "hours"),
    ),
    Case(  # December 13 is a Sunday.
        "deadline-outlives-doors",
        told(ask(deadline="2026-12-13")),
        told(ask(deadline="2026-12-11")),
        "2026-12-11 17:00",
        (STORY, "deadline"),
    ),
    Case(
        "deadline-outlives-doors",
        told(ask(deadline="2026-12-11 18:00")),
        told(ask(deadline="2026-12-11 17:00")),
        "5 p.m.",
        (STORY, "deadline"),
    ),
    Case(
        "deadline-outlives-doors",
        told(ask(deadline="2026-12-13", drop_off=f"[lowgate-hall, {DAILY_BAKERY}]")),
        told(
            ask(
                deadline="2026-12-13",
                drop_off=f"[{{place: lowgate-hall, until: 2026-12-11}}, {DAILY_BAKERY}]",
            )
        ),
        "Lowgate Hall",
        (STORY, "deadline"),
    ),
    Case(  # December 11 is a Friday.
        "night-cut-short",
        told(ask(deadline="2026-12-11", drop_off=NIGHTS)),
        told(ask(deadline="2026-12-12 02:00", drop_off=NIGHTS)),
        "The night of Friday, December 11, 2026",
        (STORY, "deadline"),
    ),
    Case(
        "night-cut-short",
        told(ask(drop_off=inline(hours='"Fr 20:00-02:00"', until="2026-12-11"))),
        told(ask(drop_off=inline(hours='"Fr 20:00-02:00"', until='"2026-12-12 02:00"'))),
        "until: 2026-12-12 02:00",
        (STORY, "until"),
    ),
    Case(
        "night-cut-short",
        told(ask(**GO_NIGHTS, where=at_hall(until="2026-12-11"))),
        told(ask(**GO_NIGHTS, where="[lowgate-hall]")),
        "until: 2026-12-12 01:00",
        (STORY, "until"),
    ),
    Case(
        "holiday-hours",
        told(ask(deadline="2026-12-28")) | hall(without="closed"),
        told(ask(deadline="2026-12-28")) | hall(),
        "closed: [2026-12-25]",
        (HALL, "hours"),
    ),
    Case(
        "holiday-hours",
        told(ask(deadline="2026-12-28", drop_off=inline(closed="[]"))),
        told(
            ask(
                deadline="2026-12-28",
                drop_off=inline(closed="[]", special_hours='{2026-12-25: "10:00-12:00"}'),
            )
        ),
        "Bakery",
        (STORY, "hours"),
    ),
    Case(
        "holiday-hours",
        told(ask(**GO, dates="2026-12-20..2026-12-28", hours='"Mo-Su 17:00-21:00"')) | hall(without="closed"),
        told(ask(**GO, dates="[2026-12-20..2026-12-24, 2026-12-25]", hours='"Mo-Su 17:00-21:00"'))
        | hall(without="closed"),
        "name that day by itself",
        (STORY, "hours"),
    ),
    Case(
        "repeat-after-deadline",
        aired("repeats: [2026-11-22 09:00, 2026-11-29 09:00]") | told(ask(deadline="2026-11-27")),
        aired("repeats: [2026-11-22 09:00, 2026-11-29 09:00]") | told(ask(deadline="2026-12-04")),
        "November 29, 2026, 9 a.m.",
        (EPISODE, "repeats"),
    ),
    Case(  # Over already, and the repeat is still to come.
        "repeat-after-deadline",
        aired("repeats: [2026-11-29 09:00]") | told(ask(stopped="{when: 2026-11-22 12:00, say: It is full}")),
        aired("repeats: [2026-11-22 09:00]") | told(ask(stopped="{when: 2026-11-22 12:00, say: It is full}")),
        "November 22",
        (EPISODE, "repeats"),
    ),
    Case(
        "deadline-before-air",
        told(listing="parades.csv") | {ROWS: f"{COLUMNS}Boats,Lowgate,Heron Flats,2025-12-05\n"},
        told(listing="parades.csv") | {ROWS: f"{COLUMNS}Boats,Lowgate,Heron Flats,2026-11-21\n"},
        "'Boats' in Lowgate",
        (ROWS, "Boats"),
    ),
    Case(  # The show was moved by a day.
        "aired-otherwise",
        told(ask()) | {EPISODE: "---\naired: 2026-11-22 18:30\nrundown: [{story: 2026/coats}]\n---\n"},
        told(ask(), aired="2026-11-22")
        | {EPISODE: "---\naired: 2026-11-22 18:30\nrundown: [{story: 2026/coats}]\n---\n"},
        "aired: 2026-11-22",
        (STORY, "aired"),
    ),
    Case(  # Shown again in a later programme.
        "aired-otherwise",
        told(ask(), aired="2026-11-20") | aired(""),
        told(ask(), aired="2026-11-20")
        | aired("")
        | {"episodes/2026-11-20.md": "---\naired: 2026-11-20\nrundown: [{story: 2026/coats}]\n---\n"},
        "Friday, November 20, 2026",
        (STORY, "aired"),
    ),
    Case(
        "text-copied",
        {STORY: story(body=LONG), LATER: story("aired: 2026-11-22", body=f"{LONG}\n")},
        {STORY: story(body=LONG), LATER: story("aired: 2026-11-22", body=f"{LONG} More.")},
        "that of 2026/coats",
        (LATER, LONG[:20]),
    ),
    Case(  # The older one is no copy, whatever their names.
        "text-copied",
        {STORY: story(f"aired: 2026-11-22\nsummary: {LONG}"), LATER: story(f"summary: {LONG}")},
        {STORY: story(f"aired: 2026-11-22\nsummary: {LONG}"), LATER: story(f"summary: {LONG}\nhold: true")},
        "that of 2026/later",
        (STORY, "summary"),
    ),
    # --- one place written twice
    Case(  # In two files, whether or not they say the same.
        "place-twice",
        hall() | {ANNEX: PLACE.replace("name: Lowgate Hall", "name: The Hall").replace("Lane", "Ln.")},
        hall()
        | {
            ANNEX: PLACE.replace("name: Lowgate Hall", "name: The Hall").replace("4 Pier Lane", "6 Pier Lane")
        },
        "content/places/annex.yaml",
        (HALL, "hours"),
    ),
    Case(
        "place-twice",
        told(ask(drop_off=inline(name="Hall", hours='"Mo-Fr 09:00-19:00"'))),
        told(ask(drop_off=inline(name="Hall", hours='"Mo-Fr 09:00-17:00"'))),
        "{place: lowgate-hall}",
        (STORY, "hours"),
    ),
    Case(
        "place-twice",
        told(
            ask(), ask(title="Sort", drop_off=inline(name="Lowgate Hall", closed="[2026-12-14, 2026-12-25]"))
        ),
        told(
            ask(), ask(title="Sort", drop_off=inline(name="Lowgate Hall", closed="[2026-11-20, 2026-12-25]"))
        ),
        "differ on Monday, December 14, 2026",
        (STORY, "hours"),
    ),
    Case(
        "place-twice",
        two_asks_at(inline(), inline(name="The Bakery", hours='"Mo-Fr 09:00-16:00"')),
        two_asks_at(inline(), inline(name="The Bakery")),
        "'Bring a coat' of 2026/coats",
        (LATER, "hours"),
    ),
    Case(
        "place-twice",
        two_asks_at(inline(), inline(hours='"Mo-Fr 09:00-16:00"')),
        two_asks_at(
            inline(),
            inline(
                hours='"Mo-Fr 09:00-16:00"', town="Sandy End", county="Gull Bank", position="[35.2, -61.3]"
            ),
        ),
        "Ask which hours hold",
        (LATER, "hours"),
    ),
    # --- a story against the one that it tells in another language
    Case(
        "translation-alone",
        told_again(ask()) | told(ask(), hold="true"),
        told_again(ask(), more="hold: true") | told(ask(), hold="true"),
        "2026/coats is on hold",
        (AGAIN, "translates"),
    ),
    Case(
        "translation-alone",
        told_again(ask()) | told(ask(), withdrawn="{date: 2026-11-22, notice: Gone.}"),
        told_again(ask()) | told(ask()),
        "Withdraw this one too",
        (AGAIN, "translates"),
    ),
    Case(  # Out a day before the one that it tells.
        "translation-alone",
        told_again(ask(), more="embargo: 2026-11-25") | told(ask(), embargo="2026-11-26"),
        told_again(ask(), more="embargo: 2026-11-26") | told(ask(), embargo="2026-11-26"),
        "will be published all the same",
        (AGAIN, "translates"),
    ),
    Case(
        "translation-differs",
        told_again(ask(deadline="2026-12-14")),
        told_again(ask(deadline="2026-12-15")),
        "(the end of Monday, December 14, 2026) than",
        (AGAIN, "deadline"),
    ),
    Case(
        "translation-differs",
        told_again(ask(), first=ask(stopped="{when: 2026-11-22, say: It is full}")),
        told_again(
            ask(stopped="{when: 2026-11-22, say: Lleno}"),
            first=ask(stopped="{when: 2026-11-22, say: It is full}"),
        ),
        "is stopped",
        (AGAIN, "deadline"),
    ),
    Case(
        "translation-differs",
        told_again(ask(starts="2026-12-01")),
        told_again(ask(starts="2026-12-01"), first=ask(starts="2026-12-01")),
        "begins Tuesday, December 1, 2026",
        (AGAIN, "starts"),
    ),
    Case(
        "translation-differs",
        told_again(ask(contact="{name: Amigos, phone: 237-555-0143}")),
        told_again(ask(contact="{name: Amigos, phone: +1 237 555 0142}")),
        "237-555-0143",
        (AGAIN, "contact"),
    ),
    Case(
        "translation-differs",
        told_again(ask(drop_off=f"[lowgate-hall, {DAILY_BAKERY}]")),
        told_again(
            ask(drop_off=f"[lowgate-hall, {DAILY_BAKERY}]"),
            first=ask(drop_off=f"[{DAILY_BAKERY}, lowgate-hall]"),
        ),
        "has 2 places open",
        (AGAIN, "drop_off"),
    ),
    Case(
        "translation-differs",
        told_again(ask(drop_off=at_hall(until="2026-12-11"))),
        told_again(
            ask(drop_off=at_hall(until="2026-12-11")), first=ask(drop_off=at_hall(until="2026-12-11"))
        ),
        "shuts for the last time",
        (AGAIN, "drop_off"),
    ),
    # --- an ask against the people behind it
    Case(
        "unconfirmed",
        told(ask(confirmed="{date: 2026-11-15, with: Ida Moss}")),
        told(ask(confirmed="{date: 2026-11-16, with: Ida Moss}")),
        "Ida Moss (237-555-0142)",
        (STORY, "confirmed"),
    ),
    Case(
        "unconfirmed",
        told(ask(confirmed=None)),
        told(ask(confirmed=None, starts="2026-12-01")),
        "Friends of Lowgate",
        (STORY, "title"),
    ),
    Case(  # Published in two days; and in ten, when there is time to call.
        "unconfirmed",
        told(ask(confirmed=None), embargo="2026-11-25"),
        told(ask(confirmed=None), embargo="2026-12-03"),
        "nobody has confirmed",
        (STORY, "title"),
    ),
    Case(
        "confirmed-ahead",
        told(ask(confirmed="{date: 2026-11-24, with: Ida Moss}")),
        told(ask(confirmed="{date: 2026-11-23, with: Ida Moss}")),
        "November 23, 2026 at the latest",
        (STORY, "confirmed"),
    ),
    Case(
        "check-again-soon",
        told(ask(deadline="ongoing", check_again_by="2026-11-29")),
        told(ask(deadline="ongoing", check_again_by="2026-11-30")),
        "November 29",
        (STORY, "check_again_by"),
    ),
    Case(
        "named-person",
        told(ask(**GIVE | {"goes_to": "named person"})),
        told(ask(**GIVE)),
        "local law",
        (STORY, "goes_to"),
    ),
    Case(
        "goes-to-missing",
        told(ask(**GIVE | {"goes_to": None})),
        told(ask(**GIVE)),
        "goes_to: organization",
        (STORY, "payee"),
    ),
    Case(
        "too-much-missing",
        told(ask(**GIVE | {"if_too_much": None})),
        told(ask(**GIVE)),
        "if_too_much:",
        (STORY, "title"),
    ),
    Case(
        "help-phone-only",
        told(ask(**HELP, contact="{phone: 237-555-0142}")),
        told(ask(**HELP, contact="{phone: 237-555-0142, email: help@example.org}")),
        "another way",
        (STORY, "contact"),
    ),
    Case(
        "help-phone-only",
        told(ask(**HELP, contact="{phone: 237-555-0142}")),
        told(ask(**HELP, where="[lowgate-hall]", contact="{phone: 237-555-0142}")),
        "another way",
        (STORY, "contact"),
    ),
    Case(
        "phone-length",
        told(ask(contact="{name: Ida Moss, phone: 237-555-014}")),
        told(ask(contact="{name: Ida Moss, phone: +44 20 7946 0142}")),
        "9 digits",
        (STORY, "contact"),
    ),
    Case(
        "phone-length",
        told(ask(contact="{name: Ida Moss, phone: 237-555-01422}")),
        told(ask(contact="{name: Ida Moss, phone: 237-555-0142 ext. 2}")),
        "11 digits",
        (STORY, "contact"),
    ),
    Case(
        "contact-unreachable",
        told(ask(contact="{name: Ida Moss}")),
        told(ask(contact="{name: Ida Moss, phone: 237-555-0142}")),
        "Ida Moss",
        (STORY, "contact"),
    ),
    Case(
        "contact-unreachable",
        told(ask(**GIVE | {"contact": None})),
        told(ask(**GIVE | {"contact": None, "where": "[lowgate-hall]"})),
        "no way to give",
        (STORY, "payee"),
    ),
    Case(
        "unknown-hours-no-phone",
        told(ask(contact="{email: coats@example.org}", drop_off=inline(hours="by appointment"))),
        told(
            ask(
                contact="{email: coats@example.org}",
                drop_off=inline(hours="by appointment", phone="237-555-0155"),
            )
        ),
        "by appointment",
        (STORY, "Bakery"),
    ),
    Case(
        "unknown-hours-no-phone",
        told(ask(contact="{email: coats@example.org}", drop_off=inline(hours="unknown"))),
        told(ask(drop_off=inline(hours="unknown"))),
        "not known",
        (STORY, "Bakery"),
    ),
    Case(
        "goal-passed",
        told(ask(goal="{number: 400, unit: coats, so_far: 400}")),
        told(ask(goal="{number: 400, unit: coats, so_far: 399}")),
        "400 of 400 coats",
        (STORY, "goal"),
    ),
    # --- places on the map
    Case(
        "swapped-position",
        hall("position: [-60.52, 34.51]", without="position"),
        hall(),
        "[34.51, -60.52]",
        (HALL, "position"),
    ),
    Case(
        "swapped-position",
        told(ask(drop_off=inline(position="[-60.5, 34.5]"))),
        told(ask(drop_off=inline(position="[34.5, -60.5]"))),
        "[34.5, -60.5]",
        (STORY, "position"),
    ),
    Case(
        "far-position",
        hall("position: [34.51, 60.52]", without="position"),
        hall(),
        "minus sign",
        (HALL, "position"),
    ),
    Case(
        "far-position",
        hall("position: [36.0, -60.52]", without="position"),
        hall("position: [35.7, -60.52]", without="position"),
        "from Lowgate",
        (HALL, "position"),
    ),
    Case(
        "place-without-position",
        told(ask()) | hall(without="position"),
        told(ask()) | hall(),
        "middle of Lowgate",
        (HALL, "town"),
    ),
    Case(
        "place-without-position",
        told(ask(drop_off=inline(position="null", town="Far Row"))),
        told(ask(drop_off=inline(town="Far Row"))),
        "neither has Far Row",
        (STORY, "town"),
    ),
    Case(
        "home-address",
        told(ask()) | hall("home: {consent: 2026-11-01}"),
        told(ask()) | hall("home: {consent: 2026-11-01}", "address: withheld"),
        "private home",
        (HALL, "street"),
    ),
    Case(
        "town-without-position",
        {},
        {},
        "Sandy End",
        ("station.yaml", "name: Heron Flats"),
        station=STATION.replace("{name: Sandy End, position: [35.2, -61.3]}", "Sandy End"),
        right_station=STATION,
    ),
    # --- episodes and stories
    Case(
        "promise-unkept",
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(embargo="2026-11-24"),
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(),
        "PROMISED ON AIR",
        (EPISODE, "kept_by"),
    ),
    Case(
        "promise-unkept",
        aired("promises: [{said: more is on our website}]") | told(),
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(),
        "nothing keeps it",
        (EPISODE, "said"),
    ),
    Case(
        "promise-unkept",
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]")
        | told(withdrawn="{date: 2026-11-22, notice: Taken down}"),
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(),
        "is withdrawn",
        (EPISODE, "kept_by"),
    ),
    Case(  # Before it is said, there is time.
        "promise-unkept",
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(hold="true"),
        aired("promises: [{said: more is on our website, kept_by: 2026/coats}]") | told(),
        "will be said on air",
        (EPISODE, "kept_by"),
        as_of="2026-11-20",
    ),
    Case(  # Released at 18:40, while the promise is made at 18:35.
        "promise-unkept",
        aired('promises: [{time: "00:05:00", said: more on our website, kept_by: 2026/coats}]')
        | told(embargo="2026-11-21 18:40"),
        aired('promises: [{time: "00:10:00", said: more on our website, kept_by: 2026/coats}]')
        | told(embargo="2026-11-21 18:40"),
        "2026/coats is not published before",
        (EPISODE, "kept_by"),
        as_of="2026-11-21 12:00",
    ),
    Case(  # An episode's own name stands for all its stories.
        "promise-unkept",
        aired("promises: [{said: everything is on our website, kept_by: 2026-11-21}]") | told(hold="true"),
        aired("promises: [{said: everything is on our website, kept_by: 2026-11-21}]") | told(),
        "2026/coats is on hold",
        (EPISODE, "kept_by"),
    ),
    Case(
        "promise-places-missing",
        aired("promises: [{said: the list of drop-off places is on our website, kept_by: 2026/coats}]")
        | told(ask(drop_off=None)),
        aired("promises: [{said: the list of drop-off places is on our website, kept_by: 2026/coats}]")
        | told(ask()),
        "lists no place",
        (EPISODE, "said"),
    ),
    Case(
        "promise-places-missing",
        aired("promises: [{said: all three locations are on our website, kept_by: 2026/coats}]")
        | told(ask(drop_off=f"[lowgate-hall, {DAILY_BAKERY}]")),
        aired("promises: [{said: both locations are on our website, kept_by: 2026/coats}]")
        | told(ask(drop_off=f"[lowgate-hall, {DAILY_BAKERY}]")),
        "That is 3, and 2026/coats lists 2",
        (EPISODE, "said"),
    ),
    Case(
        "promise-facts-missing",
        aired('promises: [{said: "The phone number\'s on our site", kept_by: 2026/coats}]')
        | told(ask(drop_off=None, contact="{name: The Friends, email: coats@example.org}")),
        aired('promises: [{said: "The phone number\'s on our site", kept_by: 2026/coats}]')
        | told(ask(drop_off=None, contact="{name: The Friends, phone: 237-555-0142}")),
        "has no phone number",
        (EPISODE, "said"),
    ),
    Case(
        "promise-facts-missing",
        aired("promises: [{said: The address is on your screen, kept_by: 2026/coats}]") | told(),
        aired("promises: [{said: The address is on your screen, kept_by: 2026/coats}]") | told(ask()),
        "has no address",
        (EPISODE, "said"),
    ),
    Case(
        "promise-facts-missing",
        aired("promises: [{said: 'every date, time and street is on our website', kept_by: 2026/coats}]")
        | told(),
        aired("promises: [{said: 'every date, time and street is on our website', kept_by: 2026/coats}]")
        | told(ask()),
        "has no date",
        (EPISODE, "said"),
    ),
    Case(
        "promise-facts-missing",
        aired("promises: [{said: the full list is on our website, kept_by: 2026/coats}]") | told(),
        aired("promises: [{said: the full list is on our website, kept_by: 2026/coats}]") | told(ask()),
        "has no list",
        (EPISODE, "said"),
    ),
    Case(
        "weekday-mismatch",
        aired('promises: [{said: "come Friday, December 22, it is all on our website", kept_by: 2026/coats}]')
        | told(),
        aired(
            'promises: [{said: "come Tuesday, December 22, it is all on our website", kept_by: 2026/coats}]'
        )
        | told(),
        "is a Tuesday",
        (EPISODE, "said"),
    ),
    Case(
        "last-time-differs",
        told(ask(goal="{number: 400, unit: coats, last_time: 200}"), follows="2025/coats")
        | {"stories/2025/coats.md": LAST_YEAR},
        told(ask(goal="{number: 400, unit: coats, last_time: 210}"), follows="2025/coats")
        | {"stories/2025/coats.md": LAST_YEAR},
        "came to 210",
        (STORY, "goal"),
    ),
    Case(
        "episode-stories-waiting",
        aired(f"video: {VIDEO}") | told(hold="true"),
        aired(f"video: {VIDEO}") | told(),
        "2026/coats is on hold",
        (EPISODE, "video"),
        files={"captions/show.vtt": CAPTIONS},
    ),
    Case(
        "nothing-to-read",
        {STORY: story(body="")},
        {STORY: story(body="", asks=ask())},
        "headline alone",
        (STORY, "headline"),
    ),
    Case(
        "headline-as-spoken",
        {
            STORY: story(
                body="And so, Tess has the best of all dentists here. Hello.",
                headline="Tess has the best of all dentists here",
            )
        },
        {
            STORY: story(
                body="Tess says she has the best of all dentists here.",
                headline="Tess has the best of all dentists here",
            )
        },
        "word for word",
        (STORY, "headline"),
    ),
    Case(
        "story-folder-year",
        told(aired="2025-11-21"),
        told(aired="2026-11-21"),
        "old_addresses: [/stories/2026/coats/]",
        (STORY, "aired"),
    ),
    Case(
        "future-correction",
        told(corrections='[{date: 2026-11-24, kind: correction, text: "It was six."}]'),
        told(corrections='[{date: 2026-11-23, kind: correction, text: "It was six."}]'),
        "2026-11-23",
        (STORY, "corrections"),
    ),
    Case(
        "future-withdrawal",
        told(withdrawn="{date: 2026-11-24, notice: Taken down}"),
        told(withdrawn="{date: 2026-11-23, notice: Taken down}"),
        "2026-11-23",
        (STORY, "withdrawn"),
    ),
    Case(
        "ended-rights",
        told(video=VIDEO.replace("}", ", rights_end: 2026-11-22}")),
        told(video=VIDEO.replace("}", ", rights_end: 2026-11-23}")),
        "November 22",
        (STORY, "rights_end"),
        files={"captions/show.vtt": CAPTIONS},
    ),
    Case(
        "word-hard-to-say",
        told(say_on_air="warm-coats"),
        told(say_on_air="coats"),
        "hyphen",
        (STORY, "say_on_air"),
    ),
    Case(
        "word-hard-to-say",
        told(say_on_air="coats4all"),
        told(say_on_air="coats"),
        "digit",
        (STORY, "say_on_air"),
    ),
    Case(
        "word-hard-to-say",
        told(say_on_air="thirteenlette"),
        told(say_on_air="twelveletter"),
        "13 letters",
        (STORY, "say_on_air"),
    ),
    Case(
        "word-sounds-like-another",
        two_words("sale", "sail"),
        two_words("sale", "pies"),
        "sounds like 'sale'",
        (LATER, "say_on_air"),
    ),
    Case(
        "security-expired",
        {},
        {},
        "out of date",
        ("station.yaml", "security"),
        station=STATION + "security: {contact: 'mailto:a@example.org', expires: 2026-11-23}\n",
        right_station=STATION + "security: {contact: 'mailto:a@example.org', expires: 2026-11-24}\n",
    ),
    Case(
        "fixed-moment",
        {},
        {},
        "STANDS STILL",
        ("station.yaml", "as_of"),
        station=STATION + "as_of: 2026-11-23 12:00\n",
        right_station=STATION,
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[f"{case.check}-{number}" for number, case in enumerate(CASES)])
def test_a_check_speaks_of_what_is_wrong_and_only_of_that(case: Case, tmp_path: Path) -> None:
    found = check(tmp_path / "wrong", case.wrong | case.files, case.as_of, case.station)
    assert checks(found) == [case.check], found
    finding = found[0]
    assert finding.weight is case.weight
    assert case.says in f"{finding.message} {finding.instead}"
    assert finding.instead
    path, words = case.at
    assert finding.spot.path == f"content/{path}"
    lines = (tmp_path / "wrong" / "content" / path).read_text("utf-8").splitlines()
    assert words in lines[finding.spot.line - 1]
    right = check(tmp_path / "right", case.right | case.files, case.as_of, case.right_station or case.station)
    assert right == []


@pytest.mark.parametrize(
    ("said", "body"),
    [
        ("The phone number is on our website", "Call the Friends, 237-555-0142."),
        ("The phone number is on our website", "To ask, dial 211."),
        ("The address is on your screen", "Come to 4 Pier Lane."),
        ("The address is on your screen", "Write to desk@example.com."),
        ("The email address is on our website", "Nothing of the kind."),
        ("We have every date on our website", "They sail on Saturdays."),
        ("The full list is on our website", "- coats\n- hats"),
        ("The full list is on our website", "They need coats, hats and gloves."),
        ("The full list is on our website", "[It is here](https://example.org/list)."),
        ("We list it on our website, and you can date it yourself", "Nothing of the kind."),
        ("Everything is on our website", "Nothing of the kind."),
    ],
)
def test_a_promise_of_which_the_page_may_have_something_is_taken_as_kept(
    said: str, body: str, tmp_path: Path
) -> None:
    files = aired(f'promises: [{{said: "{said}", kept_by: 2026/coats}}]') | {STORY: story(body=body)}
    assert "promise-facts-missing" not in checks(check(tmp_path, files))


def test_every_check_is_tried(tmp_path: Path) -> None:
    """A check that no case here makes speak could be dead, and nobody would know."""
    silent = set(CHECKS) - TRIED_ELSEWHERE
    for number, case in enumerate(CASES):
        records = newsroom(tmp_path / str(number), case.wrong | case.files, case.station)
        desk = lay_out(records, moment(case.as_of), NoDrawer(), {})
        silent -= {each for each in silent if any(each(desk))}
    assert silent == set()


# --- what is not shown, over, or on purpose --------------------------------------------------


@pytest.mark.parametrize(
    "places",
    [
        inline(hours='"Fr 20:00-02:00"', until='"2026-12-11 23:59"'),  # Until midnight on purpose.
        inline(hours='"Fr 20:00-24:00"'),
        inline(hours='"Fr 20:00-02:00"', closed="[2026-12-11]"),
        inline(hours='"Th 20:00-02:00"'),  # Over in the morning of the last day.
        inline(hours='"Fr 20:00-02:00"', until="2026-12-04 23:59"),
        inline(hours="by appointment"),
    ],
)
def test_a_night_that_midnight_does_not_cut_is_not_spoken_of(places: str, tmp_path: Path) -> None:
    assert "night-cut-short" not in checks(check(tmp_path, told(ask(deadline="2026-12-11", drop_off=places))))


def test_a_night_that_is_past_or_before_the_story_is_not_spoken_of(tmp_path: Path) -> None:
    places = inline(hours='"Fr 20:00-02:00"', until="2026-12-04")
    over = told(ask(deadline="2026-12-18 02:00", drop_off=places, confirmed="{date: 2026-12-03}"))
    assert "night-cut-short" in checks(check(tmp_path / "day", over, as_of="2026-12-04 12:00"))
    assert "night-cut-short" not in checks(check(tmp_path / "next", over, as_of="2026-12-05 12:00"))
    before = told(ask(drop_off=inline(hours='"Fr 20:00-02:00"', until="2026-11-20")))
    assert checks(check(tmp_path / "before", before)) == ["never-open"]


def test_what_to_write_of_a_night_answers_for_every_door_of_it(tmp_path: Path) -> None:
    late = inline(hours='"Fr 21:00-04:00"', name="Mill", until="2026-12-11")[1:-1]
    early = inline(hours='"Fr 20:00-02:00"')[1:-1]
    found = check(tmp_path / "wrong", told(ask(deadline="2026-12-11", drop_off=f"[{early}, {late}]")))
    assert checks(found) == ["night-cut-short"]
    assert "Bakery (2 a.m.) and Mill (4 a.m.)" in found[0].message
    assert "deadline: 2026-12-12 04:00, and with the place until: 2026-12-12 04:00" in found[0].instead
    late = late.replace("until: 2026-12-11", 'until: "2026-12-12 04:00"')
    mended = told(ask(deadline="2026-12-12 04:00", drop_off=f"[{early}, {late}]"))
    assert "night-cut-short" not in checks(check(tmp_path / "right", mended))


def test_a_stop_ends_a_night_whatever_the_deadline_says(tmp_path: Path) -> None:
    stop = "{when: 2026-12-11, say: It is full}"
    asks = ask(deadline="2026-12-11", drop_off=NIGHTS, stopped=stop)
    assert "night-cut-short" not in checks(check(tmp_path, told(asks)))


@pytest.mark.parametrize(
    "front", ["hold: true", "withdrawn: {date: 2026-11-22, notice: Taken down}"], ids=["held", "withdrawn"]
)
def test_what_is_not_published_is_not_spoken_of(front: str, tmp_path: Path) -> None:
    asks = ask(deadline="2026-12-13", confirmed=None, goal="{number: 4, so_far: 5}")
    assert check(tmp_path, {STORY: story(front, "Call 237-555-0142 today.", asks)}) == []


def test_an_ask_that_is_over_is_left_in_peace(tmp_path: Path) -> None:
    asks = ask(
        confirmed=None,
        goal="{number: 4, so_far: 5}",
        deadline="2026-12-13",
        contact="{name: Ida Moss}",
        drop_off=inline(hours="unknown", position="[-60.5, 34.5]", closed="[]"),
    )
    assert set(checks(check(tmp_path / "before", {STORY: story(asks=asks)}))) >= {
        "unconfirmed",
        "swapped-position",
    }
    assert check(tmp_path / "after", {STORY: story(asks=asks)}, as_of="2027-01-10") == []


def test_a_stopped_place_and_a_stopped_ask_have_no_doors_to_speak_of(tmp_path: Path) -> None:
    window = {"from": "2026-11-28", "until": "2026-11-29"}
    stop = "{when: 2026-11-22, say: It is full}"
    assert check(tmp_path / "place", told(ask(drop_off=at_hall(**window, stopped=stop)))) == []
    called_off = ask(**GO, dates="2026-12-09", stopped="{when: 2026-12-01, say: Too much ice}")
    assert check(tmp_path / "event", told(called_off)) == []


def test_a_shared_place_is_told_of_its_holiday_once(tmp_path: Path) -> None:
    asks = ask(deadline="2026-12-28") + ask(deadline="2026-12-29", title="Bring a hat")
    found = check(tmp_path, told(asks) | hall(without="closed"))
    assert checks(found) == ["holiday-hours"]
    assert "'Bring a coat' and 'Bring a hat'" in found[0].message


def test_a_shared_place_s_hours_of_a_holiday_answer_for_asks_with_hours_of_their_own(tmp_path: Path) -> None:
    asks = ask(deadline="2026-12-28", drop_off=at_hall(hours='"Mo-Su 10:00-12:00"'))
    open_longer = hall('special_hours: {2026-12-25: "08:00-20:00"}', without="closed")
    assert checks(check(tmp_path / "asked", told(asks) | open_longer)) == []
    assert checks(check(tmp_path / "unasked", told(asks) | hall(without="closed"))) == ["holiday-hours"]


@pytest.mark.parametrize("window", [{"until": "2026-12-24"}, {"from": "2026-12-26"}])
def test_a_holiday_outside_the_window_is_no_matter(window: dict[str, str], tmp_path: Path) -> None:
    asks = ask(deadline="2026-12-28", drop_off=at_hall(**window))
    assert check(tmp_path, told(asks) | hall(without="closed")) == []


def test_a_holiday_that_is_past_is_no_matter(tmp_path: Path) -> None:
    files = told(ask(deadline="2026-12-28", confirmed="{date: 2026-12-24}")) | hall(without="closed")
    assert checks(check(tmp_path / "day", files, as_of="2026-12-25 08:00")) == ["holiday-hours"]
    assert check(tmp_path / "next", files, as_of="2026-12-26 08:00") == []


def test_a_deadline_of_today_after_the_last_door_shut_cannot_be_helped(tmp_path: Path) -> None:
    files = told(ask(deadline="2026-11-29", confirmed="{date: 2026-11-27}"))
    assert checks(check(tmp_path / "noon", files, as_of="2026-11-27 12:00")) == ["deadline-outlives-doors"]
    assert check(tmp_path / "evening", files, as_of="2026-11-27 17:00") == []


def test_the_recording_of_an_episode_on_hold_is_not_missed(tmp_path: Path) -> None:
    files = aired(f"hold: true\nvideo: {VIDEO}\npromises: [{{said: it is on our website}}]") | told()
    assert check(tmp_path, files | {"captions/show.vtt": CAPTIONS}) == []


def test_a_word_said_long_ago_is_not_spoken_of(tmp_path: Path) -> None:
    files = told(say_on_air="warm-coats")
    assert checks(check(tmp_path / "new", files, as_of="2026-12-20")) == ["word-hard-to-say"]
    assert check(tmp_path / "old", files, as_of="2026-12-22") == []


def test_a_county_on_the_map_must_hold_the_place(tmp_path: Path) -> None:
    def square(name: str, west: float, south: float) -> str:
        ring = [[west, south], [west + 1, south], [west + 1, south + 1], [west, south + 1], [west, south]]
        return f'{{"type": "Feature", "properties": {{"name": "{name}"}}, "geometry": {{"type": "Polygon", "coordinates": [{ring}]}}}}'

    shapes = f"{square('Heron Flats', -61.0, 34.0)}, {square('Gull Bank', -62.0, 34.0)}"
    chart = {"counties.geojson": f'{{"type": "FeatureCollection", "features": [{shapes}]}}'}
    station = STATION + "map: counties.geojson\n"
    assert check(tmp_path / "right", chart, station=station) == []
    moved = hall("position: [34.51, -61.2]", without="position")
    found = check(tmp_path / "wrong", chart | moved, station=station)
    assert checks(found) == ["county-of-position"]
    assert "Gull Bank" in found[0].message
    nowhere = hall("position: [33.9, -60.5]", without="position")
    assert "no county" in check(tmp_path / "nowhere", chart | nowhere, station=station)[0].message


def test_a_withheld_position_is_not_spoken_of(tmp_path: Path) -> None:
    assert check(tmp_path, hall("address: withheld", "position: [-60.5, 34.5]", without="position")) == []


def test_a_station_without_positions_misses_none(tmp_path: Path) -> None:
    station = STATION
    for written in (", position: [34.6, -60.6]", ", position: [34.5, -60.5]", ", position: [35.1, -61.2]"):
        station = station.replace(written, "")
    station = station.replace("{name: Sandy End, position: [35.2, -61.3]}", "Sandy End")
    assert check(tmp_path, told(ask()) | hall(without="position"), station=station) == []


def test_checking_twice_says_the_same(tmp_path: Path) -> None:
    records = newsroom(tmp_path, told(ask(deadline="2026-12-13", confirmed=None), say_on_air="warm-coats"))
    first = check_copy(records, moment(AS_OF))
    assert len(first) == 3
    assert check_copy(records, moment(AS_OF)) == first


def test_edges_count_as_the_rules_of_time_say(tmp_path: Path) -> None:
    """At its deadline an ask has ended, and at their end rights are over."""
    repeat = aired("repeats: [2026-11-29 09:00]") | told(ask(deadline="2026-11-29 09:00", drop_off=None))
    assert checks(check(tmp_path / "repeat", repeat)) == ["repeat-after-deadline"]
    rights = told(video=VIDEO.replace("}", ", rights_end: 2026-11-23 12:00}")) | {
        "captions/show.vtt": CAPTIONS
    }
    assert checks(check(tmp_path / "over", rights, as_of="2026-11-23 12:00")) == ["ended-rights"]
    assert check(tmp_path / "running", rights, as_of="2026-11-23 11:59") == []
    again = told(ask(deadline="ongoing", check_again_by="2026-11-30 12:00"))
    assert checks(check(tmp_path / "week", again, as_of="2026-11-23 12:00")) == ["check-again-soon"]
    assert check(tmp_path / "more", again, as_of="2026-11-23 11:59") == []


def test_a_place_that_nothing_needs_yet_may_wait_for_its_position(tmp_path: Path) -> None:
    assert check(tmp_path, hall(without="position")) == []


def test_the_same_place_twice_in_an_ask_is_told_of_once(tmp_path: Path) -> None:
    twice = "[{place: lowgate-hall, note: front}, {place: lowgate-hall, note: back}]"
    found = check(tmp_path, told(ask(deadline="2026-12-28", drop_off=twice)) | hall(without="closed"))
    assert checks(found) == ["holiday-hours"]
    assert found[0].message.count("Bring a coat") == 1


@pytest.mark.parametrize(("first", "second"), [("sale", "sail"), ("lights", "lites"), ("knits", "nits")])
def test_a_word_that_sounds_like_another_is_told_of_the_newer_story(
    first: str, second: str, tmp_path: Path
) -> None:
    (finding,) = check(tmp_path, two_words(first, second))
    assert finding.check == "word-sounds-like-another"
    assert finding.spot.path == f"content/{LATER}" and first in finding.message


@pytest.mark.parametrize(
    ("files", "as_of", "station"),
    [
        (two_words("sale", "pies"), AS_OF, STATION),
        (two_words("lights", "pies", "heard_as: [pyes]"), AS_OF, STATION),
        (two_words("sale", "sail"), "2027-02-01", STATION),
        (two_words("sale", "sail"), AS_OF, STATION.replace("en-US", "es-US")),
    ],
    ids=["another sound", "its own other spelling", "said long ago", "another language"],
)
def test_words_that_cannot_be_mistaken_are_not_spoken_of(
    files: dict[str, str], as_of: str, station: str, tmp_path: Path
) -> None:
    assert "word-sounds-like-another" not in checks(check(tmp_path, files, as_of, station))
