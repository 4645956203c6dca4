"""What leaves the pages, as models: which stories a feed has, what it tells of them, and until when each record is true."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.edition import outlets
from sitegen.edition.compose import compose_edition
from sitegen.edition.due import due
from sitegen.edition.models import RobotsFile, SecurityFile, SitemapFile
from sitegen.edition.outlets import NEVER, AskRecord, AsksFile, FeedFile, SitemapIndexFile, sitemaps
from sitegen.newsroom.records import Newsroom
from sitegen.proof.copycheck import check_copy
from sitegen.site.content import read_content
from tests.samples.outlet_files import CHECKOUT
from tests.samples.station_folder import STATION, asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)
SECURED = STATION + "security: {contact: 'mailto:security@example.com', expires: 2027-01-01}\n"


def newsroom(root: Path, files: dict[str, str], station: str = STATION) -> Newsroom:
    reading = read_content(write_folder(root, files, station))
    assert not reading.faults, reading.faults
    assert reading.newsroom is not None
    return reading.newsroom


def feeds(room: Newsroom, now: datetime = NOW) -> dict[str, FeedFile]:
    files = compose_edition(room, now).edition.files
    return {file.address: file for file in files if isinstance(file, FeedFile)}


def asks(room: Newsroom, now: datetime = NOW) -> tuple[AskRecord, ...]:
    files = compose_edition(room, now).edition.files
    (data,) = (file for file in files if isinstance(file, AsksFile))
    return data.asks


def headlines(feed: FeedFile) -> list[str]:
    return [entry.address for entry in feed.entries]


# --- which stories ---


def test_a_feed_has_the_newest_stories_and_each_with_something_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outlets, "NEWEST_IN_FEED", 2)
    files = {f"stories/2026/n{day}.md": story(aired=f"2026-11-{day}") for day in (20, 21, 22, 23)}
    files["stories/2026/open.md"] = story(asking(), aired="2026-10-01")
    files["stories/2026/over.md"] = story(asking(more="deadline: 2026-11-01"), aired="2026-10-01")
    found = feeds(newsroom(tmp_path, files))["feed.atom"]
    assert headlines(found) == ["stories/2026/n23/", "stories/2026/n22/", "stories/2026/open/"]


def test_a_countys_feed_has_its_stories_and_those_whose_asks_reach_it(tmp_path: Path) -> None:
    room = newsroom(
        tmp_path,
        {
            "stories/2026/own.md": story(county="Gull Bank"),
            "stories/2026/reaching.md": story(
                asking(more="deadline: 2026-12-15\nhelps: [Gull Bank]"), county="Heron Flats"
            ),
            "stories/2026/far.md": story(county="beyond"),
        },
    )
    found = feeds(room)
    assert set(found) == {
        "feed.atom",
        *(f"counties/{key}/feed.atom" for key in ("heron-flats", "gull-bank", "beyond")),
    }
    assert headlines(found["counties/gull-bank/feed.atom"]) == ["stories/2026/own/", "stories/2026/reaching/"]
    assert headlines(found["counties/heron-flats/feed.atom"]) == ["stories/2026/reaching/"]
    assert headlines(found["counties/beyond/feed.atom"]) == ["stories/2026/far/"]


def test_a_feed_of_nothing_is_there_and_has_no_invented_date(tmp_path: Path) -> None:
    found = feeds(newsroom(tmp_path, {}))["counties/gull-bank/feed.atom"]
    assert not found.entries and found.updated == NEVER


# --- what it tells of them ---


def test_an_ended_ask_is_not_in_the_feed_and_its_story_is(tmp_path: Path) -> None:
    room = newsroom(tmp_path, {"stories/2026/a.md": story(asking(more="deadline: 2026-11-25"))})
    (entry,) = feeds(room)["feed.atom"].entries
    assert not entry.asks and not entry.help and entry.some_ended


def test_giving_and_getting_help_stay_apart(tmp_path: Path) -> None:
    front = asking() + asking("get help", "A coat for you").removeprefix("asks:\n")
    (entry,) = feeds(newsroom(tmp_path, {"stories/2026/a.md": story(front)}))["feed.atom"].entries
    assert [ask.title for ask in entry.asks] == ["Bring a coat"]
    assert [ask.title for ask in entry.help] == ["A coat for you"]


def test_the_last_door_is_told_where_the_deadline_outlives_it(tmp_path: Path) -> None:
    room = newsroom(tmp_path, {"stories/2026/a.md": story(asking(more="deadline: 2026-12-13"))})
    (entry,) = feeds(room)["feed.atom"].entries
    last = entry.asks[0].timing.last_place
    assert last is not None and last.iso == "2026-12-11T17:00:00-05:00"  # Friday's close before that Sunday


def test_updated_is_the_later_of_release_and_newest_correction(tmp_path: Path) -> None:
    front = "corrections:\n" + "".join(
        f"  - {{date: 2026-{day}, text: Amended.}}\n" for day in ("11-25", "11-23", "12-20")
    )
    room = newsroom(tmp_path, {"stories/2026/a.md": story(front)})
    feed = feeds(room)["feed.atom"]
    assert feed.entries[0].updated == feed.updated == datetime(2026, 11, 25, 5, tzinfo=UTC)
    assert [each.date.isoformat() for each in feed.entries[0].corrections] == ["2026-11-25", "2026-11-23"]
    later = feeds(room, datetime(2026, 12, 20, 5, tzinfo=UTC))["feed.atom"]
    assert later.entries[0].updated == datetime(2026, 12, 20, 5, tzinfo=UTC)


# --- until when a record is true ---


def test_a_record_stays_the_same_until_it_says_it_will_not(tmp_path: Path) -> None:
    """Over the demonstration's month: just before its `true_until` a record is as it was; at it, it is another or gone."""
    room = read_content(CHECKOUT).newsroom
    assert room is not None
    start = datetime(2026, 12, 2, 17, tzinfo=UTC)
    records = {record.id: record for record in asks(room, start)}
    changes = sorted({record.true_until for record in records.values() if record.true_until})[:8]
    assert len(changes) == 8
    for change in changes:
        at = datetime.fromisoformat(change)
        before = {record.id: record for record in asks(room, at - timedelta(seconds=1))}
        after = {record.id: record for record in asks(room, at)}
        for name, record in records.items():
            if not record.true_until or datetime.fromisoformat(record.true_until) > at:
                assert before[name] == record == after[name]
            elif record.true_until == change:
                assert before[name] == record and after.get(name) != record


