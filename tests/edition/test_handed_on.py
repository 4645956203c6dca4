"""Words used again, stories told in another language, and addresses that moved or were withdrawn."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.edition.models import LeadPage, StoryPage
from tests.edition.test_routes import checks, compose, leads
from tests.samples.station_folder import asking, story


def story_page(root: Path, files: dict[str, str], name: str) -> StoryPage:
    for page in compose(root, files).edition.pages:
        if isinstance(page, StoryPage) and page.address == f"stories/{name}/":
            return page
    raise AssertionError(name)


def test_the_older_story_says_where_its_word_leads_by_now(tmp_path: Path) -> None:
    files = {
        "stories/2025/coats.md": story("say_on_air: coats\nheard_as: [coat]", aired="2025-11-22"),
        "stories/2026/coats.md": story("say_on_air: coats\nheard_as: [coat]\n" + asking()),
    }
    older = story_page(tmp_path, files, "2025/coats")
    assert [(word, ref.address) for word, ref in older.passed_on] == [("coats", "stories/2026/coats/")]
    assert not story_page(tmp_path, files, "2026/coats").passed_on


def test_nothing_is_said_of_a_word_whose_new_story_is_not_out(tmp_path: Path) -> None:
    files = {
        "stories/2025/coats.md": story("say_on_air: coats", aired="2025-11-22"),
        "stories/2026/coats.md": story("say_on_air: coats\nhold: true"),
    }
    assert not story_page(tmp_path, files, "2025/coats").passed_on


def test_a_lead_knows_whether_it_is_a_word_or_an_old_address(tmp_path: Path) -> None:
    made = compose(
        tmp_path,
        {"stories/2026/a.md": story("say_on_air: coats\nheard_as: [kotes]\nold_addresses: [/old/coats/]")},
    )
    words = {page.address: page.said for page in made.edition.pages if isinstance(page, LeadPage)}
    assert words == {"coats/": "coats", "kotes/": "kotes", "old/coats/": ""}


@pytest.mark.parametrize("front", ["say_on_air: con", "heard_as: [nul]", "old_addresses: [/old/com1/]"])
def test_a_name_that_some_hosts_keep_for_a_device_is_a_fault(tmp_path: Path, front: str) -> None:
    made = compose(tmp_path, {"stories/2026/a.md": story(front)})
    assert checks(made) == [("fault", "address-impossible")] and not leads(made)


def test_a_story_and_its_translations_name_each_other(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story(),
        "stories/2026/es.md": story("language: es\ntranslates: 2026/a"),
        "stories/2026/ht.md": story("language: ht\ntranslates: 2026/a"),
        "stories/2026/held.md": story("language: pt\ntranslates: 2026/a\nhold: true"),
        "stories/2026/other.md": story("language: es\nfollows: 2026/a"),
    }
    told = {
        name: {tag: ref.address for tag, ref in story_page(tmp_path, files, f"2026/{name}").translations}
        for name in ("a", "es", "ht", "other")
    }
    first, spanish, haitian = ("stories/2026/a/", "stories/2026/es/", "stories/2026/ht/")
    assert told == {
        "a": {"es": spanish, "ht": haitian},
        "es": {"en-US": first, "ht": haitian},
        "ht": {"en-US": first, "es": spanish},
        "other": {},
    }


def test_translations_of_a_story_that_is_not_out_still_name_each_other(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("hold: true"),
        "stories/2026/es.md": story("language: es\ntranslates: 2026/a"),
        "stories/2026/ht.md": story("language: ht\ntranslates: 2026/a"),
    }
    found = story_page(tmp_path, files, "2026/es").translations
    assert [(tag, ref.address) for tag, ref in found] == [("ht", "stories/2026/ht/")]
