"""Single random changes to the theme's stylesheet or to a page of the demonstration: whatever a browser then shows to
fail, the proof reports.

The judge is independent of the proof: colours, sizes and weights as a browser computes them in a scenario drawn by chance, composited
over the backgrounds around them, and the contrast formula of wcag-contrast-ratio. Changes of each kind are drawn until enough of them fail. What text shadows, blending and
filters do is not in computed styles, so no change here uses them.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import pytest
import wcag_contrast_ratio

from sitegen.proof.checks.base import PageFinding
from sitegen.proof.contrast.engine import all_scenarios
from sitegen.proof.contrast.formulas import Colour
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.document import parse
from sitegen.proof.pagecheck import check_page, contrast_judge
from tests.counts import LONG
from tests.samples.broken_pages import without_policy
from tests.samples.browser_styles import Window, browser_backdrop, browser_colour
from tests.samples.served_site import FOLDER, LEAD, kind_of, served
from tests.samples.style_changes import (
    FIELD_CHANGES,
    FOCUS_CHANGES,
    LARGE_ONLY,
    LINK_CHANGES,
    SIZE_CHANGES,
    TEXT_CHANGES,
    Site,
)

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Route

pytestmark = pytest.mark.browser

FAILING_EACH: Final = 15 if LONG else 2
"""Failing changes of each kind."""
MOST_DRAWN: Final = 150 * FAILING_EACH
LARGEST: Final = 11_000
"""Bytes of the largest page that is changed."""
AT_REST: Final = all_scenarios(())
ON_SCREEN: Final = (Scenario(), Scenario("dark"), Scenario(width=320))
KINDS: Final = {**TEXT_CHANGES, **SIZE_CHANGES, **LINK_CHANGES, **FOCUS_CHANGES, **FIELD_CHANGES}

# WCAG 2.2, 1.4.3, 1.4.1 with technique G183, and 1.4.11. The hair's breadth is for rounding.
TEXT_NEEDS, LARGE_TEXT_NEEDS, MARK_NEEDS, LINK_NEEDS = 4.5, 3.0, 3.0, 3.0
HAIR: Final = 0.005

# What a viewer sees of each element, besides what is read of its colours.
LOOK: Final = """() => JSON.stringify([...document.querySelectorAll('*')].map(element => {
  const style = getComputedStyle(element), box = element.getBoundingClientRect()
  const words = [...element.childNodes].filter(node => node.nodeType === 3).map(node => node.data).join(' ').trim()
  let seen = element.checkVisibility({opacityProperty: true, visibilityProperty: true})
  for (let each = element; each && seen; each = each.parentElement) {
    const size = each.getBoundingClientRect(), own = getComputedStyle(each)
    if (own.display === 'contents') continue
    if (own.overflow !== 'visible' && (size.width <= 1 || size.height <= 1)) seen = false
    if (own.display !== 'inline' && size.bottom + scrollY <= 0) seen = false
  }
  const line = side => [style[`border${side}Style`], style[`border${side}Width`], style[`border${side}Color`]]
  return {
    words, isDrawn: element.namespaceURI !== document.documentElement.namespaceURI, seen: seen && (box.width > 0 || style.display === 'contents'), disabled: element.closest(':disabled') !== null,
    isLink: element.matches('a[href]'), decoration: style.textDecorationLine, decorated: style.textDecorationColor,
    italic: style.fontStyle, display: style.display, bare: style.boxShadow === 'none' && style.backgroundImage === 'none',
    drawn: getComputedStyle(element, '::before').content + getComputedStyle(element, '::after').content,
    lines: ['Top', 'Right', 'Bottom', 'Left'].map(line),
    outline: [style.outlineStyle, style.outlineWidth, style.outlineColor],
    isField: element.matches('input:not([type=radio], [type=checkbox], [type=hidden]), select, textarea'),
  }
}))"""
EVERYTHING: Final = """place => { const style = getComputedStyle(document.querySelectorAll('*')[place])
  return JSON.stringify([...style].filter(name => !name.startsWith('outline')).map(name => style.getPropertyValue(name))) }"""


class Stage:
    """Shows changed pages in a browser, and to the proof."""

    def __init__(self, browser: Browser, site: Path, host: str) -> None:
        self.site = site
        self._host = host
        self.changed = Site("", "")
        self.window = Window(browser)
        self.window.page.route("**/*", self._answer)
        files = {path.relative_to(site).as_posix(): path.stat().st_size for path in site.rglob("*")}
        self.files = frozenset(files)
        self.sheet = next(path for path in sorted(files) if path.endswith(".css"))
        self.pages = sorted(
            path
            for path, size in files.items()
            if path.endswith(".html") and size <= LARGEST and kind_of(path) != LEAD
        )

    def _answer(self, route: Route) -> None:
        request = route.request
        if request.is_navigation_request():
            route.fulfill(body=self.changed.page, content_type="text/html; charset=utf-8")
        elif request.url.endswith(self.sheet):
            route.fulfill(body=self.changed.sheet, content_type="text/css; charset=utf-8")
        elif request.resource_type == "script" or not request.url.startswith(self._host):
            route.abort()
        else:
            route.continue_()

    def original(self, path: str) -> Site:
        """A page and the theme's sheet as they are built."""
        sheet = (self.site / self.sheet).read_text("utf-8")
        return Site(sheet, without_policy((self.site / path).read_text("utf-8")))

    def show(self, path: str, changed: Site, scenario: Scenario) -> None:
        """Show a changed page in the browser."""
        self.changed = changed
        self.window.turn(scenario)
        self.window.goto(f"{self._host}{FOLDER}/{path}")

    def look(self) -> list[dict[str, Any]]:
        """The rows of `browser_styles.READ` with what `LOOK` adds to them."""
        more: list[dict[str, Any]] = json.loads(self.window.page.evaluate(LOOK))
        return [{**row, **extra} for row, extra in zip(self.window.rows(), more, strict=True)]

    def findings(self, path: str, changed: Site) -> tuple[PageFinding, ...]:
        """What the proof finds on a changed page, in every scenario."""

        def load(wanted: str) -> bytes | None:
            if wanted == self.sheet:
                return changed.sheet.encode()
            return (self.site / wanted).read_bytes() if wanted in self.files else None

        judge = contrast_judge(load, f"https://www.example.org/{FOLDER}/")
        return check_page(path, changed.page.encode(), judge).findings


