"""Journeys by keyboard alone, with the site's script and without any."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urljoin, urlsplit

import pytest

from tests.samples.opened_pages import PHONE, Medium, first_tab

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Page

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

MEDIA = {"with script": Medium(size=PHONE), "without script": Medium(size=PHONE, script=False)}


@pytest.fixture(params=MEDIA)
def home(request: pytest.FixtureRequest, opens: Opens) -> Iterator[Page]:
    """The home page on a phone's width, with the site's script and without."""
    yield opens("", MEDIA[request.param])
    assert opens.said == []


def tab_to(page: Page, address: str) -> None:
    """Presses Tab until a link whose address ends so has focus; fails at the page's end."""
    first_tab(page)
    for _ in range(400):
        if page.evaluate("(document.activeElement.href || '')").endswith(address):
            return
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            break
    pytest.fail(f"no link to …{address} is reached by Tab on {page.url}")


def follow(page: Page, address: str) -> None:
    tab_to(page, address)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: url.endswith(address))


def heading(page: Page) -> str:
    return page.locator("h1").inner_text()


def test_the_first_tab_skips_to_the_main_part(home: Page) -> None:
    first_tab(home)
    home.keyboard.press("Enter")
    # The driver hears of a new address within a page a little later.
    home.wait_for_url(lambda url: urlsplit(url).fragment == "main")
    home.keyboard.press("Tab")
    assert home.evaluate("document.querySelector('main').contains(document.activeElement)")


def test_from_home_by_county_and_story_to_the_ask(home: Page) -> None:
    follow(home, "/counties/tidewick/")
    assert "Tidewick" in heading(home)
    link = home.get_by_role("link", name="Bring a winter coat").first.get_attribute("href")
    assert link is not None
    follow(home, urljoin(home.url, link))
    ask = home.locator(":target")
    assert ask.locator("text=Bring a winter coat").first.is_visible()
    assert ask.locator("time").first.is_visible()
    top, bottom = home.evaluate("(() => { const b = document.querySelector(':target').getBoundingClientRect(); return [b.top, b.bottom]; })()")  # fmt: skip
    assert 0 <= top < PHONE[1] and bottom > 0, "the ask is where the reader now looks"


def test_from_a_story_s_top_to_what_can_be_done(home: Page) -> None:
    home.goto(urljoin(home.url, "stories/2026/coat-closet/"))
    follow(home, "#part-do")
    home.keyboard.press("Tab")
    assert home.evaluate("document.querySelector('#part-do').contains(document.activeElement)")


def test_from_home_to_a_place(home: Page) -> None:
    follow(home, "/find/")
    follow(home, "/find/tidewick/#in-tidewick-millrace")
    follow(home, "/places/millrace-library/")
    assert heading(home) == "Millrace Library"
    assert home.locator("main .hours").first.is_visible()


def test_from_home_to_a_phone_number_that_helps(home: Page) -> None:
    follow(home, "/get-help/")
    number = home.locator("main a[href^='tel:']").first.get_attribute("href")
    assert number is not None
    tab_to(home, number)


def test_from_a_wrong_address_back_to_a_story(opens: Opens) -> None:
    page = opens("404.html", MEDIA["without script"])
    tab_to(page, "/coats/")
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: "stories/2026/coat-closet" in url)


def test_a_video_asks_its_host_only_on_a_press(demonstration: Path, opens: Opens) -> None:
    path = next(
        file.relative_to(demonstration).as_posix()
        for file in sorted(demonstration.glob("episodes/*/index.html"))
        if "<video" in file.read_text("utf-8")
    )
    page = opens(path)
    asked: list[str] = []
    source = page.locator("video").get_attribute("src")
    assert source is not None

    def note(route) -> None:  # type: ignore[no-untyped-def]
        asked.append(route.request.url)
        route.fulfill(status=200, content_type="video/mp4", body=b"")

    page.route(f"{urljoin(source, '/')}**", note)
    page.wait_for_timeout(300)
    assert asked == []
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.tagName") == "VIDEO":
            break
    assert page.evaluate("document.activeElement.tagName") == "VIDEO"
    with page.expect_response(source):
        page.keyboard.press("Space")
    assert set(asked) == {source}
    others = {urlsplit(address).netloc for address in opens.asked} - {urlsplit(opens.address).netloc}
    assert others == {urlsplit(source).netloc}
