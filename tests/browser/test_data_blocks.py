"""What leaves a page, in a real browser: linked data that no policy holds back, and calendars that are there to take."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser


def test_linked_data_is_read_and_nothing_runs_it(opens: Opens) -> None:
    page = opens("stories/2026/coat-closet/")
    text = page.locator("script[type='application/ld+json']").text_content()
    assert text is not None
    assert json.loads(text)["@graph"][0]["@type"] == "NewsArticle"
    assert not [said for said in opens.said if "Content Security Policy" in said or "error" in said]


def test_every_ask_of_a_story_leads_to_its_calendar(opens: Opens, demonstration: Path) -> None:
    page = opens("stories/2026/coat-closet/")
    links = page.locator("a[type='text/calendar']").all()
    assert links
    for link in links:
        file = demonstration / "stories/2026/coat-closet" / (link.get_attribute("href") or "")
        assert file.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


def test_a_county_is_followed_by_programs_that_look_for_calendars(opens: Opens) -> None:
    page = opens("counties/tidewick/")
    link = page.locator("link[rel='alternate'][type='text/calendar']")
    assert (link.get_attribute("href"), link.count()) == ("deadlines.ics", 1)
