"""The sitemap by its published schema, and robots.txt as another reader understands it."""

from __future__ import annotations

from datetime import UTC, datetime
from urllib.parse import urlsplit

import pytest
from lxml import etree
from protego import Protego

from sitegen.edition.models import RobotsFile, SitemapFile
from sitegen.edition.outlets import sitemaps
from sitegen.site.content import read_content
from sitegen.typeset.files import render_file
from tests.samples.outlet_files import CHECKOUT, Outlets

SCHEMA = CHECKOUT / "node_modules" / "sitemap" / "schema" / "sitemap.xsd"
"""The schema of sitemaps.org, as the npm package `sitemap` carries it."""
NOON = datetime(2026, 12, 2, 17, tzinfo=UTC)
LOC = "{http://www.sitemaps.org/schemas/sitemap/0.9}loc"


@pytest.fixture(scope="module")
def schema() -> etree.XMLSchema:
    if not SCHEMA.is_file():
        pytest.skip("no schema of sitemaps: npm install --ignore-scripts sitemap")
    return etree.XMLSchema(etree.parse(str(SCHEMA)))


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    newsroom = read_content(CHECKOUT).newsroom
    assert newsroom is not None
    outlets = Outlets(newsroom)
    return outlets.files(outlets.edition(NOON))


def test_the_sitemap_is_valid_and_lists_addresses_of_this_site_once(
    schema: etree.XMLSchema, files: dict[str, bytes]
) -> None:
    document = etree.fromstring(files["sitemap.xml"])
    schema.assertValid(document)
    listed = [each.text or "" for each in document.iter(LOC)]
    assert len(listed) == len(set(listed)) > 200
    # The protocol: every address lies below the sitemap's own folder, and is shorter than 2,048 characters.
    assert all(each.startswith("https://www.example.org/small-wonders/") for each in listed)
    assert all(len(each) < 2048 and each.isascii() and " " not in each for each in listed)


INDEX = """
<element name="sitemapindex" ns="http://www.sitemaps.org/schemas/sitemap/0.9" xmlns="http://relaxng.org/ns/structure/1.0"
    datatypeLibrary="http://www.w3.org/2001/XMLSchema-datatypes">
  <oneOrMore>
    <element name="sitemap">
      <interleave>
        <element name="loc"><data type="anyURI"><param name="minLength">12</param><param name="maxLength">2048</param></data></element>
        <optional><element name="lastmod"><choice><data type="date"/><data type="dateTime"/></choice></element></optional>
      </interleave>
    </element>
  </oneOrMore>
</element>
"""
"""An index of sitemaps, as https://www.sitemaps.org/protocol.html#sitemapIndexTagDefinitions describes it (from memory; the
npm package has no schema of it)."""


def test_the_index_of_a_large_sitemap_names_its_parts_as_the_protocol_has_it() -> None:
    entries = [(f"stories/2026/{number}/", "2026-11-21T23:30:00Z") for number in range(50_001)]
    index, first, second = sitemaps("https://www.example.org/small-wonders/", entries)
    document = etree.fromstring(render_file(index))
    etree.RelaxNG(etree.XML(INDEX)).assertValid(document)
    named = [each.text for each in document.iter(LOC)]
    assert named == [f"https://www.example.org/small-wonders/{part.address}" for part in (first, second)]


def test_a_part_of_a_large_sitemap_is_valid_and_small_enough(schema: etree.XMLSchema) -> None:
    entries = [
        (f"stories/2026/a-story-of-some-length-{number}/", "2026-11-21T23:30:00Z") for number in range(50_001)
    ]
    _, first, second = sitemaps("https://www.example.org/small-wonders/", entries)
    for part in (first, second):
        data = render_file(part)
        assert isinstance(part, SitemapFile) and len(data) < 52_428_800
        schema.assertValid(etree.fromstring(data))


def test_robots_may_read_all_and_are_told_of_the_sitemap(files: dict[str, bytes]) -> None:
    read = Protego.parse(files["robots.txt"].decode())
    for page in ("", "stories/2026/coat-closet/", "data/asks.json", "feed.atom"):
        assert read.can_fetch(f"https://www.example.org/small-wonders/{page}", "anybot")
    (told,) = read.sitemaps
    assert urlsplit(told).path == "/small-wonders/sitemap.xml"


def test_robots_of_another_site_name_that_sites_sitemap() -> None:
    read = Protego.parse(render_file(RobotsFile("robots.txt", "https://example.org/sitemap.xml")).decode())
    assert list(read.sitemaps) == ["https://example.org/sitemap.xml"]
