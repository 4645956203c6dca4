"""Pages that rest are the pages that would be composed: whatever happens around their stories, and in whichever order moments come."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.edition import addresses
from sitegen.edition.compose import Composer, Composition, compose_edition
from sitegen.edition.digests import digest_of
from sitegen.edition.models import RestingPage, StoryPage
from sitegen.edition.outlets import FeedEntry, FeedFile
from sitegen.edition.published import publish, records_anew
from sitegen.edition.resting import is_at_rest
from sitegen.newsroom.keeping import MemoryDrawer
from sitegen.newsroom.records import (
    Ask,
    Correction,
    CorrectionKind,
    ListingEntry,
    Newsroom,
    Photo,
    Picture,
    Story,
    Video,
    When,
    Withdrawn,
)
from sitegen.site.content import read_content
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2027, 2, 1, 17, tzinfo=UTC)
FILES = {
    "stories/2025/coats.md": story(
        asking(more="deadline: 2025-12-15") + "say_on_air: coats\nheard_as: [jackets]\ncorrections:\n  - {date: 2027-02-03, text: The hour was wrong.}",
        "See [the lights](2025/lights).",
        "2025-11-21",
    ),
    "stories/2025/lights.md": story("follows: 2024/lights", "Lights.", "2025-11-21", "Gull Bank"),
    "stories/2024/lights.md": story("topics: [lights]", "Old.", "2024-11-22"),
    "stories/2024/called-off.md": story(
        asking("go", "See the sea", "dates: 2027-02-01..2027-02-08\nhours: Mo-Su 17:00-21:00\nstopped: {when: 2027-01-30, say: It is off.}"),
        "The sea.",
        "2024-11-22",
    ),
    "stories/2026/quilts.md": story(
        asking(more="deadline: ongoing\ncheck_again_by: 2027-02-04").replace(
            "[lowgate-hall]",
            '[{name: Sea Hall, town: Sandy End, county: Gull Bank, hours: "Mo-Su 09:00-17:00", closed: [2027-02-02]}]',
        ),
        "Quilts.",
        "2026-02-02",
    ),
    "stories/2026/later.md": story("embargo: 2027-02-02 18:30\nfollows: 2025/lights", "Later.", "2026-11-27"),
    "episodes/2025-11-21.md": "---\naired: 2025-11-21 18:30\ntitle: Coats and lights\nrundown:\n  - {story: 2025/coats}\n"
    "  - {story: 2025/lights}\n---\nNotes.\n",
    "pages/about.md": "---\ntitle: About us\n---\nWho we are.\n",
}  # fmt: skip


@pytest.fixture
def newsroom(tmp_path: Path) -> Newsroom:
    reading = read_content(write_folder(tmp_path, FILES))
    assert reading.newsroom is not None and not reading.faults, reading.findings
    return reading.newsroom


def digests(composition: Composition) -> dict[str, bytes]:
    return {page.address: digest_of(page) for page in composition.edition.pages}


def fed(composition: Composition) -> dict[str, tuple[FeedEntry, ...]]:
    """What feeds hold, which their models have only marks of."""
    return {file.address: file.entries for file in composition.edition.files if isinstance(file, FeedFile)}


def held_against_all_composed(newsroom: Newsroom, moment: datetime, drawer: MemoryDrawer) -> set[str]:
    """The addresses of the pages that rest in an edition; everything in it is as in one without a drawer."""
    resting, fresh = compose_edition(newsroom, moment, drawer=drawer), compose_edition(newsroom, moment)
    told = digests(resting) | {page.address: page.digest for page in resting.edition.resting}
    assert told == digests(fresh)
    assert len(told) == resting.edition.count == len(fresh.edition.pages)
    for page in resting.edition.resting:
        assert digest_of(resting.composer.woken(page)) == page.digest
    assert (resting.edition.files[:-1], resting.edition.assets) == (
        fresh.edition.files[:-1],
        fresh.edition.assets,
    )
    assert fed(resting) == fed(fresh)
    assert (resting.edition.true_until, resting.findings) == (fresh.edition.true_until, fresh.findings)
    held_against_all_left(newsroom, moment, drawer, fresh)
    resting.composer.remember(digests(resting))
    return {page.address for page in resting.edition.resting}


def held_against_all_left(
    newsroom: Newsroom, moment: datetime, drawer: MemoryDrawer, fresh: Composition
) -> None:
    """Where pages at rest are left to whoever makes pages, they come out the same, and so does all else."""
    left = compose_edition(newsroom, moment, drawer=drawer, leaves_resting=True)
    edition, whole = left.edition, fresh.edition
    assert {page.address for page in edition.resting} == {
        addresses.story(each.story.id)
        for each in left.composer.published.stories.values()
        if is_at_rest(each)
    }
    for page in edition.resting:
        digest = digest_of(left.composer.woken(page))
        assert page.digest in (b"", digest)
    woken = {page.address: digest_of(left.composer.woken(page)) for page in edition.resting}
    assert digests(left) | woken == digests(fresh)
    assert (edition.files, edition.assets, edition.true_until) == (
        whole.files,
        whole.assets,
        whole.true_until,
    )
    assert fed(left) == fed(fresh)
    assert (left.findings, edition.count) == (fresh.findings, whole.count)


def with_story(newsroom: Newsroom, name: str, **changes: object) -> Newsroom:
    """The newsroom with one record that is another; all others are the same objects, as a drawer in memory wants them."""
    return replace(
        newsroom,
        stories=tuple(
            replace(each, **changes) if each.id == name else each  # type: ignore[arg-type]
            for each in newsroom.stories
        ),
    )


def test_what_is_over_rests(newsroom: Newsroom) -> None:
    drawer = MemoryDrawer()
    assert held_against_all_composed(newsroom, NOW, drawer) == set()
    assert held_against_all_composed(newsroom, NOW, drawer) == {
        "stories/2025/coats/",
        "stories/2025/lights/",
        "stories/2024/lights/",
    }


MOMENTS = tuple(timedelta(days=days) for days in (0, 1, 2, 3, 1, 4, 400, -200, -440, -600, 0, 0))


def test_moments_in_any_order(newsroom: Newsroom) -> None:
    """A correction comes, a year since airing passes, an ask lapses, a story is released, and all of it is undone."""
    drawer = MemoryDrawer()
    rested = [held_against_all_composed(newsroom, NOW + after, drawer) for after in MOMENTS]
    assert rested[1] and rested[-1]


Change = Callable[[Newsroom], Newsroom]


def _renamed(room: Newsroom) -> Newsroom:
    return replace(room, station=replace(room.station, programme="Another Hour"))


def _without(name: str) -> Change:
    return lambda room: replace(room, stories=tuple(each for each in room.stories if each.id != name))


def _retold(room: Newsroom) -> Newsroom:
    other = next(each for each in room.stories if each.id == "2024/lights")
    return replace(
        room, stories=(*room.stories, replace(other, id="2024/luces", translates=other.id, language="es"))
    )


CHANGES: dict[str, Change] = {
    "the follow-up's headline": lambda room: with_story(room, "2025/lights", headline="Another one"),
    "what it follows": lambda room: with_story(room, "2024/lights", headline="Another one"),
    "no follow-up": _without("2025/lights"),
    "held": lambda room: with_story(room, "2025/lights", hold=True),
    "a translation": _retold,
    "the episode's title": lambda room: replace(
        room, episodes=tuple(replace(each, title="Renamed") for each in room.episodes)
    ),
    "no episode": lambda room: replace(room, episodes=()),
    "the short word is another's": lambda room: with_story(
        room, "2026/quilts", say_on_air="coats", asks=room.stories[0].asks
    ),
    "a word it was heard as is another's": lambda room: with_story(
        room, "2026/quilts", say_on_air="jackets", asks=room.stories[0].asks
    ),
    "the station": _renamed,
    "a station page": lambda room: replace(
        room, pages=tuple(replace(each, title="Renamed") for each in room.pages)
    ),
    "a county's name": lambda room: replace(
        room,
        station=replace(
            room.station, counties=tuple(replace(each, name=f"{each.name} II") for each in room.station.counties)
        ),
    ),
    "withdrawn": lambda room: with_story(room, "2024/lights", withdrawn=Withdrawn(date(2027, 1, 1), "It was wrong.")),
}  # fmt: skip


def test_a_feed_of_stories_at_rest_composes_none_before_it_is_made(
    newsroom: Newsroom, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawer = MemoryDrawer()
    held_against_all_composed(newsroom, NOW, drawer)
    composed: list[str] = []
    real = Composer.woken

    def noted(composer: Composer, page: RestingPage) -> StoryPage:
        composed.append(page.address)
        return real(composer, page)

    monkeypatch.setattr(Composer, "woken", noted)
    files = compose_edition(newsroom, NOW, drawer=drawer, leaves_resting=True).edition.files
    assert not composed
    feed = next(file for file in files if isinstance(file, FeedFile))
    assert {entry.address for entry in feed.entries} > set(composed) > set()


def test_a_feed_is_another_when_what_it_tells_of_a_story_at_rest_is(newsroom: Newsroom) -> None:
    """Whatever of a story the feed says: its headline, its text, when it was changed last, its name."""

    def told(room: Newsroom) -> tuple[bytes, tuple[FeedEntry, ...]]:
        composition = compose_edition(room, NOW, drawer=MemoryDrawer(), leaves_resting=True)
        feed = next(file for file in composition.edition.files if isinstance(file, FeedFile))
        return digest_of(feed), feed.entries

    correction = Correction(date(2027, 1, 2), CorrectionKind.CORRECTION, "The hour was wrong.")
    alone_that_day = _without("2024/called-off")(newsroom)  # else its release decides on the order, too
    corrected = with_story(alone_that_day, "2024/lights", corrections=(correction,))
    before = told(corrected)
    for changes in (
        {"headline": "Another one"},
        {"galley": "<p>Another text.</p>\n"},
        {"old_addresses": ("lights-of-old/",)},
        {"embargo": When(date(2024, 11, 23))},  # the last change stays that of the correction
        {"corrections": ()},
    ):
        now = told(with_story(corrected, "2024/lights", **changes))
        assert now[1] != before[1] and now[0] != before[0], changes


@pytest.mark.parametrize("name", CHANGES)
def test_what_others_say_wakes_a_page(newsroom: Newsroom, name: str) -> None:
    drawer = MemoryDrawer()
    held_against_all_composed(newsroom, NOW, drawer)
    assert held_against_all_composed(newsroom, NOW, drawer)
    changed = CHANGES[name](newsroom)
    assert changed != newsroom or changed.stories != newsroom.stories
    before = digests(compose_edition(newsroom, NOW))
    assert digests(compose_edition(changed, NOW)) != before
    held_against_all_composed(changed, NOW, drawer)
    held_against_all_composed(newsroom, NOW, drawer)


def test_a_picture_whose_rights_end_wakes_a_page(newsroom: Newsroom) -> None:
    photo = Photo(
        Picture("content/photos/a.jpg", 1600, 900, "0" * 64), "A lamp", rights_end=When(date(2027, 2, 2))
    )
    room = with_story(newsroom, "2024/lights", photo=photo)
    drawer = MemoryDrawer()
    for after in MOMENTS:
        held_against_all_composed(room, NOW + after, drawer)


def test_what_has_a_video_or_a_round_up_never_rests(newsroom: Newsroom) -> None:
    video = Video("https://video.example.org/a.mp4", runs=60)
    row = ListingEntry("Market", "Sandy End", "gull-bank", date(2024, 12, 1))
    for changes in ({"video": video}, {"listing": (row,)}):
        room, drawer = with_story(newsroom, "2024/lights", **changes), MemoryDrawer()
        for _ in range(2):
            assert "stories/2024/lights/" not in held_against_all_composed(room, NOW, drawer)


def test_what_was_called_off_does_not_rest_while_a_calendar_has_it(newsroom: Newsroom) -> None:
    drawer = MemoryDrawer()
    for _ in range(2):
        assert "stories/2024/called-off/" not in held_against_all_composed(newsroom, NOW, drawer)


def test_another_record_is_composed(newsroom: Newsroom) -> None:
    drawer = MemoryDrawer()
    held_against_all_composed(newsroom, NOW, drawer)
    changed = with_story(newsroom, "2024/lights", headline="Another one")
    assert "stories/2024/lights/" not in held_against_all_composed(changed, NOW, drawer)


class Elsewhere:
    """Has the records of stories that were left packed."""

    def __init__(self, stories: tuple[Story, ...]) -> None:
        self._stories = {each.id: each for each in stories}

    def __call__(self, story: Story) -> tuple[tuple[Ask, ...], str, str]:
        whole = self._stories[story.id]
        return whole.asks, whole.body, whole.galley

    def whole(self, name: str) -> Story:
        return self._stories[name]


def test_a_page_is_composed_of_a_record_of_its_own_where_all_lie_in_one_place(newsroom: Newsroom) -> None:
    left = replace(newsroom, stories=tuple(replace(each) for each in newsroom.stories))
    place = Elsewhere(newsroom.stories)
    published = publish(left, NOW)
    name = "2024/lights"
    assert records_anew(published)(name) is published.stories[name].story
    for each in left.stories[1:]:
        each.leave_packed(place)
    assert records_anew(published)(name) is published.stories[name].story  # one lies nowhere else
    left.stories[0].leave_packed(place)
    assert records_anew(published)(name) is place.whole(name) is not published.stories[name].story
    held_against_all_left(left, NOW, MemoryDrawer(), compose_edition(newsroom, NOW))
