"""An accessibility engine in a browser against the proof: whatever it finds on pages broken on purpose, the proof finds too.

Pages of the demonstration are broken one at a time, in a way and at a place drawn by chance; tests/samples/broken_pages.py has the
ways. (On the unbroken demonstration the engine finds nothing at all: tests/browser/test_accessibility.py.) A violation counts as found
where the proof reports the same matter on the lines of the same element, its parts, or the two elements around it.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import pytest

from sitegen.proof.checks import FAMILIES
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.contrast.engine import CHECKS
from sitegen.proof.document import Document, Element, parse
from sitegen.proof.pagecheck import BROKEN_FRAGMENT, Judge, check_links, check_page, contrast_judge
from tests.counts import LONG, SEED
from tests.samples.broken_pages import BREAKAGES, without_policy
from tests.samples.served_site import FOLDER, LEAD, kind_of, served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page, Route

engine_package = pytest.importorskip("axe_playwright_python.sync_playwright")
pytestmark = pytest.mark.browser

KINDS: Final = 40
"""Ways to break a page that are tried in an everyday run; with SITEGEN_LONG=1 each of them is."""
PAGES_EACH: Final = 3 if LONG else 1
LARGEST: Final = None if LONG else 14_000
"""Bytes of the largest page that is drawn; on larger ones the engine takes seconds."""

TAGS: Final = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SWITCHED_ON: Final = [
    "target-size",
    "css-orientation-lock",
    "label-content-name-mismatch",
    "td-has-header",
]
"""Rules that the engine leaves off by itself and whose matter the proof judges."""

ABOUT: Final[dict[str, set[str]]] = {
    "accesskeys": {"access-key-once"},
    "area-alt": {"link-name"},
    "aria-allowed-attr": {"aria-allowed", "aria-prohibited", "aria-contradicts"},
    "aria-braille-equivalent": {"aria-braille"},
    "aria-command-name": {"button-name", "link-name", "menuitem-name"},
    "aria-conditional-attr": {"aria-contradicts"},
    "aria-deprecated-role": {"role-deprecated", "role-known"},
    "aria-dialog-name": {"widget-name"},
    "aria-hidden-body": {"page-hidden"},
    "aria-hidden-focus": {"focus-hidden"},
    "aria-input-field-name": {"field-name"},
    "aria-meter-name": {"gauge-name"},
    "aria-progressbar-name": {"gauge-name"},
    "aria-prohibited-attr": {"aria-prohibited"},
    "aria-required-attr": {"aria-required"},
    "aria-required-children": {"aria-owned"},
    "aria-required-parent": {"aria-context"},
    "aria-roles": {"role-known", "role-deprecated"},
    "aria-tab-name": {"widget-name"},
    "aria-toggle-field-name": {"field-name"},
    "aria-tooltip-name": {"widget-name"},
    "aria-treeitem-name": {"widget-name"},
    "aria-valid-attr": {"aria-known"},
    "aria-valid-attr-value": {"aria-value", "aria-reference", "aria-required-id"},
    "autocomplete-valid": {"autocomplete"},
    "avoid-inline-spacing": {"letter-spacing", "word-spacing", "line-height"},
    "blink": {"moving-text"},
    "button-name": {"button-name", "widget-name"},
    "bypass": {"bypass", "skip-link", "content-heading", "content-landmark"},
    "color-contrast": {"text-contrast", "sign-contrast"},
    "css-orientation-lock": {"orientation-lock"},
    "definition-list": {"description-list-parts"},
    "dlitem": {"description-place"},
    "document-title": {"page-title"},
    "duplicate-id-aria": {"id-unique"},
    "empty-heading": {"heading-name"},
    "empty-table-header": {"table-header-name"},
    "form-field-multiple-labels": {"id-unique", "field-name", "label-in-name"},
    "frame-focusable-content": {"frame-reachable"},
    "frame-title": {"frame-name"},
    "frame-title-unique": {"frames-alike"},
    "heading-order": {"heading-order"},
    "html-has-lang": {"page-language"},
    "html-lang-valid": {"page-language-known"},
    "html-xml-lang-mismatch": {"page-language-agrees"},
    "image-alt": {"picture-name"},
    "input-button-name": {"button-name"},
    "input-image-alt": {"image-button-name"},
    "label": {"field-name", "field-label"},
    "label-content-name-mismatch": {"label-in-name"},
    "label-title-only": {"field-label-seen"},
    "landmark-banner-is-top-level": {"landmark-place"},
    "landmark-contentinfo-is-top-level": {"landmark-place"},
    "landmark-main-is-top-level": {"landmark-place", "one-main"},
    "landmark-no-duplicate-banner": {"landmark-once"},
    "landmark-no-duplicate-contentinfo": {"landmark-once"},
    "landmark-no-duplicate-main": {"one-main"},
    "landmark-one-main": {"one-main"},
    "landmark-unique": {"landmark-names", "landmark-once", "one-main"},
    "link-in-text-block": {"link-in-text"},
    "link-name": {"link-name"},
    "list": {"list-parts", "aria-owned"},
    "listitem": {"list-item-place", "role-deprecated"},
    "marquee": {"moving-text"},
    "meta-refresh": {"refresh-delay"},
    "meta-viewport": {"viewport-zoom"},
    "nested-interactive": {"nested-interactive", "focus-inside-control"},
    "object-alt": {"object-name"},
    "page-has-heading-one": {"one-first-heading"},
    "presentation-role-conflict": {"decorative-exposed"},
    "region": {"outside-landmarks", "one-main"},
    "role-img-alt": {"picture-name"},
    "scope-attr-valid": {"table-scope"},
    "scrollable-region-focusable": {"scroll-by-keyboard"},
    "select-name": {"field-name"},
    "server-side-image-map": {"server-side-map"},
    "skip-link": {BROKEN_FRAGMENT.check},
    "summary-name": {"summary-name"},
    "svg-img-alt": {"drawing-name"},
    "tabindex": {"focus-order"},
    "table-duplicate-name": {"table-caption-once"},
    "target-size": {"target-size"},
    "td-has-header": {"table-without-headers"},
    "td-headers-attr": {"table-headers", "table-headers-are-th"},
    "th-has-data-cells": {"table-header-assigned"},
    "valid-lang": {"part-language"},
    "video-caption": {"video-captions"},
}
"""The engine's rules, each with the checks of the proof about the same matter."""