@pytest.fixture(scope="module")
def stage(browser: Browser, demonstration: Path) -> Iterator[Stage]:
    with served(demonstration.parent) as host:
        opened = Stage(browser, demonstration, host)
        yield opened
        opened.window.close()


# --- what fails in the browser ---------------------------------------------------------------


def ratio(one: Colour, other: Colour) -> float:
    def clip(colour: Colour) -> tuple[float, ...]:
        return tuple(min(1.0, max(0.0, value)) for value in colour[:3])

    return float(wcag_contrast_ratio.rgb(clip(one), clip(other)))


class Seen:
    """A page as the browser shows it."""

    def __init__(self, rows: list[dict[str, Any]], canvas: Colour, scenario: Scenario) -> None:
        self.rows = rows
        self._canvas = canvas
        self._is_print = scenario.media == "print"

    def paper(self, place: int, above: str = "") -> Colour | None:
        """What is seen inside of an element, with a colour painted over its background."""
        painted = browser_colour(above) if above else None
        return browser_backdrop(self.rows, place, self._canvas, self._is_print, painted)

    def contrast(self, place: int, ink: str) -> float | None:
        """The ratio of a colour inside of an element to its background."""
        letters, paper = self.paper(place, ink), self.paper(place)
        return None if letters is None or paper is None else ratio(letters, paper)

    def judged_texts(self) -> Iterator[tuple[int, float | None, float]]:
        """(place, ratio or None where computed styles do not tell, what is needed) for each text that a viewer sees."""
        for place, row in enumerate(self.rows):
            # What stands behind the words of a drawing is drawn too, and is nobody's background.
            if not row["seen"] or row["disabled"] or row["isDrawn"] or row["tag"] == "option":
                continue
            if sum(character.isalnum() for character in row["words"]) < 2:
                continue
            size, weight = float(row["size"].removesuffix("px")), float(row["weight"])
            is_large = size >= 24 or (size >= 14 * 4 / 3 and weight >= 700)
            yield place, self.contrast(place, row["color"]), LARGE_TEXT_NEEDS if is_large else TEXT_NEEDS

    def failing_texts(self) -> list[int]:
        return [
            place
            for place, found, needed in self.judged_texts()
            if found is not None and found < needed - HAIR
        ]

    def failing_links(self) -> list[int]:
        """Links among words that only their colour tells from these, and too little (technique G183)."""
        found = []
        for place, row in enumerate(self.rows):
            around = self.rows[row["parent"]]
            if (
                row["isLink"]
                and row["seen"]
                and row["display"] == "inline"
                and around["tag"] in ("p", "li", "dd", "figcaption", "span")
                and sum(character.isalnum() for character in row["words"]) > 1
                and sum(character.isalnum() for character in around["words"]) > 1
                and (row["decoration"] == "none" or browser_colour(row["decorated"])[3] == 0)
                and row["weight"] == around["weight"]
                and row["italic"] == around["italic"]
                and float(row["size"][:-2]) < 1.2 * float(around["size"][:-2])
                and all(style == "none" for style, _, _ in row["lines"])
                and browser_colour(row["background"])[3] == 0
                and row["bare"]
                and row["drawn"] == "nonenone"
                and ratio(browser_colour(row["color"]), browser_colour(around["color"])) < LINK_NEEDS - HAIR
            ):
                found.append(place)
        return found

    def failing_fields(self) -> list[int]:
        """Fields with neither a line nor a background of their own that shows where they are."""
        found = []
        for place, row in enumerate(self.rows):
            if not row["isField"] or not row["seen"] or row["disabled"] or not row["bare"]:
                continue
            outside, inside = self.paper(row["parent"]), self.paper(place)
            assert outside is not None and inside is not None
            best = ratio(inside, outside)
            for style, width, colour in row["lines"]:
                if style not in ("none", "hidden") and float(width[:-2]) > 0:
                    line = self.paper(place, colour)
                    assert line is not None
                    best = max(best, ratio(line, outside), ratio(line, inside))
            if best < MARK_NEEDS - HAIR:
                found.append(place)
        return found

    def outline(self, place: int) -> float:
        """The contrast of an element's outline to what is around it; 1 where there is none."""
        style, width, colour = self.rows[place]["outline"]
        if style in ("none", "hidden") or float(width[:-2]) == 0:
            return 1.0
        return self.contrast(self.rows[place]["parent"], colour) or 1.0


