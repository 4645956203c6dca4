"""Every kind of page in a window: nothing scrolls sideways, nothing is cut off, focus is seen, nothing moves by itself."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest

from tests.counts import LONG
from tests.samples.opened_pages import ADD_STYLES, DESK, PHONE, Medium, first_tab
from tests.samples.served_site import EVERY_KIND, LEAD, pages_to_see

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Page

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

KINDS_THAT_STAY = [kind for kind in EVERY_KIND if kind != LEAD]

TEXT_SPACING = """
* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important; }
p { margin-bottom: 2em !important; }
"""
"""WCAG 2.2, 1.4.12: https://www.w3.org/TR/WCAG22/#text-spacing"""

TWICE = "html { font-size: 225% !important; }"
"""A reader's text at 200 %: twice the theme's 112.5 %. WCAG 2.2, 1.4.4."""

ZOOMED = (320, 256)
"""A window of 1280 by 1024 pixels at 400 %, in CSS pixels: WCAG 2.2, 1.4.10."""

VIEWS = {
    "on a phone": (PHONE, ""),
    "zoomed to 400 %": (ZOOMED, ""),
    "spaced, on a phone": (PHONE, TEXT_SPACING),
    "spaced": (DESK, TEXT_SPACING),
    "text twice as big": (DESK, TWICE),
    "text twice as big, on a phone": (PHONE, TWICE),
}
"""(window, the reader's own styles)"""

CUT_OFF = """() => {
  // Text outside the window, or outside a box that hides what overflows it. Boxes that scroll show all of theirs.
  const lost = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode;
    const holder = text.parentElement;
    if (!text.data.trim() || !holder.checkVisibility({visibilityProperty: true})) continue;
    if (holder.closest('.unseen, .skip, script, style, video')) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    for (const box of range.getClientRects()) {
      if (box.width < 1) continue;
      for (let around = holder; around; around = around.parentElement) {
        const style = getComputedStyle(around);
        const edge = around.getBoundingClientRect();
        if (['auto', 'scroll'].includes(style.overflowX)) break;
        const hidesAcross = ['hidden', 'clip'].includes(style.overflowX);
        const hidesDown = ['hidden', 'clip'].includes(style.overflowY);
        if ((hidesAcross && (box.right > edge.right + 1 || box.left < edge.left - 1))
            || (hidesDown && (box.bottom > edge.bottom + 1 || box.top < edge.top - 1))) {
          lost.push(`${around.tagName}.${around.className} hides: ${text.data.trim()}`);
        }
        if (around === document.documentElement && (box.right > innerWidth + 1 || box.left < -1)) {
          lost.push(`beyond the edge: ${text.data.trim()}`);
        }
      }
    }
  }
  return lost;
}"""


@pytest.mark.parametrize("kind", KINDS_THAT_STAY)
def test_nothing_scrolls_sideways_and_nothing_is_cut_off(
    demonstration: Path, opens: Opens, kind: str
) -> None:
    for path in pages_to_see(demonstration, kind):
        page = opens(path, Medium(size=PHONE))
        for view, ((width, height), styles) in VIEWS.items():
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("document.adoptedStyleSheets = []")
            page.evaluate(ADD_STYLES, styles)
            taken = page.evaluate("document.documentElement.scrollWidth")
            assert taken <= width, f"{path}, {view}, is {taken} px wide"
            assert page.evaluate(CUT_OFF) == [], f"{path}, {view}"
        page.close()


@pytest.mark.parametrize(
    "spoil",
    ["main h1 { white-space: nowrap; width: 40rem; }", "main h1 { height: 1em; overflow: hidden; }"],
)
def test_what_is_cut_off_is_found(opens: Opens, spoil: str) -> None:
    page = opens("", Medium(size=PHONE, styles=spoil))
    assert page.evaluate(CUT_OFF)


IN_PIECES = r"""() => {
  // Words, codes (SC-101) and numbers (237-555-0100) that go over more than one line; addresses may.
  const broken = [];
  const walker = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    if (walker.currentNode.parentElement.closest('a[href^=http], a[href^=mailto]')) continue;
    for (const found of walker.currentNode.data.matchAll(/[A-Z]+-\d+|\d[\d-]{5,}|\p{L}+/gu)) {
      const range = document.createRange();
      range.setStart(walker.currentNode, found.index);
      range.setEnd(walker.currentNode, found.index + found[0].length);
      const boxes = [...range.getClientRects()].filter(box => box.width > 1);
      if (boxes.some(box => box.top > boxes[0].bottom - 2)) broken.push(found[0]);
    }
  }
  return broken;
}"""


