"""The on-air pack's sheets in a browser: files by themselves, narrow and wide, light and dark, and on letter and A4."""

from __future__ import annotations

import re
import subprocess
from datetime import UTC, datetime
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING

import pytest

from sitegen.cli import main
from sitegen.edition.onair import on_air_pack
from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.typeset.onair import SheetSetter
from sitegen.typeset.theme import load_theme
from tests.browser.test_accessibility import judged
from tests.browser.test_validity import CHECKER
from tests.samples.opened_pages import PHONE, Medium, Opens
from tests.samples.served_site import ROOT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

SHEETS = ("host.html", "phones.html")
MEDIA = {
    "light": Medium(),
    "dark": Medium(colours="dark"),
    "phone": Medium(size=PHONE),
    "paper": Medium(size=(720, 960), paper=True),
    "forced colours": Medium(forced=True),
}


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("onair") / "2026-11-21"
    assert main(["onair", "--root", str(ROOT), "2026-11-21", "--out", str(folder)]) == 0
    return folder


@pytest.fixture
def opens(browser: Browser, pack: Path) -> Iterator[Opens]:
    opener = Opens(browser, f"file://{pack}/")
    yield opener
    opener.close()


@pytest.mark.parametrize("medium", MEDIA)
@pytest.mark.parametrize("sheet", SHEETS)
def test_the_engine_finds_nothing(opens: Opens, sheet: str, medium: str) -> None:
    page = opens(sheet, MEDIA[medium])
    assert judged(page, MEDIA[medium]) == ([], [])
    assert not opens.said
    # A file by itself: nothing else is asked for.
    assert {address.rpartition("/")[2] for address in opens.asked} == {sheet}


@pytest.mark.parametrize("width", [320, 768, 1280])
@pytest.mark.parametrize("sheet", SHEETS)
def test_no_sheet_is_wider_than_its_window(opens: Opens, sheet: str, width: int) -> None:
    page = opens(sheet, Medium(size=(width, 900)))
    assert page.evaluate("document.documentElement.scrollWidth") == width


@pytest.mark.parametrize("paper", ["Letter", "A4"])
@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_prints_black_on_white_and_whole(opens: Opens, sheet: str, paper: str) -> None:
    page = opens(sheet, Medium(size=(720, 960), colours="dark", paper=True))
    inks = page.evaluate(
        "[...new Set([...document.querySelectorAll('main *')].map(e => getComputedStyle(e).color))]"
    )
    assert inks == ["rgb(0, 0, 0)"]
    # Everything that is told on the screen is told on paper.
    hidden = "[...document.querySelectorAll('main *')].filter(e => e.textContent.trim() && !e.checkVisibility()).map(e => e.outerHTML)"
    assert page.evaluate(hidden) == []
    leaves = page.pdf(format=paper).count(b"/Type /Page\n")
    # Six stories with fourteen asks; the phone sheet also has sixty entries of a round-up, and in short the sixty asks of all
    # other programmes.
    assert leaves <= (6 if sheet == "host.html" else 18)


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheets of an episode with much that is over and a story that is not on the site yet."""
    newsroom = read_newsroom(ROOT, read_map).newsroom
    assert newsroom is not None
    episode = next(each for each in newsroom.episodes if each.id == "2026-11-28")
    found = on_air_pack(newsroom, episode, datetime(2026, 12, 2, 17, tzinfo=UTC))
    setter = SheetSetter(load_theme(ROOT, "tidetable"), "en-US")
    folder = tmp_path_factory.mktemp("sheets")
    for name, data in (("host.html", setter.host(found)), ("phones.html", setter.phones(found))):
        (folder / name).write_bytes(data)
    return folder


WIDE_LINES = """[...document.querySelectorAll('.log > li')].map(line => {
  const range = document.createRange(); range.selectNodeContents(line);
  const words = range.getBoundingClientRect(), column = line.getBoundingClientRect();
  return [words.width / column.width, line.textContent.trim()];
}).filter(([part]) => part < .5).map(([, words]) => words)"""
"""Entries that leave half of their column empty."""
TALL_LABELS = """[...document.querySelectorAll('.kind')].filter(
  label => label.getBoundingClientRect().height > 2.5 * parseFloat(getComputedStyle(label).fontSize)
).map(label => label.parentElement.textContent.trim())"""
BROKEN = "[...document.querySelectorAll('.number')].filter(e => e.getClientRects().length > 1).map(e => e.parentElement.textContent)"


@pytest.mark.parametrize("medium", ["light", "phone", "paper"])
@pytest.mark.parametrize("sheet", SHEETS)
def test_every_line_has_its_column_and_every_number_its_line(
    browser: Browser, sheets: Path, sheet: str, medium: str
) -> None:
    opener = Opens(browser, f"file://{sheets}/")
    page = opener(sheet, MEDIA[medium])
    assert page.evaluate(WIDE_LINES) == []
    assert page.evaluate(TALL_LABELS) == []
    assert page.locator(".number").count() and page.evaluate(BROKEN) == []
    opener.close()


@pytest.mark.skipif(not CHECKER.exists(), reason="no Nu checker: npm install --ignore-scripts vnu-jar")
@pytest.mark.skipif(which("java") is None, reason="no Java: apt-get install openjdk-17-jre-headless")
def test_the_sheets_are_valid(pack: Path) -> None:
    command = ["java", "-Xss2m", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-jar", str(CHECKER)]
    options = ["--no-langdetect", "--stdout", "--skip-non-html", str(pack)]
    run = subprocess.run([*command, *options], capture_output=True, text=True, check=False)
    # The checker's CSS is older than container queries and cut corners; the browser tests see the styles at work.
    unknown = r"error: CSS: “(corner-shape|vector-effect|container)”: Property|error: CSS: Unrecognized at-rule “@container”"
    assert [line for line in run.stdout.splitlines() if not re.search(unknown, line)] == []