def failing_focus(
    stage: Stage, scenario: Scenario, chance: random.Random, rows: list[dict[str, Any]]
) -> list[int]:
    """One link in the main part whose focus shows by nothing, or by too faint an outline alone."""
    page = stage.window.page
    protocol = page.context.new_cdp_session(page)
    protocol.send("DOM.enable")
    protocol.send("CSS.enable")
    root = protocol.send("DOM.getDocument", {"depth": -1})["root"]["nodeId"]
    ids = protocol.send("DOM.querySelectorAll", {"nodeId": root, "selector": "*"})["nodeIds"]
    links = [place for place, row in enumerate(rows) if row["isLink"] and row["seen"]]
    place = chance.choice(links[1:])
    rest = page.evaluate(EVERYTHING, place)
    protocol.send(
        "CSS.forcePseudoState", {"nodeId": ids[place], "forcedPseudoClasses": ["focus", "focus-visible"]}
    )
    focused = page.evaluate(EVERYTHING, place)
    shown = Seen(stage.look(), stage.window.canvas(scenario), scenario)
    protocol.detach()
    # A rounded corner with nothing drawn at it shows nobody anything.
    differs = [
        (one, other)
        for one, other in zip(json.loads(rest), json.loads(focused), strict=True)
        if one != other and not re.fullmatch(r"[\d.]+px", other)
    ]
    return [place] if not differs and shown.outline(place) < MARK_NEEDS - HAIR else []