def test_a_record_ends_with_a_story_that_will_be_withdrawn(tmp_path: Path) -> None:
    front = asking() + "withdrawn: {date: 2026-12-05, notice: Gone.}"
    (record,) = asks(newsroom(tmp_path, {"stories/2026/a.md": story(front)}))
    assert record.true_until == "2026-12-05T00:00:00-05:00"


# --- for robots ---


def test_a_large_site_has_several_sitemaps_and_an_index() -> None:
    entries = [(f"stories/{number}/", "") for number in range(outlets.MOST_IN_SITEMAP + 1)]
    index, *parts = sitemaps("https://example.org/", entries)
    assert isinstance(index, SitemapIndexFile) and index.address == "sitemap.xml"
    assert index.parts == tuple(part.address for part in parts)
    listed = [entry for part in parts if isinstance(part, SitemapFile) for entry in part.entries]
    assert listed == entries
    (alone,) = sitemaps("https://example.org/", entries[:-1])
    assert isinstance(alone, SitemapFile) and alone.address == "sitemap.xml"


def test_a_sitemap_leaves_out_what_only_leads_on_and_what_is_withdrawn(tmp_path: Path) -> None:
    room = newsroom(
        tmp_path,
        {
            "stories/2026/a.md": story("say_on_air: coats\nold_addresses: [/old/coats/]"),
            "stories/2026/b.md": story("withdrawn: {date: 2026-11-24, notice: Gone.}"),
        },
    )
    edition = compose_edition(room, NOW).edition
    (sitemap,) = (file for file in edition.files if isinstance(file, SitemapFile))
    listed = dict(sitemap.entries)
    assert listed["stories/2026/a/"] == "2026-11-21T05:00:00Z" and listed["deadlines/"] == ""
    assert not {"coats/", "old/coats/", "stories/2026/b/", "404.html"} & set(listed)


def test_robots_and_security_say_where_they_belong(tmp_path: Path) -> None:
    files = compose_edition(newsroom(tmp_path, {}, SECURED), NOW).edition.files
    (robots,) = (file for file in files if isinstance(file, RobotsFile))
    (security,) = (file for file in files if isinstance(file, SecurityFile))
    assert robots.sitemap == "https://www.example.com/bright/sitemap.xml"
    assert security.canonical == "https://www.example.com/.well-known/security.txt"


def test_a_security_contact_that_runs_out_is_due_a_month_before_and_a_concern_after(tmp_path: Path) -> None:
    room = newsroom(tmp_path, {}, SECURED)
    expires = datetime(2027, 1, 1, 5, tzinfo=UTC)

    def warned(now: datetime) -> bool:
        return any("security.txt" in line.what for line in due(room, now).runs_out)

    def concerned(now: datetime) -> bool:
        return "security-expired" in {finding.check for finding in check_copy(room, now)}

    assert not warned(expires - timedelta(days=30, seconds=1)) and warned(expires - timedelta(days=30))
    assert warned(expires) and not concerned(expires - timedelta(seconds=1)) and concerned(expires)
    renewed = replace(room, station=replace(room.station, security=None))
    assert not any("security" in line.what for line in due(renewed, expires).runs_out)