@pytest.mark.parametrize("path", ["find/", "find/tidewick/", "find/?near=Millrace"])
@pytest.mark.parametrize("size", ["200%", "225%"])
def test_big_text_leaves_what_the_finder_says_in_one_piece(opens: Opens, path: str, size: str) -> None:
    page = opens(path, Medium(size=PHONE, styles=f"html {{ font-size: {size} !important; }}"))
    if path != "find/tidewick/":
        page.locator("form[data-ready]").wait_for()
        page.locator("#finder-narrow summary").press("Enter")
        boxes = page.eval_on_selector_all(
            ".choice input", "all => all.map(each => [each.offsetWidth, each.offsetHeight])"
        )
        assert len(boxes) == 6 and all(width == height for width, height in boxes)
    assert page.evaluate(IN_PIECES) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE[0]


ALONE = """() => {
  const said = (element) => element.textContent.replace(/\\s+/g, ' ').trim();
  const found = [];
  for (const link of document.querySelectorAll('a[href]')) {
    const line = link.closest('p, li, h1, h2, h3, h4, td, th, dd');
    if (!link.checkVisibility() || link.matches('.skip') || !line || said(line) !== said(link)) continue;
    found.push([said(link), link.getBoundingClientRect().height, line.matches('.of') || link.pathname.includes('/counties/')]);
  }
  return found;
}"""
"""(words, height in CSS pixels, whether it is a county's name, which runs on after other words elsewhere) of each link
that is all of its line."""


@pytest.mark.parametrize(
    "path",
    [
        "",
        "stories/2026/coat-closet/",
        "find/tidewick/",
        "find/?near=Millrace",
        "get-help/",
        "counties/tidewick/",
        "places/millrace-library/",
        "episodes/2026-11-21/",
        "archive/2026/",
    ],
)
def test_a_link_that_stands_alone_has_room_for_a_thumb(opens: Opens, path: str) -> None:
    page = opens(path, Medium(size=PHONE))
    if "?" in path:
        page.locator(".found > li").first.wait_for()
    found = page.evaluate(ALONE)
    assert len(found) > 10
    # 44 px is what the theme wants of them, 24 px what WCAG 2.2, 2.5.8 does.
    assert [each for each in found if each[1] < (24 if each[2] else 44)] == []


# --- focus -------------------------------------------------------------------------------------

FOCUSABLE = "a[href], button, input, select, textarea, summary, video[controls], [tabindex]"

STOP = """(selector) => {
  const here = document.activeElement;
  if (!here || here === document.body) return null;
  const all = [...document.querySelectorAll(selector)].filter(e => e.checkVisibility() && e.tabIndex >= 0)
    .filter(e => e.type !== 'radio' || e.checked); // a group of choices is one stop
  const box = here.getClientRects()[0];
  const style = getComputedStyle(here);
  const drawn = here.closest('svg') && here.querySelector('path');
  // A shape of a drawing is marked along its own edge, of which the next shape may cover the outer half.
  const edge = drawn ? parseFloat(getComputedStyle(drawn).strokeWidth) / 2 : 0;
  const middle = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
  return {
    number: all.indexOf(here), of: all.length,
    what: here.outerHTML.slice(0, 120),
    like: drawn ? here.getAttribute('href') : [here, here.parentElement, here.parentElement.parentElement].map(e => `${e.tagName}.${e.className}`).join(' in '),
    outline: style.outlineStyle === 'none' ? edge : parseFloat(style.outlineWidth),
    box: {x: box.left, y: box.top, width: box.width, height: box.height},
    inside: Math.min(box.bottom, innerHeight) - Math.max(box.top, 0) >= Math.min(box.height, 44) - 1
      && box.left >= 0 && box.right <= innerWidth + 1,
    uncovered: middle === null || here.contains(middle) || middle.contains(here),
    inner: here.tagName === 'VIDEO',
  };
}"""

MARK_WIDTH_PX = 2
"""WCAG 2.2, 2.4.13 measures a focus mark by an edge of two CSS pixels."""


FOCUS_IN = {"phone, dark": Medium(size=PHONE, colours="dark")}
if LONG:
    FOCUS_IN["light"] = Medium()
