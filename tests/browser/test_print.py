"""The printed sheet for the refrigerator door: places, hours and deadlines, and little else."""

from __future__ import annotations

import re
from io import BytesIO
from typing import TYPE_CHECKING, Literal

import pytest

from tests.samples.opened_pages import Medium
from tests.samples.served_site import FOLDER

if TYPE_CHECKING:
    from pathlib import Path

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
        ".code svg",
        ".code bdi",
    ):
        whole = page.locator(part).count()
        assert whole and shown(page, part) == whole, part
    for part in (".ways", ".copy", "img", "video", ".jump", ".more", ".foot nav", ".skip", "ul.jump"):
        assert shown(page, part) == 0, part


@pytest.mark.parametrize("colours", ["light", "dark"])
def test_a_story_s_code_is_read_from_the_sheet_and_leads_back_to_it(
    opens: Opens, demonstration: Path, colours: Literal["light", "dark"]
) -> None:
    import zxingcpp
    from PIL import Image

    path = "stories/2026/coat-closet/"
    page = opens(path, Medium(size=PAPER.size, colours=colours, paper=True))
    (found,) = zxingcpp.read_barcodes(Image.open(BytesIO(page.screenshot())))
    assert found.text == f"https://www.example.org/{FOLDER}/{path}"
    assert page.locator(".code bdi").inner_text() == f"www.example.org/{FOLDER}/coats"
    assert (demonstration / "coats" / "index.html").exists()
    edges = page.locator(".code svg").bounding_box()
    assert edges is not None
    # 25 mm, with 96 pixels to an inch: what a phone at arm's length from a refrigerator reads. Common practice, no source.
    assert edges["width"] >= 25 / 25.4 * 96
    below = page.locator(".code").bounding_box()
    tag = page.locator(".tag").first.bounding_box()
    assert below is not None and tag is not None and below["y"] + below["height"] <= tag["y"]


def test_the_code_is_for_paper_alone_and_for_stories_that_still_matter(
    opens: Opens, demonstration: Path
) -> None:
    assert shown(opens("stories/2026/coat-closet/", Medium()), ".code, .code *") == 0
    with_code = {
        path.relative_to(demonstration).as_posix()
        for path in demonstration.rglob("*.html")
        if '<div class="code">' in path.read_text("utf-8")
    }
    programme = card_of(demonstration / "index.html")
    stories = [
        path.relative_to(demonstration).as_posix() for path in demonstration.glob("stories/*/*/index.html")
    ]
    # Those taken back have no picture at all.
    own_card = {path for path in stories if card_of(demonstration / path) not in ("", programme)}
    assert with_code == own_card
    assert 20 < len(with_code) < len(stories)


def card_of(page: Path) -> str:
    found = re.search(r'og:image" content="([^"]+)"', page.read_text("utf-8"))
    return found[1] if found else ""


def test_a_round_up_prints_its_towns_beside_each_other(opens: Opens) -> None:
    page = opens("stories/2026/parades/", PAPER)
    towns = page.locator(".by-town h4").evaluate_all(
        "each => each.map(town => town.getBoundingClientRect().x)"
    )
    rows = page.locator(".by-town li").evaluate_all(
        "each => each.map(row => row.getBoundingClientRect().right)"
    )
    assert len(set(towns)) == 2 and max(towns) > PAPER.size[0] / 2
    assert max(rows) <= PAPER.size[0]


@pytest.mark.parametrize("path", ["counties/tidewick/", "find/tidewick/", "deadlines/", "get-help/", ""])
def test_a_list_prints_its_rows_and_no_way_round_the_site(opens: Opens, path: str) -> None:
    page = opens(path, PAPER)
    assert shown(page, "main time") > 10
    for part in ("main .hours", "main .until time"):
        assert shown(page, part) == page.locator(part).count(), part
    for part in (".ways", ".jump", ".paging", ".archive", ".foot nav"):
        assert shown(page, part) == 0, part


@pytest.mark.parametrize(
    "path", ["counties/tidewick/", "places/millrace-library/", "find/tidewick/", "find/", "deadlines/", "get-help/", ""]
)  # fmt: skip
def test_a_list_s_sheet_says_where_to_look_again(opens: Opens, path: str) -> None:
    assert shown(opens(path, Medium()), ".code, .code *") == 0
    line = opens(path, PAPER).locator("main .code")
    assert line.is_visible()
    told = f"www.example.org/{FOLDER}/{path}".removesuffix("/")
    assert line.inner_text() == f"Look here before you go: {told}"
    # All in one line of its own, beside nothing.
    assert line.evaluate("line => getComputedStyle(line).float") == "none"


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
