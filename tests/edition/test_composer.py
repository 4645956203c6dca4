"""One page composed by itself is the page of the whole edition, and kept parts change nothing."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.edition.compose import Composer, compose_edition
from sitegen.edition.published import OVER, Kept, publish
from sitegen.newsroom.keeping import MemoryDrawer
from sitegen.newsroom.records import Newsroom, Story, When, Withdrawn
from sitegen.site.content import read_content

ROOT = Path(__file__).resolve().parents[2]
NOW = datetime(2026, 12, 2, 17, tzinfo=UTC)
MOMENTS = (NOW, NOW + timedelta(days=9), NOW - timedelta(days=400), datetime(2000, 1, 1, tzinfo=UTC))


@pytest.fixture(scope="module")
def demonstration() -> Newsroom:
    newsroom = read_content(ROOT).newsroom
    assert newsroom is not None
    return newsroom


@pytest.mark.parametrize("moment", MOMENTS, ids=str)
def test_each_page_alone_is_the_page_of_the_whole(demonstration: Newsroom, moment: datetime) -> None:
    whole = compose_edition(demonstration, moment).edition
    addresses = [page.address for page in whole.pages]
    random.Random(5).shuffle(addresses)
    alone = Composer(demonstration, moment)
    made = {address: alone.page(address) for address in addresses}
    assert made == {page.address: page for page in whole.pages}
    assert set(alone.gallery.assets) == {asset.address for asset in whole.assets}


def test_the_first_page_asked_for_needs_no_other_before_it(demonstration: Newsroom) -> None:
    for page in compose_edition(demonstration, NOW).edition.pages[::17]:
        assert Composer(demonstration, NOW).page(page.address) == page


def test_what_is_not_in_the_edition_has_no_page(demonstration: Newsroom) -> None:
    composer = Composer(demonstration, datetime(2026, 11, 1, tzinfo=UTC))
    for address in ("stories/2026/coat-closet/", "nowhere/", "stories/", "counties", "feed.atom", "coats/x/"):
        assert composer.page(address) is None
        assert not composer.has(address)


def test_kept_stories_hold_only_while_they_are_true(demonstration: Newsroom) -> None:
    kept = Kept()
    moments = [NOW + timedelta(hours=step) for step in random.Random(7).sample(range(-900, 900), 25)]
    for moment in moments:
        fresh, after = publish(demonstration, moment), publish(demonstration, moment, kept)
        assert after.stories == fresh.stories
        assert after.until.first == fresh.until.first


def test_kept_stories_follow_what_is_written(demonstration: Newsroom) -> None:
    kept = Kept()
    publish(demonstration, NOW, kept)

    def edited(story: Story) -> Story:
        return replace(story, headline="Another", asks=()) if story.id == "2026/coat-closet" else story

    changed = replace(demonstration, stories=tuple(map(edited, demonstration.stories)))
    assert publish(changed, NOW, kept).stories == publish(changed, NOW).stories
    released = replace(
        demonstration,
        station=replace(demonstration.station, last_days=9),
        episodes=tuple(replace(episode, hold=True) for episode in demonstration.episodes),
    )
    assert publish(released, NOW, kept).stories == publish(released, NOW).stories


def test_kept_stories_follow_their_episodes(demonstration: Newsroom) -> None:
    kept = Kept()
    chance = random.Random(3)
    newsroom = demonstration
    for _ in range(12):
        place = chance.randrange(len(newsroom.episodes))
        changed = replace(newsroom.episodes[place], hold=not newsroom.episodes[place].hold)
        newsroom = replace(
            newsroom, episodes=(*newsroom.episodes[:place], changed, *newsroom.episodes[place + 1 :])
        )
        fresh, after = publish(newsroom, NOW), publish(newsroom, NOW, kept)
        assert after.stories == fresh.stories
        assert (after.withdrawn, after.until.first) == (fresh.withdrawn, fresh.until.first)


def test_stories_by_which_nothing_can_be_done_are_kept_as_long_as_that_holds(demonstration: Newsroom) -> None:
    """Moments that go back and forth, and now and then another setting, another episode, or a story that is to be withdrawn."""
    drawer = MemoryDrawer()
    chance = random.Random(13)
    newsroom = demonstration
    taken = 0
    for step in range(30):
        moment = NOW + timedelta(hours=chance.randrange(-900, 9000))
        if step % 5 == 1:
            station = replace(newsroom.station, last_days=chance.randrange(9))
            newsroom = replace(newsroom, station=station)
        if step % 5 == 2:
            place = chance.randrange(len(newsroom.episodes))
            episode = newsroom.episodes[place]
            aired = When(episode.aired.day + timedelta(days=chance.randrange(-9, 9)), episode.aired.clock)
            is_moved = chance.random() < 0.5
            changed = replace(episode, aired=aired) if is_moved else replace(episode, hold=not episode.hold)
            newsroom = replace(
                newsroom, episodes=(*newsroom.episodes[:place], changed, *newsroom.episodes[place + 1 :])
            )
        if step % 5 == 3:
            place = chance.randrange(len(newsroom.stories))
            story = replace(
                newsroom.stories[place], withdrawn=Withdrawn((moment + timedelta(days=9)).date(), "Gone.")
            )
            newsroom = replace(
                newsroom, stories=(*newsroom.stories[:place], story, *newsroom.stories[place + 1 :])
            )
        fresh = publish(newsroom, moment)
        for after in (publish(newsroom, moment, drawer=drawer), publish(newsroom, moment, drawer=drawer)):
            assert after.stories == fresh.stories
            assert (after.withdrawn, after.until.first) == (fresh.withdrawn, fresh.until.first)
        taken += sum(drawer.take(OVER, story) is not None for story in newsroom.stories)
    assert taken


def test_until_when_an_edition_is_true_needs_no_search(demonstration: Newsroom) -> None:
    for hours in random.Random(11).sample(range(-2000, 900), 8):
        moment = NOW + timedelta(hours=hours)
        assert (
            Composer(demonstration, moment).true_until
            == compose_edition(demonstration, moment).edition.true_until
        )


def test_an_edition_of_kept_stories_is_the_same(demonstration: Newsroom) -> None:
    kept = Kept()
    for moment in (NOW, NOW + timedelta(days=3), NOW + timedelta(days=1)):
        one, other = compose_edition(demonstration, moment, kept), compose_edition(demonstration, moment)
        assert (one.edition, one.findings) == (other.edition, other.findings)
