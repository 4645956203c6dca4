"""The printed sheet for the refrigerator door: places, hours and deadlines, and little else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.samples.opened_pages import Medium

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

PAPER = Medium(size=(720, 960), paper=True)
"""About the width between the margins of a Letter or A4 sheet, in CSS pixels."""


def shown(page: Page, selector: str) -> int:
    """How many elements of a selector are printed."""
    return int(
        page.evaluate(
            "(selector) => [...document.querySelectorAll(selector)].filter(e => e.checkVisibility()).length",
            selector,
        )
    )


def test_a_story_prints_what_to_do(opens: Opens) -> None:
    page = opens("stories/2026/coat-closet/", PAPER)
    for part in (
        "h1",
        ".tag .until time",
        ".tag .name",
        ".tag .hours",
        ".mast .title",
        ".call .tel",
        "dl ul li",
    ):
        whole = page.locator(part).count()
        assert whole and shown(page, part) == whole, part
    for part in (".ways", ".copy", "img", "video", ".jump", ".more", ".foot nav", ".skip", "ul.jump"):
        assert shown(page, part) == 0, part


@pytest.mark.parametrize("path", ["counties/tidewick/", "find/", "deadlines/", "get-help/", ""])
def test_a_list_prints_its_rows_and_no_way_round_the_site(opens: Opens, path: str) -> None:
    page = opens(path, PAPER)
    assert shown(page, "main time") > 10
    for part in ("main .hours", "main .until time"):
        assert shown(page, part) == page.locator(part).count(), part
    for part in (".ways", ".jump", ".paging", ".archive", ".foot nav"):
        assert shown(page, part) == 0, part


def test_ink_is_black_on_white_whatever_the_screen(opens: Opens) -> None:
    page = opens("stories/2026/coat-closet/", Medium(size=(720, 960), colours="dark", paper=True))
    colours = page.evaluate(
        "[...document.querySelectorAll('main, main a, main p, .tag, .mark, .kind')].filter(e => e.checkVisibility())"
        ".map(e => getComputedStyle(e).color)"
    )
    assert set(colours) == {"rgb(0, 0, 0)"}
    grounds = page.evaluate(
        "[...document.querySelectorAll('body, .tag, .mark')].map(e => getComputedStyle(e).backgroundColor)"
    )
    assert set(grounds) == {"rgb(255, 255, 255)"}


def test_a_story_s_sheet_is_short(opens: Opens) -> None:
    """A drive with four asks, one of them at five places, takes no more than a sheet for each ask."""
    page = opens("stories/2026/coat-closet/", PAPER)
    assert page.pdf(format="Letter").count(b"/Type /Page\n") <= 4
