"""sitemap.xml, robots.txt and security.txt, read back by readers that are not ours."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from urllib.robotparser import RobotFileParser
from xml.etree import ElementTree

from sitegen.edition.models import SecurityFile, SitemapFile
from sitegen.typeset.files import render_file
from tests.samples.page_models import sample_files

_SITEMAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def test_a_sitemap_lists_absolute_addresses_with_their_change() -> None:
    root = ElementTree.fromstring(render_file(sample_files()["sitemap"]))
    assert root.tag == f"{_SITEMAP}urlset"
    found = [(url.findtext(f"{_SITEMAP}loc"), url.findtext(f"{_SITEMAP}lastmod")) for url in root]
    assert found == [
        ("https://www.example.org/small-wonders/", None),
        ("https://www.example.org/small-wonders/stories/2026/coat-closet/", "2026-11-23T05:00:00Z"),
        ("https://www.example.org/small-wonders/topics/a&b/", None),
    ]


def test_addresses_outside_ascii_are_percent_encoded() -> None:
    data = render_file(SitemapFile("sitemap.xml", "https://example.org/", (("años y pan/", ""),)))
    assert b"<loc>https://example.org/a%C3%B1os%20y%20pan/</loc>" in data


def test_robots_may_read_everything_and_are_told_of_the_sitemap() -> None:
    robots = RobotFileParser()
    robots.parse(render_file(sample_files()["robots"]).decode().splitlines())
    assert robots.can_fetch("any", "https://www.example.org/small-wonders/stories/2026/coat-closet/")
    assert robots.site_maps() == ["https://www.example.org/small-wonders/sitemap.xml"]


def test_security_has_the_fields_its_standard_requires() -> None:
    lines = render_file(sample_files()["security"]).decode().splitlines()
    fields = dict(line.split(": ", 1) for line in lines)
    assert fields["Contact"] == "mailto:security@example.org"
    assert datetime.fromisoformat(fields["Expires"]) == datetime(2027, 11, 2, 4, tzinfo=UTC)
    assert fields["Canonical"].startswith("https://")


def test_security_expires_in_utc_whatever_it_was_written_in() -> None:
    east = timezone(timedelta(hours=2))
    data = render_file(
        SecurityFile("security.txt", "mailto:a@example.org", datetime(2027, 1, 1, tzinfo=east), "")
    )
    assert b"Expires: 2026-12-31T22:00:00Z\n" in data and b"Canonical" not in data