FOCUS_IN["forced colours"] = Medium(forced=True)


def looks_different(page: Page, stop: dict[str, Any]) -> bool:
    """Whether the focused element's surroundings change when focus leaves it."""
    width, height = page.viewport_size["width"], page.viewport_size["height"]  # type: ignore[index]
    box = stop["box"]
    left, top = max(math.floor(box["x"]) - 8, 0), max(math.floor(box["y"]) - 8, 0)
    clip = {
        "x": left,
        "y": top,
        "width": min(math.ceil(box["width"]) + 16, width - left),
        "height": min(math.ceil(box["height"]) + 16, height - top),
    }
    focused = page.screenshot(clip=clip)  # type: ignore[arg-type]
    page.evaluate("() => { window.left = document.activeElement; window.left.blur(); }")
    blurred = page.screenshot(clip=clip)  # type: ignore[arg-type]
    page.evaluate("() => window.left.focus({preventScroll: true, focusVisible: true})")
    return focused != blurred


def stops(page: Page) -> Iterator[dict[str, Any]]:
    """Where Tab leads, one after the other, up to the browser's own bars past the last."""
    first_tab(page)
    while (stop := page.evaluate(STOP, FOCUSABLE)) is not None:
        yield stop
        page.keyboard.press("Tab")


@pytest.mark.parametrize("name", FOCUS_IN)
@pytest.mark.parametrize("kind", KINDS_THAT_STAY)
def test_focus_is_always_seen(demonstration: Path, opens: Opens, kind: str, name: str) -> None:
    """Tab goes through everything that can be pressed, in the page's order, and each stop shows its mark."""
    path = pages_to_see(demonstration, kind)[0]
    page = opens(path, FOCUS_IN[name])
    looked_at: set[str] = set()
    number = -1
    for stop in stops(page):
        if stop["number"] == number and stop["inner"]:
            continue  # the browser's own buttons in a video
        assert stop["number"] == number + 1, f"{path}: {stop['what']} comes out of turn"
        number = stop["number"]
        assert stop["inside"] and stop["uncovered"], f"{path}: {stop['what']} is not to be seen"
        assert stop["outline"] >= MARK_WIDTH_PX, f"{path}: {stop['what']} has no mark"
        if stop["like"] not in looked_at:
            looked_at.add(stop["like"])
            assert looks_different(page, stop), f"{path}: {stop['what']} looks the same with focus"
        if stop["number"] == stop["of"] - 1:
            break
    assert number == stop["of"] - 1, f"{path}: not everything is reached"


# --- what happens by itself -------------------------------------------------------------------

NOTE_SHIFTS = """
window.shifts = [];
new PerformanceObserver(list => window.shifts.push(...list.getEntries().map(e => [e.value, e.sources.map(s => String(s.node && s.node.nodeName))])))
  .observe({type: 'layout-shift', buffered: true});
"""

READ_TO_THE_END = """async () => {
  for (let top = 0; top < document.body.scrollHeight; top += innerHeight) {
    scrollTo(0, top);
    await new Promise(resolve => requestAnimationFrame(() => requestAnimationFrame(resolve)));
  }
  await Promise.all([...document.images].map(image => image.decode().catch(() => null)));
  await new Promise(resolve => setTimeout(resolve, 100));
}"""


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("kind", KINDS_THAT_STAY)
def test_nothing_moves_nothing_is_said_and_nobody_else_is_asked(
    demonstration: Path, opens: Opens, kind: str, size: tuple[int, int]
) -> None:
    """No layout shift while a page is loaded and read to its end; an empty console; no other host hears of it."""
    for path in pages_to_see(demonstration, kind):
        page = opens(path, Medium(size=size), ready=NOTE_SHIFTS)
        page.evaluate(READ_TO_THE_END)
        assert page.evaluate("window.shifts") == [], path
        page.close()
    assert opens.said == []
    assert {urlsplit(asked).netloc for asked in opens.asked} == {urlsplit(opens.address).netloc}


def test_what_moves_is_noticed(opens: Opens) -> None:
    page = opens("", Medium(size=PHONE), ready=NOTE_SHIFTS)
    page.evaluate("() => { document.querySelector('h1').style.marginTop = '200px'; }")
    for _ in range(100):
        if page.evaluate("window.shifts") != []:
            return
        page.wait_for_timeout(50)
    pytest.fail("a heading that moved by 200 px was not noticed")
