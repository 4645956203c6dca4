"""Addresses: each belongs to one thing, short words go to the right story, body links lead somewhere or lose their link."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from sitegen.edition.compose import Composition, compose_edition
from sitegen.edition.models import LeadPage, StoryPage
from sitegen.newsroom.records import Weight
from sitegen.site.content import read_content
from tests.samples.station_folder import asking, story, write_folder

NOW = datetime(2026, 12, 1, 12, tzinfo=UTC)


def compose(root: Path, files: dict[str, str], now: datetime = NOW) -> Composition:
    reading = read_content(write_folder(root, files))
    assert not reading.faults, reading.faults
    assert reading.newsroom is not None
    return compose_edition(reading.newsroom, now)


def leads(composition: Composition) -> dict[str, str]:
    return {
        page.address: page.story.address for page in composition.edition.pages if isinstance(page, LeadPage)
    }


def checks(composition: Composition) -> list[tuple[str, str]]:
    return [(finding.weight.value, finding.check) for finding in composition.findings]


def test_word_of_two_years_goes_to_the_story_with_something_to_do(tmp_path: Path) -> None:
    made = compose(
        tmp_path,
        {
            "stories/2025/coats.md": story("say_on_air: coats", aired="2025-11-22"),
            "stories/2026/coats.md": story("say_on_air: coats\n" + asking(), aired="2026-11-07"),
            "stories/2026/report.md": story("heard_as: [coats]", aired="2026-11-28"),
        },
    )
    assert leads(made) == {"coats/": "stories/2026/coats/"}
    assert not made.findings


def test_word_without_any_open_ask_goes_to_the_newest_story(tmp_path: Path) -> None:
    made = compose(
        tmp_path,
        {
            "stories/2025/coats.md": story("say_on_air: coats", aired="2025-11-22"),
            "stories/2026/coats.md": story("say_on_air: coats", aired="2026-11-07"),
        },
    )
    assert leads(made) == {"coats/": "stories/2026/coats/"}


def test_word_of_two_stories_that_both_have_open_asks_is_a_fault_only_while_both_have(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("say_on_air: coats\n" + asking(more="deadline: 2026-12-05")),
        "stories/2026/b.md": story("say_on_air: coats\n" + asking()),
    }
    made = compose(tmp_path, files)
    assert checks(made) == [("fault", "word-twice"), ("fault", "word-twice")]
    later = compose(tmp_path, files, datetime(2026, 12, 7, tzinfo=UTC))
    assert not later.findings and leads(later) == {"coats/": "stories/2026/b/"}


def test_word_that_is_one_of_the_sites_own_addresses_is_a_fault(tmp_path: Path) -> None:
    made = compose(tmp_path, {"stories/2026/a.md": story("say_on_air: find")})
    assert checks(made) == [("fault", "address-taken")]
    assert not leads(made)


def test_word_that_is_a_station_page_is_a_fault(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("say_on_air: about"),
        "pages/about.md": "---\ntitle: About\n---\nUs.\n",
    }
    assert checks(compose(tmp_path, files)) == [("fault", "address-taken")]


def test_old_address_of_two_stories_is_a_fault(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story("old_addresses: [/old/coats/]"),
        "stories/2026/b.md": story("old_addresses: [/old/coats/]"),
    }
    assert checks(compose(tmp_path, files)) == [("fault", "address-taken")]


def test_old_address_leads_to_its_story_at_any_depth(tmp_path: Path) -> None:
    made = compose(tmp_path, {"stories/2026/a.md": story("old_addresses: [/old/coats/, /news/2026/coat/]")})
    assert leads(made) == {"old/coats/": "stories/2026/a/", "news/2026/coat/": "stories/2026/a/"}


def test_hidden_story_has_no_short_and_no_old_address(tmp_path: Path) -> None:
    made = compose(
        tmp_path, {"stories/2026/a.md": story("hold: true\nsay_on_air: coats\nold_addresses: [/old/coats/]")}
    )
    assert not leads(made)


def body_links(composition: Composition, address: str) -> dict[str, str]:
    for page in composition.edition.pages:
        if isinstance(page, StoryPage) and page.address == address:
            return dict(page.body.links)
    raise AssertionError(address)


def test_links_to_stories_and_site_addresses_resolve(tmp_path: Path) -> None:
    made = compose(
        tmp_path,
        {
            "stories/2025/old.md": story(aired="2025-11-22"),
            "stories/2026/a.md": story(
                body="[then](2025/old) [there](/counties/heron-flats/) [out](https://example.org/) [slash](/deadlines)"
            ),
        },
    )
    assert body_links(made, "stories/2026/a/") == {
        "2025/old": "stories/2025/old/",
        "/counties/heron-flats/": "counties/heron-flats/",
        "/deadlines": "deadlines/",
    }
    assert not made.findings


def test_link_to_an_unpublished_story_keeps_its_words_and_is_a_concern(tmp_path: Path) -> None:
    made = compose(
        tmp_path,
        {
            "stories/2026/held.md": story("hold: true"),
            "stories/2026/a.md": story(body="[one](2026/held) [two](/stories/2026/held/)"),
        },
    )
    assert body_links(made, "stories/2026/a/") == {"2026/held": "", "/stories/2026/held/": ""}
    assert {finding.weight for finding in made.findings} == {Weight.CONCERN}
    assert made.findings[0].spot.path == "content/stories/2026/a.md"


def test_link_to_no_address_of_the_site_is_a_located_fault(tmp_path: Path) -> None:
    made = compose(tmp_path, {"stories/2026/a.md": story(body="First.\n\n[x](/nowhere/)")})
    (finding,) = made.findings
    assert (finding.weight, finding.check, finding.spot.line) == (Weight.FAULT, "link-nowhere", 9)
