"""A built site: every page that is passed on names a share picture that is there, and none tells of what is over."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitegen.site.build import make
from sitegen.site.content import read_content
from sitegen.site.derived import DerivedStore
from sitegen.typeset.cards import Card
from tests.samples.station_folder import asking, story, write_folder

CHECKOUT = Path(__file__).parents[2]


def test_every_share_picture_named_is_published_and_every_one_published_is_named(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story(asking()),
        "stories/2024/b.md": story(aired="2024-05-05"),
    }
    (tmp_path / "themes").symlink_to(CHECKOUT / "themes")
    reading = read_content(write_folder(tmp_path, files))
    named: dict[str, set[str]] = {}
    for day in (25, 30):
        made = make(
            reading,
            tmp_path,
            datetime(2026, 11 if day == 25 else 12, day, 15, tzinfo=UTC),
            DerivedStore(None),
        )
        pages = {
            path: data.decode()
            for path, data in made.files.items()
            if path.endswith(".html") and isinstance(data, bytes)
        }
        found = {
            path: re.findall(r'property="og:image" content="https://www.example.com/bright/([^"]+)"', text)
            for path, text in pages.items()
        }
        pictures = {path for path in made.files if path.startswith("pictures/share-")}
        assert {name for names in found.values() for name in names} == pictures
        assert pictures <= made.immutable
        assert found["stories/2024/b/index.html"] == found["index.html"] != found["stories/2026/a/index.html"]
        assert (
            "Bring a coat"
            in "".join(re.findall(r'og:image:alt" content="([^"]*)"', pages["stories/2026/a/index.html"]))
        ) == (day == 25)
        named[str(day)] = pictures
    # The ask ended between the two, and its words left the picture.
    assert named["25"] != named["30"] and len(named["25"] & named["30"]) == 1


def test_a_pale_theme_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "themes").symlink_to(CHECKOUT / "themes")
    reading = read_content(write_folder(tmp_path, {"stories/2026/a.md": story()}))
    pale = property(lambda _: (("Coats", "#999999", "#ffffff"),))
    monkeypatch.setattr(Card, "inks", pale)
    monkeypatch.setattr(DerivedStore, "card", lambda *_: b"")
    made = make(reading, tmp_path, datetime(2026, 11, 25, 15, tzinfo=UTC), DerivedStore(None))
    assert [finding.check for finding in made.report.pages] == ["share-picture-contrast"]
    assert made.report.stops("AA")
