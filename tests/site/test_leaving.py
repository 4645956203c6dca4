"""A story that is withdrawn leaves everything and keeps a plain notice; one that moves keeps its readers in everything."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urljoin

import pytest
from PIL import Image

from sitegen.site.build import make
from sitegen.site.content import read_content
from sitegen.site.derived import DerivedStore
from sitegen.site.making import content_bytes
from tests.samples.station_folder import STATION, asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
CHECKOUT = Path(__file__).parents[2]
CAPTIONS = "WEBVTT\n\n00:01.000 --> 00:03.000\nSpoken Quokka words.\n"
TOLD = """headline: The Quokka tale
aired: 2026-11-21
county: Heron Flats
town: Quokkaville
reporter: Quokka Quill
summary: About a Quokka.
topics: [quokkas]
say_on_air: quokka
heard_as: [kwokka]
old_addresses: [/old/quokka/]
photo: {file: quokka.png, alt: A Quokka, credit: Quokka Quill}
video: {file: https://video.example.com/quokka.mp4, captions: quokka.vtt, poster: quokka.png}
corrections: [{date: 2026-11-22, text: The Quokka was misnamed.}]
"""
EPISODE = """---
aired: 2026-11-21
video: {file: https://video.example.com/show.mp4, captions: quokka.vtt}
rundown: [{story: 2026/tale, time: "00:01:00"}]
---
"""


def outputs(root: Path, files: dict[str, str], now: datetime = NOW) -> dict[str, bytes]:
    """Every file of the built site, by path."""
    (root / "content/photos").mkdir(parents=True)
    (root / "themes").symlink_to(CHECKOUT / "themes")
    Image.new("RGB", (1600, 900), (12, 120, 60)).save(root / "content/photos/quokka.png")
    station = STATION + "media_host: https://video.example.com\n"
    write_folder(root, {"captions/quokka.vtt": CAPTIONS, **files}, station)
    reading = read_content(root)
    assert not reading.faults, reading.faults
    made = make(reading, root, now, DerivedStore(root / "derived"))
    assert not made.report.stops("AA"), made.report
    return {path: content_bytes(content) for path, content in made.files.items()}


def tale(more: str = "") -> str:
    return f"---\n{TOLD}{asking(title='Bring a Quokka')}{more}---\nThe body of the Quokka.\n"


def with_word(files: dict[str, bytes]) -> list[str]:
    """Paths of files that hold the word, in their bytes or their names."""
    return sorted(
        path for path, data in files.items() if re.search(b"(?i)quokka|kwokka", path.encode() + data)
    )


@pytest.fixture(scope="module")
def others() -> dict[str, str]:
    return {
        "stories/2026/other.md": story("follows: 2026/tale", body="See [then](2026/tale)."),
        "stories/2026/translation.md": story("language: es\ntranslates: 2026/tale"),
        "episodes/2026-11-21.md": EPISODE,
    }


def test_a_story_is_in_every_outlet_before_it_is_withdrawn(tmp_path: Path, others: dict[str, str]) -> None:
    """The test below would prove nothing of an output that never had it."""
    files = outputs(tmp_path, {"stories/2026/tale.md": tale(), **others})
    found = with_word(files)
    for path in ("feed.atom", "counties/heron-flats/feed.atom", "data/asks.json", "quokka/index.html", "kwokka/index.html",
                 "old/quokka/index.html", "404.html", "topics/quokkas/index.html", "episodes/2026-11-21/index.html",
                 "stories/2026/other/index.html", "index.html", "sitemap.xml"):  # fmt: skip
        assert path in found, path
    assert any(path.startswith("data/places-") for path in found)
    assert any(path.startswith("captions/") for path in found)
    assert any(path.startswith("pictures/") and "share-" not in path for path in files)


def test_a_withdrawn_story_leaves_everything_but_a_plain_notice(
    tmp_path: Path, others: dict[str, str]
) -> None:
    withdrawn = "withdrawn: {date: 2026-11-30, notice: Taken back at the family's wish.}\n"
    files = outputs(tmp_path, {"stories/2026/tale.md": tale(withdrawn), **others})
    assert with_word(files) == []
    notice = files["stories/2026/tale/index.html"].decode()
    assert "Taken back at the family" in notice and 'name="robots" content="noindex"' in notice
    assert not [path for path in files if path.startswith("pictures/") and "share-" not in path]
    assert not [path for path in files if path.startswith("captions/")]
    assert b"stories/2026/tale/" not in b"".join(
        data for path, data in files.items() if path != "stories/2026/tale/index.html"
    )


def test_a_moved_story_is_the_same_in_every_outlet(tmp_path: Path) -> None:
    before = outputs(tmp_path / "before", {"stories/2026/tale.md": tale()})
    moved = tale().replace(
        "old_addresses: [/old/quokka/]", "old_addresses: [/old/quokka/, /stories/2026/tale/]"
    )
    after = outputs(tmp_path / "after", {"stories/2026/found.md": moved})

    def ids(files: dict[str, bytes]) -> list[str]:
        return re.findall("<id>(tag:[^<]+)</id>", files["feed.atom"].decode())

    def dates(files: dict[str, bytes]) -> list[str]:
        return re.findall("<updated>([^<]+)</updated>", files["feed.atom"].decode())

    def asks(files: dict[str, bytes]) -> list[str]:
        return [ask["id"] for ask in json.loads(files["data/asks.json"])["asks"]]

    assert (
        ids(before) == ids(after) != []
        and dates(before) == dates(after)
        and asks(before) == asks(after) != []
    )
    for old in ("stories/2026/tale", "old/quokka", "quokka", "kwokka"):
        page = after[f"{old}/index.html"].decode()
        leads = re.search(r'http-equiv="refresh" content="0; url=([^"]+)"', page)
        assert leads and urljoin(f"https://host/{old}/", leads[1]) == "https://host/stories/2026/found/", old
    leading = {"stories/2026/tale/index.html"}
    assert not [path for path, data in after.items() if path not in leading and b"2026/tale/" in data]
    assert b"/stories/2026/found/" in after["sitemap.xml"]


def test_a_story_that_moves_for_the_first_time_keeps_its_name(tmp_path: Path) -> None:
    never = tale().replace("old_addresses: [/old/quokka/]\n", "")
    moved = tale().replace("old_addresses: [/old/quokka/]", "old_addresses: [/stories/2026/tale/]")
    before = outputs(tmp_path / "before", {"stories/2026/tale.md": never})
    after = outputs(tmp_path / "after", {"stories/2026/found.md": moved})
    name = re.compile("<id>(tag:[^<]+)</id>")
    assert name.findall(before["feed.atom"].decode()) == name.findall(after["feed.atom"].decode()) != []