NOT_COVERED: Final[dict[str, str]] = {
    "aria-allowed-role": "which roles suit which element is advice; what a role does to names, states and parts is judged",
    "aria-text": "no such role exists in WAI-ARIA, so using it is reported as an unknown role",
    "frame-tested": "about the engine's own reach into frames",
    "image-redundant-alt": "a word said twice is clumsy, but no criterion asks against it",
    "meta-viewport-large": "WCAG asks for zoom to 200 %, which is judged; 500 % is the engine's own wish",
    "no-autoplay-audio": "needs the length of the sound; the proof reports whatever plays by itself without controls",
}
"""The engine's rules that the proof leaves alone, each with the reason."""

OF_THE_WHOLE_PAGE: Final = {
    "accesskeys",
    "duplicate-id-aria",
    "frame-title-unique",
    "landmark-no-duplicate-banner",
    "landmark-no-duplicate-contentinfo",
    "landmark-no-duplicate-main",
    "landmark-unique",
    "region",
}
"""Rules about the page, or about one of several that are alike: of these, the proof may name another."""

OUR_CHECKS: Final = {rule.check for family in FAMILIES for rule in family.rules} | {
    rule.check for rule in (*CHECKS, BROKEN_FRAGMENT)
}


def drawn_kinds() -> list[str]:
    if LONG:
        return list(BREAKAGES)
    return random.Random(SEED).sample(list(BREAKAGES), KINDS)


class Bench:
    """Shows changed pages of a served site to the engine."""

    def __init__(self, browser: Browser, site: Path, host: str) -> None:
        self.site = site
        self._host = host
        self._body = ""
        self._context = browser.new_context(viewport={"width": 1280, "height": 720})
        self._context.route("**/*", self._answer)
        self.page: Page = self._context.new_page()
        self._engine = next(Path(engine_package.__file__).parent.glob("*.min.js")).read_text("utf-8")
        files = {path.relative_to(site).as_posix(): path.stat().st_size for path in site.rglob("*")}
        self.files = frozenset(files)
        self.pages = sorted(
            path
            for path, size in files.items()
            if path.endswith(".html") and kind_of(path) != LEAD and (LARGEST is None or size <= LARGEST)
        )
        self.judge: Judge = contrast_judge(self._load, f"https://www.example.org/{FOLDER}/")

    def _load(self, path: str) -> bytes | None:
        return (self.site / path).read_bytes() if path in self.files else None

    def _answer(self, route: Route) -> None:
        """The changed page; pictures and styles as served. Scripts, which change pages by themselves, and other hosts are left out."""
        request = route.request
        if request.is_navigation_request() and request.frame.parent_frame is None:
            route.fulfill(body=self._body, content_type="text/html; charset=utf-8")
        elif request.resource_type == "script" or not request.url.startswith(self._host):
            route.abort()
        else:
            route.continue_()

    def show(self, path: str, source: str) -> None:
        """Show the engine a page."""
        self._body = source
        self.page.goto(f"{self._host}{FOLDER}/{path}")
        self.page.evaluate(self._engine)

    def violations(self) -> list[tuple[str, list[int]]]:
        """What the engine finds on the page shown: its rule, and for each element its place among all of the page's elements."""
        options = {
            "runOnly": {"type": "tag", "values": TAGS},
            "rules": {rule: {"enabled": True} for rule in SWITCHED_ON},
            "resultTypes": ["violations"],
            "preload": {"assets": ["cssom"]},
        }
        found: list[tuple[str, list[int]]] = json.loads(self.page.evaluate(RUN, options))
        return found

    def findings(self, path: str, source: str) -> tuple[PageFinding, ...]:
        """What the proof finds: on the page itself, and of its links those that lead about in it."""
        proof = check_page(path, source.encode(), self.judge)
        links = check_links({path: proof.extract}, self.files, "")
        return (*proof.findings, *(each for each in links if each.check == BROKEN_FRAGMENT.check))

    def close(self) -> None:
        self._context.close()