CHECKS_OF: Final = {
    "text": {"text-contrast", "sign-contrast"},
    "link": {"link-in-text"},
    "focus": {"focus-mark", "focus-mark-contrast"},
    "field": {"control-contrast"},
}


def matter_of(kind: str) -> str:
    groups = {"link": LINK_CHANGES, "focus": FOCUS_CHANGES, "field": FIELD_CHANGES}
    return next((matter for matter, changes in groups.items() if kind in changes), "text")


def drawn(stage: Stage, kind: str, chance: random.Random) -> tuple[str, Site]:
    """A page and its sheet, to be changed."""
    if kind in FIELD_CHANGES:
        # The page with the form, without the long list of places.
        site = stage.original("find/index.html")
        return "find/index.html", site._replace(
            page=re.sub(r"</form>.*</main>", "</form><h1>Places</h1></main>", site.page, flags=re.DOTALL)
        )
    path = chance.choice(stage.pages)
    site = stage.original(path)
    return path, site._replace(sheet=site.sheet + LARGE_ONLY) if kind in SIZE_CHANGES else site


def reported(findings: tuple[PageFinding, ...], matter: str) -> dict[int, str]:
    """By line, the best verdict of the proof on a matter."""
    lines: dict[int, str] = {}
    for finding in findings:
        if finding.check in CHECKS_OF[matter] and lines.get(finding.line) != "fails":
            lines[finding.line] = finding.verdict
    return lines


@pytest.mark.parametrize("kind", KINDS)
def test_every_change_that_fails_in_a_browser_is_caught(
    stage: Stage, chance: random.Random, kind: str
) -> None:
    matter = matter_of(kind)
    failing = unsure = tries = 0
    missed: list[str] = []
    while failing < FAILING_EACH and tries < MOST_DRAWN:
        tries += 1
        path, site = drawn(stage, kind, chance)
        changed = KINDS[kind](site, chance)
        scenario = chance.choice(AT_REST if matter == "text" else ON_SCREEN)
        stage.show(path, changed, scenario)
        rows = stage.look()
        seen = Seen(rows, stage.window.canvas(scenario), scenario)
        if matter == "text":
            places = seen.failing_texts()
        elif matter == "link":
            places = seen.failing_links()
        elif matter == "field":
            places = seen.failing_fields()
        else:
            places = failing_focus(stage, scenario, chance, rows)
        if not places:
            continue
        failing += 1
        document = parse(changed.page)
        lines = reported(stage.findings(path, changed), matter)
        unsure += "fails" not in lines.values()
        missed += [
            f"{path}, {scenario.name}: {rows[place]['words'][:30]!r} {rows[place]['color']} {document.elements[place]!r}; {difference(site, changed)}"
            for place in places
            if document.elements[place].line not in lines
        ]
    print(f"{kind}: {failing} failing of {tries}, {unsure} of them left unsure")
    assert not missed, "\n".join(missed[:20])
    assert failing == FAILING_EACH


def difference(before: Site, after: Site) -> str:
    """Where a change is, in a few letters."""
    for one, other in zip(before, after, strict=True):
        if one != other:
            pairs = enumerate(zip(one, other, strict=False))
            start = next((place for place, (old, new) in pairs if old != new), len(one))
            return other[max(0, start - 60) : start + 80].replace("\n", " ")
    return "nothing"


def test_the_unchanged_demonstration_fails_nowhere(stage: Stage, chance: random.Random) -> None:
    """The judge finds nothing where nothing is changed, so what it finds elsewhere is the change's doing."""
    path, site = drawn(stage, "a size", chance)
    for scenario in AT_REST:
        stage.show(path, site, scenario)
        rows = stage.look()
        seen = Seen(rows, stage.window.canvas(scenario), scenario)
        judged = list(seen.judged_texts())
        assert len(judged) > 10
        assert not [rows[place]["words"] for place in seen.failing_texts()], f"{path}, {scenario.name}"
        # Nobody follows a link on paper, where the theme draws no lines.
        assert scenario.media == "print" or not seen.failing_links()
