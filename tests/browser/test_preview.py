"""The preview and the desk in a browser: by keyboard alone, judged by an accessibility engine, narrow, without script, reloading."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from shutil import copytree
from typing import TYPE_CHECKING

import pytest

from sitegen.desk.server import DeskServer, running
from tests.browser.test_accessibility import judged
from tests.counts import LONG
from tests.samples.opened_pages import PHONE, Medium, Opens, first_tab

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
STORY = "stories/2026/coat-closet/"
MEDIA = {
    "light": Medium(),
    "dark": Medium(colours="dark"),
    "paper": Medium(paper=True),
    "forced colours": Medium(forced=True, colours="dark"),
    "phone": Medium(size=PHONE),
}
PATHS = {
    "desk": "_desk/",
    "desk, later": "_desk/?at=2026-12-20T10:00",
    "story with its bar": STORY,
    "held story": "_desk/held/now/stories/2026/held/",
    "nothing there": "stories/2026/held/",
    "faulty story": "stories/2026/toy-shelf/",
    "walk's end": "_desk/go?page=&at=2090-01-01T00:00&step=next",
}

IN_EVERY_MEDIUM = ("desk", "story with its bar")
SEEN = [
    (path, medium)
    for path in PATHS
    for medium in MEDIA
    if LONG or medium == "light" or path in IN_EVERY_MEDIUM
]


@pytest.fixture(scope="module")
def preview(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DeskServer]:
    root = tmp_path_factory.mktemp("previewed")
    copytree(ROOT / "content", root / "content")
    held = "---\nheadline: A story on hold\naired: 2026-11-28\ncounty: Tidewick\nhold: true\n---\nWords.\n"
    (root / "content/stories/2026/held.md").write_text(held, "utf-8")
    with running(root, 0, "", lambda: datetime(2026, 12, 2, 17, tzinfo=UTC)) as server:
        toys = root / "content/stories/2026/toy-shelf.md"
        toys.write_text(toys.read_text("utf-8").replace("headline:", "nonsense: 1\nheadline:", 1), "utf-8")
        server.state.refresh()
        yield server


@pytest.fixture
def sees(browser: Browser, preview: DeskServer) -> Iterator[Opens]:
    opener = Opens(browser, preview.address)
    yield opener
    opener.close()


def save(server: DeskServer, name: str, old: str, new: str) -> None:
    path = server.state.root / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


@pytest.mark.parametrize(("path", "medium"), SEEN)
def test_the_engine_finds_nothing(sees: Opens, path: str, medium: str) -> None:
    page = sees(PATHS[path], MEDIA[medium])
    violations, open_questions = judged(page, MEDIA[medium])
    assert not violations
    assert not open_questions


@pytest.mark.parametrize("path", PATHS)
def test_nothing_scrolls_sideways_on_the_narrowest_screen(sees: Opens, path: str) -> None:
    page = sees(PATHS[path], Medium(size=PHONE))
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE[0]


@pytest.mark.parametrize("path", PATHS)
def test_no_page_complains(sees: Opens, path: str) -> None:
    page = sees(PATHS[path])
    page.wait_for_timeout(100)
    assert [each for each in sees.said if "404" not in each] == []
    assert {url for url in sees.asked if not url.startswith((sees.address, "data:", "blob:"))} == set()


def focused(page: Page) -> str:
    """What the keyboard is in, through shadow trees."""
    return str(
        page.evaluate(
            "() => { let at = document.activeElement; while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;"
            " return (at.textContent || at.id || at.tagName).trim(); }"
        )
    )


def tab_to(page: Page, words: str) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if focused(page) == words:
            return
    raise AssertionError(f"no Tab leads to {words}")


def test_time_is_walked_by_keyboard_alone(sees: Opens) -> None:
    page = sees(STORY)
    first_tab(page)
    assert focused(page) == "Skip to the page"
    tab_to(page, "Next change")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.url.endswith(f"/_desk/at/2026-12-02T14:00/{STORY}")
    tab_to(page, "Next change")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    later = page.url
    assert later > f"{sees.address}_desk/at/2026-12-02T14:00/"
    tab_to(page, "Previous change")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.url.endswith(f"/_desk/at/2026-12-02T14:00/{STORY}")
    tab_to(page, "Back to the desk’s moment")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.url == sees.address + STORY


def test_a_moment_is_typed_by_keyboard_alone(sees: Opens) -> None:
    page = sees(STORY)
    tab_to(page, "moment")
    page.keyboard.type("12202026")
    page.keyboard.press("Tab")
    page.keyboard.type("1000AM")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.url.endswith(f"/_desk/at/2026-12-20T10:00/{STORY}")


def test_links_of_the_page_stay_in_the_moment(sees: Opens) -> None:
    page = sees(f"_desk/at/2026-12-20T10:00/{STORY}")
    page.get_by_role("link", name="Deadlines", exact=True).click()
    page.wait_for_url("**/_desk/at/2026-12-20T10:00/deadlines/")


def test_the_script_of_a_page_lives_in_the_moment(sees: Opens) -> None:
    page = sees(f"_desk/at/2026-12-20T10:00/{STORY}")
    now = page.evaluate(
        "[new Date().toISOString(), new Date(Date.now()).toISOString(), Date().slice(11, 15), new Date(0).getTime()]"
    )
    assert now[0].startswith("2026-12-20T15:0") and now[1].startswith("2026-12-20T15:0")
    assert now[2:] == ["2026", 0]


def test_without_script_the_bar_is_there_and_works(sees: Opens) -> None:
    page = sees(STORY, Medium(script=False))
    page.get_by_role("button", name="Next change").click()
    page.wait_for_url(f"**/_desk/at/2026-12-02T14:00/{STORY}")


def test_the_bar_leaves_the_page_as_it_is(sees: Opens, opens: Opens) -> None:
    """Every element of the built page stands and looks the same under the bar, only lower."""
    script = (
        "() => [...document.querySelectorAll('body *')].filter(each => !each.closest('#sitegen-preview') && each.tagName !== 'SCRIPT')"
        ".map(each => { const box = each.getBoundingClientRect(), style = getComputedStyle(each);"
        " return [each.tagName, Math.round(box.left), Math.round(box.width), Math.round(box.height), style.color, style.fontSize, style.display].join(); })"
    )
    assert sees("archive/").evaluate(script) == opens("archive/").evaluate(script)


def test_a_save_is_shown_in_every_tab(sees: Opens, preview: DeskServer) -> None:
    """Ten tabs: more than a browser's connections to one host."""
    pages = [sees("stories/2026/quilt-circle/") for _ in range(9)] + [sees("_desk/")]
    for page in pages:
        page.wait_for_load_state()
    save(preview, "stories/2026/quilt-circle.md", "headline:", "headline: Seen at once,")
    for page in pages[:9]:
        page.locator("h1", has_text="Seen at once,").wait_for(timeout=20_000)
    number = preview.state.latest().number
    pages[9].locator(f"body[data-number='{number}']").wait_for(timeout=20_000)