# How high a link in a line of text is, and what stands above and below it, is known only once lines are laid out: the proof
# judges the size of targets where a stylesheet gives one.
RUN: Final = """async options => {
  const found = await axe.run(options), all = [...document.querySelectorAll('*')]
  const isLaidOut = (rule, element) => rule === 'target-size' && getComputedStyle(element).display === 'inline'
  return JSON.stringify(found.violations.map(each => [
    each.id, each.nodes.map(node => document.querySelector([node.target[0]].flat()[0]))
      .filter(element => !isLaidOut(each.id, element)).map(element => all.indexOf(element))
  ]))
}"""


@pytest.fixture(scope="module")
def bench(browser: Browser, demonstration: Path) -> Iterator[Bench]:
    with served(demonstration.parent) as host:
        opened = Bench(browser, demonstration, host)
        yield opened
        opened.close()


def lines_about(document: Document, place: int) -> set[int]:
    """The lines on which something about an element may be reported: its own, its parts', and of the two elements around it."""
    element = document.elements[place]
    around = list(element.ancestors())[:2]
    inside = (node for node in element.descendants() if isinstance(node, Element))
    return {each.line for each in (element, *around, *inside)}


def missed(
    violations: list[tuple[str, list[int]]], findings: tuple[PageFinding, ...], document: Document
) -> list[str]:
    """The engine's violations that no finding is about."""
    lost = []
    for rule, places in violations:
        if rule in NOT_COVERED:
            continue
        lines = {finding.line for finding in findings if finding.check in ABOUT[rule]}
        if rule in OF_THE_WHOLE_PAGE:
            lost += [] if lines or not places else [rule]
            continue
        for place in places:
            if not lines & lines_about(document, place):
                element = document.elements[place]
                lost.append(f"{rule}: {element!r} {element.attrs}")
    return lost


@pytest.mark.parametrize("name", drawn_kinds())
def test_nothing_is_found_on_a_broken_page_that_we_miss(
    bench: Bench, chance: random.Random, name: str
) -> None:
    lost: list[str] = []
    for _ in range(PAGES_EACH):
        path = chance.choice(bench.pages)
        source = BREAKAGES[name](without_policy((bench.site / path).read_text("utf-8")), chance)
        bench.show(path, source)
        violations, findings = bench.violations(), bench.findings(path, source)
        assert violations or findings, f"{path}: nobody finds anything"
        lost += [f"{path}: {each}" for each in missed(violations, findings, parse(source))]
    assert not lost, "\n".join(lost)


def test_every_rule_of_the_engine_is_covered_or_left_with_a_reason(bench: Bench) -> None:
    bench.show(bench.pages[0], "<!doctype html><title>Words</title>")
    names: Callable[[str], Any] = bench.page.evaluate
    tags = json.dumps(TAGS)
    rules = set(
        names(
            f"axe.getRules({tags}).filter(rule => !rule.tags.some(tag => tag === 'deprecated' || tag === 'experimental'))"
            ".map(rule => rule.ruleId)"
        )
    )
    assert rules | set(SWITCHED_ON) == {*ABOUT, *NOT_COVERED}
    assert not set(ABOUT) & set(NOT_COVERED)


def test_every_check_named_here_is_one_of_the_proofs() -> None:
    assert {check for checks in ABOUT.values() for check in checks} <= OUR_CHECKS
