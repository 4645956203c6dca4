"""Linked data says what its page shows, in types that are true, and nothing that is over, withheld or an amount."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from sitegen.edition.compose import compose_edition
from sitegen.newsroom.records import Newsroom
from tests.samples.calendar_bytes import local, newsroom_of, setter
from tests.samples.read_linked import blocks, every_node, nodes_of, open_in_linked_data
from tests.samples.station_folder import asking, story, write_folder

STORY = "stories/2026/coats/"
CANCELLED = "https://schema.org/EventCancelled"


def station(tmp_path: Path, front: str, **files: str) -> Newsroom:
    return newsroom_of(write_folder(tmp_path, {"stories/2026/coats.md": story(front), **files}))


def html(newsroom: Newsroom, address: str = STORY, moment: str = "2026-12-01 12:00") -> bytes:
    pages = compose_edition(newsroom, local(newsroom, moment)).edition.pages
    page = next(page for page in pages if page.address == address)
    return setter(newsroom.station.language).page(page)


def typed(data: bytes, kind: str) -> list[dict[str, Any]]:
    return [node for node in every_node(nodes_of(data)) if node["@type"] == kind]


def test_an_article_says_when_it_aired_and_what_was_wrong(tmp_path: Path) -> None:
    front = (
        "corrections: [{date: 2026-11-23, kind: correction, text: Wrong hour.}, "
        "{date: 2026-11-25, kind: update, text: More came.}, {date: 2026-12-09, kind: correction, text: Later.}]"
    )
    (article,) = typed(html(station(tmp_path, front)), "NewsArticle")
    assert article["url"] == "https://www.example.com/bright/stories/2026/coats/"
    assert article["datePublished"] == "2026-11-21T00:00:00-05:00"
    assert article["dateModified"] == "2026-11-25"
    assert article["correction"] == {
        "@type": "CorrectionComment",
        "text": "Wrong hour.",
        "datePublished": "2026-11-23",
    }


def test_no_words_end_the_block(tmp_path: Path) -> None:
    front = "summary: '</script><script>alert(1)</script><!-- & co'"
    data = html(station(tmp_path, front))
    (block,) = blocks(data)
    assert "<" not in block
    assert typed(data, "NewsArticle")[0]["description"].startswith(
        "</script><script>alert(1)</script><!-- & co"
    )


def test_asks_end_with_their_moment(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking())
    address = "https://www.example.com/bright/stories/2026/coats/#ask-bring-a-coat"
    (demand,) = typed(html(newsroom, moment="2026-12-15 23:59"), "Demand")
    assert (demand["url"], demand["availabilityEnds"]) == (address, "2026-12-16T00:00:00-05:00")
    over = html(newsroom, moment="2026-12-16 00:00")
    assert not open_in_linked_data(over)
    assert b"4 Pier Lane" not in over


def test_giving_names_the_payee_and_the_cautions_and_no_amount(tmp_path: Path) -> None:
    front = """asks:
  - {title: Give to the hall, kind: give, deadline: 2026-12-15, payee: The Hall, goal: {number: 8421, unit: $}}
  - {title: Give to Ada, kind: give, deadline: 2026-12-15, payee: Ada Quill, goes_to: named person}