def test_whoever_types_a_moment_is_not_torn_away(sees: Opens, preview: DeskServer) -> None:
    page = sees("stories/2026/quilt-circle/")
    tab_to(page, "moment")
    save(preview, "stories/2026/quilt-circle.md", "headline:", "headline: Later on,")
    page.wait_for_timeout(1000)
    assert not page.locator("h1").inner_text().startswith("Later on,")
    page.keyboard.press("Shift+Tab")
    page.locator("h1", has_text="Later on,").wait_for(timeout=20_000)


def test_faults_stand_open_over_their_page(sees: Opens) -> None:
    page = sees("stories/2026/toy-shelf/")
    bar = page.get_by_role("complementary", name="Preview")
    assert "content/stories/2026/toy-shelf.md:2:1" in bar.inner_text()
    assert bar.get_by_text("content/stories/2026/toy-shelf.md:2:1").is_visible()
    assert page.locator("main h1").is_visible()


def test_paper_has_the_page_alone(sees: Opens) -> None:
    page = sees(STORY, Medium(paper=True))
    assert not page.get_by_role("complementary", name="Preview").is_visible()
    assert page.locator("main h1").is_visible()


def test_the_desk_prints_its_lists_and_no_controls(sees: Opens) -> None:
    page = sees("_desk/", Medium(paper=True))
    assert page.get_by_role("heading", name="Closes this week").is_visible()
    assert page.get_by_role("table").first.is_visible()
    assert not page.get_by_role("button").first.is_visible()
    assert page.evaluate(
        "[...document.querySelectorAll('.wide')].every(each => each.scrollWidth <= each.clientWidth + 1)"
    )
