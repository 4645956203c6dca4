"""A feed's stories: everything is told, nothing that cannot be called back, each language marked."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from xml.etree import ElementTree

import pytest
from bs4 import BeautifulSoup
from msgspec.structs import replace

from sitegen.edition.models import Body, Moment, Ref, StoryPage
from sitegen.edition.outlets import FeedAsk, FeedEntry, FeedFile, timing
from sitegen.newsroom.galley import set_body
from sitegen.newsroom.records import Kind
from sitegen.typeset.atom import _plain
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import load_theme
from tests.samples.page_models import sample_pages

ATOM = "{http://www.w3.org/2005/Atom}"
LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
THEME = load_theme(Path(__file__).parents[2], "tidetable")
RELEASE = datetime(2026, 11, 21, 23, 30, tzinfo=UTC)
CORRECTED = datetime(2026, 11, 23, 5, tzinfo=UTC)


def sample_entry() -> FeedEntry:
    page = sample_pages()["story-full"]
    assert isinstance(page, StoryPage)
    asks, help_asks = (
        tuple(FeedAsk(ask.kind, ask.title, f"{page.address}#{ask.anchor}", timing(ask)) for ask in part)
        for part in (page.asks, page.help)
    )
    return FeedEntry(
        "tag:www.example.org,2026-11-21:/x/", page.address, page.headline, page.summary, page.language, RELEASE,
        CORRECTED, page.aired, page.some_ended, page.reporter, page.topics, "Quay Bakery", page.corrections, asks,
        help_asks, page.body, page.photo,
    )  # fmt: skip


def sample_feed(*entries: FeedEntry, county: Ref | None = None) -> FeedFile:
    frame = sample_pages()["story-full"].frame
    address = f"{county.address}feed.atom" if county is not None else "feed.atom"
    return FeedFile(address, frame, county, CORRECTED, ()).with_entries(lambda: entries)


def xml(feed: FeedFile, language: str = "en-US", sizes: dict[str, int] | None = None) -> ElementTree.Element:
    data = Typesetter(THEME, language).file(feed, (sizes or {}).get)
    assert data.startswith(b"<?xml")
    return ElementTree.fromstring(data)


def content(entry: FeedEntry, language: str = "en-US") -> BeautifulSoup:
    (said,) = xml(sample_feed(entry), language).iter(f"{ATOM}content")
    assert said.get("type") == "html"
    return BeautifulSoup(said.text or "", "html.parser")


def test_a_story_says_what_is_asked_until_when_and_where_to_read_on() -> None:
    entry = sample_entry()
    told = content(entry)
    base = "https://www.example.org/small-wonders/"
    links = {str(link["href"]): link.get_text() for link in told.select("li a")}
    assert links == {f"{base}{ask.address}": ask.title for ask in (*entry.asks, *entry.help)}
    assert told.select_one(f'p a[href="{base}{entry.address}"]') is not None
    bring = next(row for row in told.select("li") if entry.asks[0].title in row.get_text())
    assert "Dec. 15, 2026" in bring.get_text()


def test_no_street_no_hours_and_no_number_leave_with_a_copy() -> None:
    page = sample_pages()["story-full"]
    assert isinstance(page, StoryPage)
    entry = replace(sample_entry(), body=Body("Told."))
    told = content(entry).get_text()
    for ask in (*page.asks, *page.help):
        for drop_off in ask.places:
            place = drop_off.place
            words = (place.street, place.postal_code, place.phone, place.note, place.name)
            assert not [word for word in words if word and word in told]
        contact = ask.contact
        if contact is not None:
            assert not [word for word in (contact.phone, contact.email, contact.web) if word and word in told]


def test_who_paid_is_said_in_the_summary_and_first_in_the_story() -> None:
    (entry,) = xml(sample_feed(sample_entry())).iter(f"{ATOM}entry")
    assert "Quay Bakery" in (entry.findtext(f"{ATOM}summary") or "")
    told = content(sample_entry()).get_text()
    assert told.index("Quay Bakery") < told.index("What you can do")


def test_every_correction_is_shown_with_its_date() -> None:
    entry = sample_entry()
    told = content(entry).get_text()
    assert entry.corrections
    for each in entry.corrections:
        assert each.text in told and str(each.date.year) in told


def test_giving_comes_with_its_caution_and_help_stands_apart() -> None:
    entry = sample_entry()
    told = content(entry)
    assert [heading.get_text() for heading in told.select("h2")][:2] == ["What you can do", "Get help"]
    with_giving = told.get_text()
    without = content(
        replace(entry, asks=tuple(ask for ask in entry.asks if ask.kind is not Kind.GIVE))
    ).get_text()
    caution = "charity regulator"
    assert caution in with_giving and caution not in without


def test_a_picture_is_an_enclosure_with_type_length_words_and_credit() -> None:
    entry = sample_entry()
    assert entry.photo is not None
    feed = sample_feed(entry)
    (link,) = (
        each
        for each in xml(feed, sizes={entry.photo.address: 4321}).iter(f"{ATOM}link")
        if each.get("rel") == "enclosure"
    )
    assert (link.get("type"), link.get("length")) == ("image/jpeg", "4321")
    assert str(link.get("href")) == f"https://www.example.org/small-wonders/{entry.photo.address}"
    title = link.get("title") or ""
    assert title.startswith(entry.photo.alt) and entry.photo.credit in title and entry.photo.courtesy in title
    (unknown,) = (each for each in xml(feed).iter(f"{ATOM}link") if each.get("rel") == "enclosure")
    assert unknown.get("length") is None
    bare = xml(sample_feed(replace(entry, photo=None)))
    assert not [each for each in bare.iter(f"{ATOM}link") if each.get("rel") == "enclosure"]


def test_a_story_in_another_language_is_told_in_it() -> None:
    spanish = replace(sample_entry(), language="es")
    (entry,) = xml(sample_feed(spanish)).iter(f"{ATOM}entry")
    assert entry.get(LANGUAGE) == "es"
    told = content(spanish)
    assert "Busque" not in told.get_text() and "What you can do" not in told.get_text()
    assert not told.select("[lang]")


def test_the_themes_words_are_marked_where_it_does_not_speak_a_storys_language() -> None:
    told = content(replace(sample_entry(), language="ht"))
    heading = told.select_one("h2")
    assert heading is not None and heading["lang"] == "en"
    row = told.select_one("li")
    assert row is not None and row["lang"] == "en"
    assert all(link["lang"] == "ht" for link in told.select("li a"))
    assert not [tag for tag in told.select("p") if tag.get_text() == "Told." and tag.has_attr("lang")]


def test_links_of_the_text_into_the_site_become_absolute() -> None:
    body = Body(
        set_body("[one](2025/x) [gone](2026/held)")[0],
        (("2025/x", "stories/2025/x/#ask-y"), ("2026/held", "")),
    )
    told = content(replace(sample_entry(), body=body))
    last = told.find_all("p")[-1]
    assert [str(link["href"]) for link in last.select("a")] == [
        "https://www.example.org/small-wonders/stories/2025/x/#ask-y"
    ]
    assert "gone" in last.get_text()


@pytest.mark.parametrize(
    ("county", "title", "page"),
    [
        (None, "Small Wonders", ""),
        (Ref("Tidewick", "counties/tidewick/"), "Tidewick County | Small Wonders", "counties/tidewick/"),
        (Ref("", "counties/beyond/"), "Good news from beyond | Small Wonders", "counties/beyond/"),
    ],
    ids=["whole", "county", "beyond"],
)
def test_a_feed_says_whose_it_is_and_where(county: Ref | None, title: str, page: str) -> None:
    root = xml(sample_feed(county=county))
    assert root.findtext(f"{ATOM}title") == title
    links = {each.get("rel"): each.get("href") for each in root.findall(f"{ATOM}link")}
    base = "https://www.example.org/small-wonders/"
    assert links == {"self": f"{base}{page}feed.atom", "alternate": f"{base}{page}"}


def test_what_xml_cannot_hold_is_left_out() -> None:
    odd = replace(sample_entry(), headline="A\x00B\x0bC\ufffe & <D>", reporter="", summary="")
    (entry,) = xml(sample_feed(odd)).iter(f"{ATOM}entry")
    assert entry.findtext(f"{ATOM}title") == "ABC & <D>"
    assert entry.find(f"{ATOM}author") is None


def test_a_story_says_that_details_of_it_are_over() -> None:
    entry = replace(
        sample_entry(), some_ended=False, aired=Moment("2026-11-21T18:30:00-05:00", date(2026, 11, 21))
    )
    assert "some details have ended" not in content(entry).get_text()
    assert "some details have ended" in content(replace(entry, some_ended=True)).get_text()


def test_every_character_that_xml_has_not_goes_and_no_other() -> None:
    # XML 1.0, production 2.
    fit = (
        range(0x9, 0xB),
        range(0xD, 0xE),
        range(0x20, 0xD800),
        range(0xE000, 0xFFFE),
        range(0x10000, 0x110000),
    )
    assert _plain("".join(map(chr, range(0x110000)))) == "".join(chr(each) for part in fit for each in part)