"""
    hall, ada = typed(html(station(tmp_path, front)), "DonateAction")
    assert hall["recipient"] == {"@type": "Organization", "name": "The Hall"}
    assert ada["recipient"]["@type"] == "Person"
    assert len(hall["description"]) == 2
    assert hall["endTime"] == "2026-12-16T00:00:00-05:00"
    assert "8421" not in str(hall)
    assert not {"price", "priceCurrency", "priceSpecification"} & set(hall)


def test_help_is_an_offer(tmp_path: Path) -> None:
    (offer,) = typed(html(station(tmp_path, asking("get help", "A warm coat"))), "Offer")
    assert offer["availableAtOrFrom"]["address"]["streetAddress"] == "4 Pier Lane"


def test_an_event_recurs_and_leaves_out_its_closed_days(tmp_path: Path) -> None:
    more = 'dates: 2026-12-01..2026-12-12\nhours: "Mo-Su 17:30-22:00"\nclosed: [2026-12-04]'
    (event,) = typed(html(station(tmp_path, asking("go", "See the lights", more))), "Event")
    assert (event["startDate"], event["endDate"]) == (
        "2026-12-01T17:30:00-05:00",
        "2026-12-12T22:00:00-05:00",
    )
    schedule = event["eventSchedule"]
    assert (schedule["repeatFrequency"], schedule["exceptDate"]) == ("P1D", "2026-12-04")
    assert (schedule["startTime"], schedule["scheduleTimezone"]) == ("17:30:00", "America/New_York")


def test_days_are_said_from_the_first_to_the_last(tmp_path: Path) -> None:
    front = "asks: [{title: See it, kind: go, dates: 2026-12-03..2026-12-05, contact: {phone: 237-555-0142}}]"
    (event,) = typed(html(station(tmp_path, front)), "Event")
    assert (event["startDate"], event["endDate"]) == ("2026-12-03", "2026-12-05")


def test_what_is_called_off_says_so_until_it_would_have_been_over(tmp_path: Path) -> None:
    more = 'dates: 2026-12-01..2026-12-08\nhours: "Mo-Su 17:30-22:00"\nstopped: {when: 2026-12-03, say: out}'
    newsroom = station(tmp_path, asking("go", "See the lights", more))
    data = html(newsroom, moment="2026-12-04 12:00")
    (event,) = typed(data, "Event")
    assert event["eventStatus"] == CANCELLED
    assert "location" not in event
    assert not open_in_linked_data(data)
    assert not typed(html(newsroom, moment="2026-12-08 22:00"), "Event")


def test_a_withheld_address_is_in_no_node(tmp_path: Path) -> None:
    place = (
        "name: The Refuge\nstreet: 9 Secret Row\ntown: Lowgate\ncounty: Heron Flats\npostal_code: HF-9\n"
        "position: [34.123, -60.456]\nhours: unknown\naddress: withheld\n"
    )
    front = asking("get help", "A bed").replace("lowgate-hall", "refuge")
    newsroom = station(tmp_path, front, **{"places/refuge.yaml": place})
    for address in (STORY, "places/refuge/"):
        data = html(newsroom, address)
        (node,) = [node for node in typed(data, "Place") if "address" in node]
        assert node["address"] == {"@type": "PostalAddress", "addressLocality": "Lowgate"}
        for word in (b"Secret", b"HF-9", b"34.123"):
            assert word not in data


@pytest.mark.parametrize(
    ("hours", "said"),
    (
        ("Mo 09:00-17:00", [("09:00", "17:00")]),
        ("Mo 20:00-07:00", [("20:00", "07:00")]),
        ("Mo 00:00-24:00", [("00:00", "23:59")]),
        ("Mo 18:00-24:00", [("18:00", "00:00")]),
        ("Mo 09:00-17:00; 2nd Th 10:00-12:00", []),
        ("by appointment", []),
    ),
)
def test_a_places_page_says_its_weekly_hours_when_they_can_be_said(
    tmp_path: Path, hours: str, said: list[tuple[str, str]]
) -> None:
    place = f'name: Pier\ntown: Lowgate\ncounty: Heron Flats\nhours: "{hours}"\nclosed: [2026-12-07]\n'
    more = "deadline: 2027-02-01\ncontact: {phone: 237-555-0142}"
    front = asking(more=more).replace("lowgate-hall", "pier")
    data = html(station(tmp_path, front, **{"places/pier.yaml": place}), "places/pier/")
    found = typed(data, "OpeningHoursSpecification")
    assert [(node["opens"], node["closes"]) for node in found if "dayOfWeek" in node] == said
    (closed,) = [node for node in found if "validFrom" in node]
    assert (closed["validFrom"], closed["opens"], closed["closes"]) == ("2026-12-07", "00:00", "00:00")


def test_a_place_where_nothing_is_wanted_has_no_node_of_its_own(tmp_path: Path) -> None:
    data = html(station(tmp_path, asking()), "places/lowgate-hall/", "2026-12-16 00:00")
    assert not typed(data, "Place")
    assert typed(data, "BreadcrumbList")


def test_a_withdrawn_story_has_none(tmp_path: Path) -> None:
    newsroom = station(tmp_path, asking() + "withdrawn: {date: 2026-11-30, notice: Withdrawn.}\n")
    assert not nodes_of(html(newsroom))
