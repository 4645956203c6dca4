"""What was found in a story of the past is what would be found again, at any later moment and whatever else is written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from sitegen.newsroom.keeping import MemoryDrawer, NoDrawer
from sitegen.newsroom.records import Finding, Newsroom, When
from sitegen.proof.copycheck import CHECKS, OF_EACH, check_copy
from sitegen.proof.copychecks.base import lay_out
from sitegen.proof.copychecks.past import PAST, PastStories, is_past
from sitegen.site.processes import Spread
from tests.proof.test_copycheck import CAPTIONS, CASES, STORY, VIDEO, Case, told
from tests.samples.checked_copy import AS_OF, PLACE, ask, moment, newsroom, story

COATS = "2026/coats"


def found(records: Newsroom, as_of: datetime) -> Counter[Finding]:
    """What the checks find of all stories, none of which is known to be past."""
    desk = lay_out(records, as_of, NoDrawer(), {})
    return Counter(finding for check in CHECKS for finding in check(desk))


def past(records: Newsroom, as_of: datetime) -> set[str]:
    desk = lay_out(records, as_of, NoDrawer(), {})
    return {each.story.id for each in desk.stories if is_past(each, desk)}


@pytest.mark.parametrize("case", CASES, ids=[f"{number}-{case.check}" for number, case in enumerate(CASES)])
def test_no_check_is_answered_otherwise_for_what_is_kept(case: Case, tmp_path: Path) -> None:
    records = newsroom(tmp_path, case.wrong | case.files, case.station)
    drawer = MemoryDrawer()
    start = moment(case.as_of)
    for days in (0, 31, 400, 2000, 30, 40, 401, 1999):
        as_of = start + timedelta(days=days)
        assert Counter(check_copy(records, as_of, drawer)) == found(records, as_of)


OVER = ask(deadline="2026-12-15")
LASTING = {
    "text outlives": {STORY: story(asks=OVER, body="Call 237-555-0142 by 9.")},
    "a word of a day": {STORY: story(asks=OVER, body="It is open tomorrow.")},
    "a wrong weekday": {STORY: story(asks=OVER, body="It ended on Monday, December 15, 2026.")},
    "left in text": {STORY: story(asks=OVER, body="A coat. TK")},
    "over before": told(ask(deadline="2025-12-15")),
    "nothing": {STORY: story(body="")},
    "another year": {"stories/2025/coats.md": story()},
}


@pytest.mark.parametrize("files", LASTING.values(), ids=LASTING)
def test_what_is_found_stays_found(files: dict[str, str], tmp_path: Path) -> None:
    records = newsroom(tmp_path, files)
    drawer = MemoryDrawer()
    later = moment(AS_OF) + timedelta(days=400)
    assert past(records, later)
    first = check_copy(records, later, drawer)
    assert Counter(first) == found(records, later) and first
    assert Counter(check_copy(records, later + timedelta(days=1), drawer)) == Counter(first)


LYING_AHEAD = {
    "told lately": (told(), "2026-12-20 12:00"),
    "an ask": (told(ask(deadline="2027-03-01")), "2027-02-28 12:00"),
    "the day that begins": (told(ask(deadline="2027-03-01 00:00", drop_off=None)), "2027-03-01 12:00"),
    "a place's day": (
        told(ask(deadline="2027-02-27", drop_off="[{place: lowgate-hall, until: 2027-03-01 00:00}]")),
        "2027-03-01 12:00",
    ),
    "a correction": (told(corrections="[{date: 2027-03-02, text: It was nine.}]"), "2027-03-01 12:00"),
    "rights": (
        told(video=VIDEO.replace("}", ", rights_end: 2027-03-01}")) | {"captions/show.vtt": CAPTIONS},
        "2027-03-01 12:00",
    ),
    "a withdrawal": (told(withdrawn="{date: 2027-03-02, notice: Gone.}"), "2027-03-01 12:00"),
}  # fmt: skip


@pytest.mark.parametrize(("files", "as_of"), LYING_AHEAD.values(), ids=LYING_AHEAD)
def test_what_has_something_ahead_is_not_past(files: dict[str, str], as_of: str, tmp_path: Path) -> None:
    records = newsroom(tmp_path, files)
    assert past(records, moment(as_of)) == set()
    drawer = MemoryDrawer()
    for days in (0, 1, 2, 3, 40):
        at = moment(as_of) + timedelta(days=days)
        assert Counter(check_copy(records, at, drawer)) == found(records, at)


def test_what_is_kept_follows_the_station_and_the_episodes(tmp_path: Path) -> None:
    files = {
        STORY: story(asks=OVER, body="Call 237-555-0142."),
        "episodes/2026-11-21.md": f"---\naired: 2026-11-21 18:30\nrundown:\n  - {{story: {COATS}}}\n---\n",
    }
    records = newsroom(tmp_path, files)
    as_of = moment(AS_OF) + timedelta(days=400)
    drawer = MemoryDrawer()
    first = check_copy(records, as_of, drawer)
    contact = replace(records.station.contact, phone="237-555-0142")
    another = replace(records, station=replace(records.station, contact=contact))
    aired = replace(records.episodes[0], aired=When(records.episodes[0].aired.day + timedelta(days=30)))
    later = replace(records, episodes=(aired,))
    for changed in (another, later, records):
        told_now = check_copy(changed, as_of, drawer)
        assert Counter(told_now) == found(changed, as_of)
        assert (Counter(told_now) == Counter(first)) is (changed is records)


def test_a_withheld_street_is_looked_for_in_stories_of_the_past_and_known_from_them(tmp_path: Path) -> None:
    hidden = '[{name: Home, street: 9 Quay Row, town: Lowgate, county: Heron Flats, hours: "Mo-Fr 09:00-17:00", address: withheld}]'
    files = told(ask(deadline="2026-12-15", drop_off=hidden)) | {
        "stories/2026/other.md": story(body="She lives at 9 Quay Row."),
        "stories/2027/new.md": story(front="aired: 2027-12-20", body="He lives at 9 Quay Row."),
        "places/lowgate-hall.yaml": PLACE,
    }
    records = newsroom(tmp_path, files)
    as_of = moment("2027-12-28 12:00")
    assert past(records, as_of) == {COATS, "2026/other"}
    drawer = MemoryDrawer()
    for _ in range(2):
        told_now = check_copy(records, as_of, drawer)
        assert Counter(told_now) == found(records, as_of)
        assert [each.check for each in told_now].count("withheld-address") == 2


def test_processes_find_what_one_finds_and_only_many_stories_are_spread(tmp_path: Path) -> None:
    files = {
        f"stories/2026/coats-{number}.md": story(asks=OVER if number % 2 else "", body=f"Open {word}.")
        for number, word in enumerate(["tomorrow", "on Monday, December 15, 2026", "all day"] * 25)
    }
    records = newsroom(tmp_path, files)
    as_of = moment(AS_OF) + timedelta(days=400)
    asked: list[int] = []

    def spread(work: Callable[[int], bytes], count: int) -> Iterator[bytes]:
        asked.append(count)
        return Spread(2, None)(work, count)

    drawers = MemoryDrawer(), MemoryDrawer()
    assert check_copy(records, as_of, drawers[0], spread) == check_copy(records, as_of, drawers[1])
    assert asked[0] > 1
    assert all(drawers[0].take(PAST, each) == drawers[1].take(PAST, each) for each in records.stories)
    kept = PastStories(records, as_of, drawers[0])
    for each in records.stories:
        known = kept.take(each)
        assert known is not None and {finding.spot.path for finding in known.found} <= {each.origin.spot.path}
    check_copy(records, as_of, drawers[0], spread)
    assert len(asked) == 1


def test_every_check_of_each_is_a_check() -> None:
    assert set(CHECKS) > OF_EACH


def test_which_ask_is_live_does_not_hang_on_who_unpacked_it(tmp_path: Path) -> None:
    """A record may unpack its asks anew: then they are equal, and others."""
    files = {
        STORY: story(asks=ask(deadline="2026-12-15"), body="Call 237-555-0142 by 9."),
        "episodes/2026-11-21.md": f"---\naired: 2026-11-21 18:30\nrepeats: [2026-12-16 09:00]\nrundown:\n  - {{story: {COATS}}}\n---\n",
    }
    records = newsroom(tmp_path, files)
    desk = lay_out(records, moment(AS_OF), NoDrawer(), {})
    first = [finding for check in CHECKS for finding in check(desk)]
    assert {each.check for each in first} == {"text-outlives-ask", "repeat-after-deadline"}
    for each in records.stories:
        object.__setattr__(each, "asks", tuple(replace(one) for one in each.asks))
    assert [finding for check in CHECKS for finding in check(desk)] == first
