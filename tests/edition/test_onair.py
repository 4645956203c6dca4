"""The on-air pack's model: what viewers will find at air time, what they will not, and until when it holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from sitegen.edition.onair import LATELY, Elsewhere, OnAirPack, on_air_pack
from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.times import start_of, zone_named
from tests.counts import LONG
from tests.samples.station_folder import asking, story, write_folder

AIRED = datetime(2026, 11, 21, 23, 30, tzinfo=UTC)
"""18:30 in the station's time."""
EPISODE = """---
aired: 2026-11-21 18:30
title: Coats and carols
rundown:
  - {time: "00:00:35", story: 2026/coats}
  - {story: 2026/carols}
  - {story: 2026/later}
  - {story: 2026/gone}
---
"""
FILES = {
    "episodes/2026-11-21.md": EPISODE,
    "stories/2026/coats.md": story(asking() + "say_on_air: coats"),
    "stories/2026/carols.md": story("hold: true\nsay_on_air: carols\n" + asking(title="Sing")),
    "stories/2026/later.md": story("embargo: 2026-11-25 06:00\n" + asking(title="Walk")),
    "stories/2026/gone.md": story("withdrawn: {date: 2026-11-21, notice: Taken back.}"),
}


def newsroom(tmp_path: Path, **changes: str) -> Newsroom:
    files = {**FILES, **{f"stories/2026/{name}.md": text for name, text in changes.items()}}
    reading = read_newsroom(write_folder(tmp_path / "station", files), read_map)
    assert reading.newsroom is not None and not reading.faults, reading.faults
    return reading.newsroom


def pack(room: Newsroom, as_of: datetime = AIRED) -> OnAirPack:
    return on_air_pack(room, room.episodes[0], as_of)


def test_a_pack_made_before_the_broadcast_is_true_for_the_broadcast(tmp_path: Path) -> None:
    room = newsroom(tmp_path)
    early = pack(room, datetime(2026, 11, 19, 12, tzinfo=UTC))
    assert early == pack(room)
    assert early.true_from.iso == "2026-11-21T18:30:00-05:00"
    assert [(each.headline, each.state) for each in early.stories] == [
        ("A headline", "on"), ("A headline", "held"), ("A headline", "later"), ("A headline", "withdrawn"),
    ]  # fmt: skip
    (shown,) = early.shown
    assert (shown.short, shown.address, shown.time) == ("coats/", "stories/2026/coats/", 35)
    assert [ask.title for ask in shown.asks] == ["Bring a coat"]


def test_nothing_of_what_viewers_will_not_find_is_in_it_but_its_name(tmp_path: Path) -> None:
    for each in pack(newsroom(tmp_path)).stories:
        if each.state != "on":
            assert not (each.asks or each.address or each.short or each.summary or each.listing)
            assert (each.release is not None) == (each.state == "later")


def test_after_the_broadcast_it_is_true_for_the_moment_asked(tmp_path: Path) -> None:
    late = pack(newsroom(tmp_path), datetime(2026, 11, 26, 17, tzinfo=UTC))
    assert late.true_from.iso == "2026-11-26T12:00:00-05:00"
    assert [each.state for each in late.stories] == ["on", "held", "on", "withdrawn"]
    ended = pack(newsroom(tmp_path / "again"), datetime(2026, 12, 20, 17, tzinfo=UTC))
    assert not any(ask.standing.live for each in ended.shown for ask in each.asks)
    assert ended.true_until is None


def test_it_says_until_when_it_holds(tmp_path: Path) -> None:
    room = newsroom(tmp_path)
    # The embargo is over first; then the last days begin to count; then the last door shuts.
    assert pack(room).true_until is not None
    moments = [pack(room).true_until]
    while moments[-1] is not None:
        when = datetime.fromisoformat(moments[-1].iso).astimezone(UTC)
        found = pack(room, when)
        # Whatever lies between two such moments is the same but for the moment itself.
        assert found != pack(room, AIRED)
        moments.append(found.true_until)
    said = [each.iso for each in moments if each is not None]
    assert said == sorted(set(said))
    assert said[0] == "2026-11-25T06:00:00-05:00" and "2026-12-15T17:00:00-05:00" in said


def test_a_short_word_that_leads_elsewhere_is_not_read_out(tmp_path: Path) -> None:
    newer = story(asking() + "say_on_air: coats", aired="2026-11-22 08:00")
    room = newsroom(tmp_path, other=newer)
    assert pack(room).shown[0].short == "coats/"
    # Once another story has the word (both open: the proof tells; the newer one has it), it is not ours any more.
    assert pack(room, datetime(2026, 11, 23, tzinfo=UTC)).shown[0].short == ""


def test_a_held_episode_holds_its_stories(tmp_path: Path) -> None:
    held = {**FILES, "episodes/2026-11-21.md": EPISODE.replace("title:", "hold: true\ntitle:")}
    reading = read_newsroom(write_folder(tmp_path / "held", held), read_map)
    assert reading.newsroom is not None
    made = on_air_pack(reading.newsroom, reading.newsroom.episodes[0], AIRED)
    assert made.held and not made.shown and {each.state for each in made.stories} == {"held"}


