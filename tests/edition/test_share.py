"""What a story's share picture says, and when a story has one of its own."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitegen.edition.compose import compose_edition
from sitegen.edition.models import LeadPage, ShareView, StoryPage
from sitegen.site.content import read_content
from tests.samples.station_folder import story, write_folder

NOW = datetime(2026, 11, 25, 15, tzinfo=UTC)

ASKS = """asks:
  - {title: A bed for the night, kind: get help, deadline: 2026-12-01, where: [lowgate-hall], contact: {phone: 237-555-0142}}
  - {title: Bring what is over, kind: bring, deadline: 2026-11-20, where: [lowgate-hall]}
  - {title: Bring a coat, kind: bring, deadline: 2026-12-15, where: [lowgate-hall]}
  - {title: Bring a hat, kind: bring, deadline: 2026-12-10, where: [lowgate-hall]}
"""
HELP = "\n".join(ASKS.splitlines()[:2])
OVER = "\n".join([ASKS.splitlines()[0], ASKS.splitlines()[2]])


def shared(
    folder: Path, front: str, aired: str, now: datetime = NOW
) -> tuple[ShareView | None, datetime | None]:
    reading = read_content(write_folder(folder, {"stories/2026/a.md": story(front, aired=aired)}))
    assert reading.newsroom is not None and not reading.faults
    edition = compose_edition(reading.newsroom, now).edition
    (page,) = (page for page in edition.pages if isinstance(page, StoryPage))
    return page.share, edition.true_until


@pytest.mark.parametrize(
    ("front", "title"), [(ASKS, "Bring a coat"), (HELP, "A bed for the night"), (OVER, None), ("", None)]
)
def test_it_says_the_first_live_ask_of_the_giving_side(tmp_path: Path, front: str, title: str | None) -> None:
    share, _ = shared(tmp_path, front, "2026-11-01")
    assert share is not None
    assert (share.ask.title if share.ask else None) == title


def test_an_old_story_has_one_only_while_something_is_live(tmp_path: Path) -> None:
    assert shared(tmp_path, OVER, "2024-11-01")[0] is None
    live, _ = shared(tmp_path, ASKS, "2024-11-01")
    assert live is not None and live.ask is not None


def test_the_edition_ends_when_a_year_has_passed_since_the_air_date(tmp_path: Path) -> None:
    share, until = shared(tmp_path, "", "2025-12-01")
    assert share == ShareView(None) and until == datetime(2026, 12, 1, 5, tzinfo=UTC)
    share, until = shared(tmp_path, "", "2025-12-01", until)
    assert share is None and until is None


def test_short_addresses_show_what_their_storys_page_shows(tmp_path: Path) -> None:
    written = story("say_on_air: beds\n" + ASKS, aired="2026-11-01")
    reading = read_content(write_folder(tmp_path, {"stories/2026/a.md": written}))
    assert reading.newsroom is not None and not reading.faults
    pages = compose_edition(reading.newsroom, NOW).edition.pages
    (page,) = (page for page in pages if isinstance(page, StoryPage))
    (lead,) = (page for page in pages if isinstance(page, LeadPage))
    assert page.share is not None and page.share.ask is not None
    assert (lead.share, lead.counties, lead.story.label) == (page.share, page.counties, page.headline)
