"""What is worked out of stories ahead, in processes, is what would be worked out when it is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.edition.searching import TOLD, words_of
from sitegen.newsroom.records import Story
from sitegen.site.ahead import work_out_ahead
from sitegen.site.content import read_content
from sitegen.site.drawer import StoryDrawer
from sitegen.site.processes import Spread
from tests.samples.small_archive import write_archive


@pytest.fixture
def stories(tmp_path: Path) -> tuple[Story, ...]:
    newsroom = read_content(write_archive(tmp_path / "station")).newsroom
    assert newsroom is not None
    return newsroom.stories


@pytest.mark.parametrize("jobs", [1, 2])
def test_the_drawer_holds_what_each_story_says(
    stories: tuple[Story, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jobs: int
) -> None:
    monkeypatch.setattr("sitegen.site.ahead.MANY", 2)
    monkeypatch.setattr("sitegen.site.ahead.CHUNK", 2)
    marks = {story.id: story.id.encode() for story in stories[1:]}
    drawer = StoryDrawer(tmp_path, "1", marks)
    work_out_ahead(stories, drawer, Spread(jobs, None))
    assert drawer.take(TOLD, stories[0]) is None  # nothing is kept of a record without a digest
    assert [drawer.take(TOLD, story) for story in stories[1:]] == [words_of(story) for story in stories[1:]]
    drawer.save()
    later = StoryDrawer(tmp_path, "1", marks)
    assert [later.take(TOLD, story) for story in stories[1:]] == [words_of(story) for story in stories[1:]]


def test_few_are_left_to_whoever_asks(stories: tuple[Story, ...], tmp_path: Path) -> None:
    drawer = StoryDrawer(tmp_path, "1", {story.id: b"mark" for story in stories})
    work_out_ahead(stories, drawer, Spread(2, None))
    assert drawer.take(TOLD, stories[0]) is None
