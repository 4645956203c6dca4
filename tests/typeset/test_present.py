"""What a page gives its script: hours in figures, words that stay out of static text, counts to come, the finder's data."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import FindPage, HomePage, Page, PlacesFile
from sitegen.newsroom.hours import read_hours
from sitegen.newsroom.records import DayHours
from sitegen.site.content import read_content
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.present import hours_code, json_attribute, tells_miles
from sitegen.typeset.theme import load_theme

ROOT = Path(__file__).parents[2]


@cache
def typesetter(language: str = "en-US") -> Typesetter:
    return Typesetter(load_theme(ROOT, "tidetable"), language)


@cache
def edition() -> tuple[tuple[Page, ...], PlacesFile]:
    newsroom = read_content(ROOT).newsroom
    assert newsroom is not None
    made = compose_edition(newsroom, datetime(2026, 12, 2, 17, tzinfo=UTC)).edition
    return made.pages, next(file for file in made.files if isinstance(file, PlacesFile))


@pytest.mark.parametrize(
    ("written", "code"),
    [
        ("Mo-Fr 09:00-17:00; Sa 10:00-14:00", "01234:540-1020;5:600-840"),
        ("2nd and 4th Th 10:00-12:00", "3/2,4:600-720"),
        ("last Fr 22:00-02:00", "4/-1:1320-1560"),
        ("by appointment", ""),
        ("unknown", ""),
    ],
)
def test_hours_in_figures(written: str, code: str) -> None:
    hours = read_hours(written).hours
    assert hours is not None and hours_code(hours) == code


def test_a_closed_day_wins_over_its_special_hours() -> None:
    hours = read_hours("Mo 09:00-17:00").hours
    assert hours is not None
    day, other = date(2026, 12, 24), date(2026, 12, 26)
    special = (DayHours(day, ((540, 600),)), DayHours(other, ((600, 660),)))
    assert hours_code(hours, (day,), special) == "2026-12-24:;2026-12-26:600-660;0:540-1020"


def test_words_cannot_leave_their_attribute() -> None:
    said = "' onclick='x &quot; </template><b>"
    page = BeautifulSoup(f"<p data-words='{json_attribute({'name': said})}'></p>", "html.parser")
    paragraph = page.p
    assert paragraph is not None and list(paragraph.attrs) == ["data-words"]
    assert json.loads(str(paragraph["data-words"]))["name"] == said


def test_miles_where_roads_are_told_in_them() -> None:
    assert [tells_miles(tag) for tag in ("en-US", "en", "es-US", "en-GB", "es", "es-MX", "en-CA", "fr")] == [
        True, True, True, True, False, False, False, False,
    ]  # fmt: skip


@pytest.mark.parametrize("language", ["en-US", "es"])
def test_words_about_the_present_stand_only_where_the_script_finds_them(language: str) -> None:
    pages, _ = edition()
    held = typesetter(language).page(next(page for page in pages if isinstance(page, HomePage))).decode()
    page = BeautifulSoup(held, "html.parser")
    block = json.loads(str(page.select("#words")[0]["data-words"]))
    spoken = [block[name] for name in ("today", "tomorrow", "open")] + block["days"][2:]
    assert len(spoken) > 6 and not [words for words in spoken if words in page.get_text()]


def test_counts_to_come_fall_with_their_asks() -> None:
    pages, _ = edition()
    home = next(page for page in pages if isinstance(page, HomePage))
    told = [entry for entry in home.counties if entry.then]
    assert told
    for entry in told:
        instants = [datetime.fromisoformat(at) for at, _ in entry.then]
        assert instants == sorted(instants)
        counts = [entry.count, *(count for _, count in entry.then)]
        assert all(one != other for one, other in pairwise(counts))


def test_a_count_to_come_is_the_one_an_edition_then_has() -> None:
    newsroom = read_content(ROOT).newsroom
    assert newsroom is not None
    pages, _ = edition()
    home = next(page for page in pages if isinstance(page, HomePage))
    at, _ = home.counties[0].then[0]
    later = compose_edition(newsroom, datetime.fromisoformat(at).astimezone(UTC)).edition.pages
    again = next(page for page in later if isinstance(page, HomePage))
    for before, after in zip(home.counties, again.counties, strict=True):
        due = [
            count for when, count in before.then if datetime.fromisoformat(when) <= datetime.fromisoformat(at)
        ]
        promised = due[-1] if due else before.count
        # Stories released meanwhile may only add.
        assert promised is None or after.count >= promised


def test_the_finders_data_hold_no_withheld_position_and_are_named_by_their_bytes() -> None:
    import hashlib

    pages, file = edition()
    data = typesetter().file(file)
    held = json.loads(data)
    withheld = [place for place in (*held["places"], *held["help"]) if place.get("withheld")]
    assert withheld and not [place for place in withheld if {"at", "street", "code"} & place.keys()]
    address = typesetter().file_address(file)
    assert address == f"data/places-{hashlib.sha256(data).hexdigest()[:10]}.json"
    find = next(page for page in pages if isinstance(page, FindPage))
    assert f'data-places="../{address}"' in typesetter().page(find).decode()
    helping = {"get help"}
    assert {held["asks"][take[0]]["kind"] for place in held["help"] for take in place["takes"]} == helping
    assert not helping & {
        held["asks"][take[0]]["kind"] for place in held["places"] for take in place["takes"]
    }
