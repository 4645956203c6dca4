"""Maps as they are seen: words on their plates and big enough, edges strong enough, and every county within reach of a key."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
import wcag_contrast_ratio

from tests.samples.opened_pages import ADD_STYLES, DESK, PHONE, Medium

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

PAGES = ("", "counties/", "places/millrace-library/", "places/winter-shelter/")
"""With words in their maps."""
MEDIA = {
    "light": Medium(),
    "dark": Medium(colours="dark"),
    "phone": Medium(size=PHONE),
    "phone, dark": Medium(size=PHONE, colours="dark"),
    "paper": Medium(size=(720, 960), paper=True),
    "forced colours": Medium(forced=True, colours="dark"),
    "forced colours, light": Medium(forced=True),
}
LEAST_LETTERS = 17.9
"""CSS pixels: 18, less what whole units round off."""

WORDS = """() => [...document.querySelectorAll('.words text')].filter(e => e.checkVisibility()).map(text => {
  const plate = text.previousElementSibling, style = getComputedStyle(text);
  const a = text.getBBox(), b = plate.getBBox();
  const marks = [...text.closest('.drawn').querySelectorAll('.map circle, .map .mark')].map(e => e.getBoundingClientRect());
  const on = plate.getBoundingClientRect();
  return {
    words: text.textContent,
    size: parseFloat(style.fontSize) * text.getScreenCTM().a,
    ink: style.fill,
    ground: getComputedStyle(plate).fill,
    clear: [plate, text].every(e => getComputedStyle(e).opacity === '1' && getComputedStyle(e).fillOpacity === '1'),
    over: [b.x - a.x, a.x + a.width - b.x - b.width].map(each => Math.max(0, each)),
    covers: marks.filter(m => m.left < on.right && on.left < m.right && m.top < on.bottom && on.top < m.bottom).length,
    first: text.closest('svg').previousElementSibling !== null,
  };
})"""
"""Facts about all words that are shown in drawings."""

EDGES = """() => [...document.querySelectorAll('.map path')].map(shape => {
  const style = getComputedStyle(shape), board = getComputedStyle(shape.closest('.drawn, .among'));
  const marks = shape.matches('.here, .mark');
  const around = marks ? getComputedStyle(shape.closest('.drawn, .among').querySelector('path:not(.here, .mark)')).fill : style.fill;
  return {edge: style.stroke, land: around, board: board.backgroundColor};
})"""
"""Of each shape the edge, and what lies on its two sides. What is marked lies in land or beside it, and its own fill may be like its edge."""


def channels(colour: str) -> tuple[float, float, float]:
    """Of an opaque colour as a browser computes it, each from 0 to 1."""
    found = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", colour)
    assert found, colour
    red, green, blue = (int(value) / 255 for value in found.groups())
    return red, green, blue


def ratio(one: str, other: str) -> float:
    return float(wcag_contrast_ratio.rgb(channels(one), channels(other)))


def words_of(page: Page) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = page.evaluate(WORDS)
    return found


@pytest.mark.parametrize("name", MEDIA)
@pytest.mark.parametrize("path", PAGES)
def test_words_lie_on_plates_that_hold_them(opens: Opens, path: str, name: str) -> None:
    medium = MEDIA[name]
    # On paper home is a list of deadlines; its map stays on the screen.
    shown = words_of(opens(path, medium))
    assert bool(shown) != (medium.paper and path == "")
    for each in shown:
        assert each["clear"] and each["first"] and each["over"] == [0, 0], each
        assert ratio(each["ink"], each["ground"]) >= 7, each
        assert not each["covers"], each


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("width", [320, 480, 640, 768, 1280])
def test_words_are_big_enough_wherever_they_are_shown(opens: Opens, path: str, width: int) -> None:
    page = opens(path, Medium(size=(width, 900)))
    for styles in ("", "html { font-size: 225% !important; }"):
        page.evaluate(ADD_STYLES, styles)
        shown = words_of(page)
        assert shown and all(each["size"] >= LEAST_LETTERS for each in shown), shown


def test_a_phone_shows_numbers_and_a_desk_names(opens: Opens) -> None:
    numbers = [str(number) for number in range(1, 13)]
    assert [each["words"] for each in words_of(opens("counties/", Medium(size=PHONE)))] == numbers
    names = [each["words"] for each in words_of(opens("counties/", Medium(size=DESK)))]
    assert len(names) == 12 and not set(names) & set(numbers)


@pytest.mark.parametrize("name", [name for name in MEDIA if name != "paper"])
@pytest.mark.parametrize("path", ["counties/", "counties/tidewick/", "places/millrace-library/"])
def test_edges_are_seen_from_both_sides(opens: Opens, path: str, name: str) -> None:
    shapes = opens(path, MEDIA[name]).evaluate(EDGES)
    assert shapes
    for each in shapes:
        assert ratio(each["edge"], each["land"]) >= 3, each
        assert ratio(each["edge"], each["board"]) >= 3, each


def test_the_map_leads_to_a_county_by_keyboard_and_says_what_it_is_called(opens: Opens) -> None:
    page = opens("counties/", Medium())
    link = page.get_by_role("group", name="Map of the counties").get_by_role("link", name="Tidewick")
    spoken = link.aria_snapshot()
    assert re.search(r"Tidewick \d+ open asks", spoken), spoken
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/counties/tidewick/")