def test_a_story_nobody_can_read_is_named_by_its_path(tmp_path: Path) -> None:
    files = {**FILES, "episodes/2026-11-21.md": EPISODE.replace("2026/gone", "2026/nowhere")}
    reading = read_newsroom(write_folder(tmp_path / "missing", files), read_map)
    assert reading.newsroom is not None
    made = on_air_pack(reading.newsroom, reading.newsroom.episodes[0], AIRED)
    assert (made.stories[-1].headline, made.stories[-1].state) == ("2026/nowhere", "missing")


@pytest.mark.parametrize("withheld", [True, False])
def test_a_withheld_address_is_withheld_here_too(tmp_path: Path, withheld: bool) -> None:
    room = newsroom(tmp_path)
    path = tmp_path / "station/content/places/lowgate-hall.yaml"
    if withheld:
        path.write_text(path.read_text("utf-8") + "address: withheld\n", "utf-8")
    reading = read_newsroom(tmp_path / "station", read_map)
    assert reading.newsroom is not None and room.places
    place = pack(reading.newsroom).shown[0].asks[0].places[0].place
    assert (place.street == "") == withheld


# --- the law: nothing in it changes before it says so ----------------------------------------------


@cache
def demonstration() -> Newsroom:
    found = read_newsroom(Path(__file__).parents[2], read_map).newsroom
    assert found is not None
    return found


@pytest.mark.parametrize("name", ["2025-11-22", "2026-11-07", "2026-11-21", "2026-11-28", "2026-12-05"])
def test_between_two_changes_a_pack_is_the_same(name: str) -> None:
    """Walks from change to change: between them every moment gives the same pack, and at many of them it is another."""
    room = demonstration()
    episode = next(each for each in room.episodes if each.id == name)

    def made(when: datetime) -> OnAirPack:
        pack = on_air_pack(room, episode, when)
        return replace(pack, true_from=pack.aired, elsewhere=Elsewhere())

    when = start_of(episode.aired, zone_named(room.station.time_zone))
    steps = changes = 0
    while (found := made(when)).true_until is not None and (LONG or steps < 12):
        turn = datetime.fromisoformat(found.true_until.iso).astimezone(UTC)
        assert turn > when
        assert made(turn - timedelta(seconds=1)) == found
        assert made(when + (turn - when) / 2) == found
        changes += replace(made(turn), true_until=None) != replace(found, true_until=None)
        when = turn
        steps += 1
    assert found.true_until is not None or made(when + timedelta(days=900)) == found
    assert steps > 3 and changes >= steps // 3


def test_between_two_changes_the_asks_of_other_programmes_are_the_same() -> None:
    room = demonstration()
    episode = next(each for each in room.episodes if each.id == "2026-11-21")

    def made(when: datetime) -> Elsewhere:
        return on_air_pack(room, episode, when).elsewhere

    when = start_of(episode.aired, zone_named(room.station.time_zone))
    for _ in range(60 if LONG else 12):
        found = made(when)
        assert found.true_until is not None
        turn = datetime.fromisoformat(found.true_until.iso).astimezone(UTC)
        assert turn > when
        assert made(turn - timedelta(seconds=1)) == found == made(when + (turn - when) / 2)
        when = turn


def test_callers_are_told_of_other_stories_asks_while_they_are_open_and_for_a_while_after(
    tmp_path: Path,
) -> None:
    other = story(asking(title="Bring a hat", more="deadline: 2026-11-23"), aired="2026-11-20 08:00")
    room = newsroom(tmp_path, hats=other)
    found = pack(room)
    assert [ask.title for ask in found.elsewhere.live] == ["Bring a hat"] and not found.elsewhere.over
    assert [place.place.name for place in found.elsewhere.live[0].places] == ["Lowgate Hall"]
    # The host need not make a new sheet for it, and whoever answers the phone must.
    assert found.true_until is not None and found.elsewhere.true_until == found.all_true_until
    assert found.true_until != found.all_true_until
    ended = datetime(2026, 11, 24, 5, tzinfo=UTC)
    after = pack(room, ended).elsewhere
    assert not after.live and [ask.title for ask in after.over] == ["Bring a hat"]
    last = pack(room, ended + LATELY - timedelta(seconds=1)).elsewhere
    assert [ask.title for ask in last.over] == ["Bring a hat"]
    assert not any(ask.title == "Bring a hat" for ask in pack(room, ended + LATELY).elsewhere.over)


def test_what_viewers_may_not_know_is_kept_from_callers_too(tmp_path: Path) -> None:
    hidden = {
        "held": story("hold: true\n" + asking(title="One")),
        "waits": story("embargo: 2026-12-01 06:00\n" + asking(title="Two")),
        "back": story(
            "withdrawn: {date: 2026-11-20, notice: Gone.}\n" + asking(title="Three"), aired="2026-11-20"
        ),
    }
    assert pack(newsroom(tmp_path, **hidden)).elsewhere.live == ()


def test_a_word_taken_over_and_a_follow_up_are_changes_too(tmp_path: Path) -> None:
    later = story("follows: 2026/coats\n" + asking() + "say_on_air: coats", aired="2026-12-20 08:00")
    room = newsroom(tmp_path, again=later)
    over = pack(room, datetime(2026, 12, 18, tzinfo=UTC))
    assert over.true_until is not None and over.true_until.iso == "2026-12-20T08:00:00-05:00"
    after = pack(room, datetime(2026, 12, 20, 13, tzinfo=UTC))
    (before_ask,), (after_ask,) = over.shown[0].asks, after.shown[0].asks
    assert (over.shown[0].short, after.shown[0].short) == ("coats/", "")
    assert before_ask.next_step != after_ask.next_step
