"""An accessibility engine's judgement of every kind of page, in every medium: no violation, and nothing left for
review that is not explained here."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.counts import LONG
from tests.samples.opened_pages import DESK, PHONE, Medium
from tests.samples.served_site import EVERY_KIND, LEAD, pages_to_see

if TYPE_CHECKING:
    from playwright.sync_api import Page, Route

    from tests.samples.opened_pages import Opens

pytestmark = pytest.mark.browser

MEDIA = {
    "light": Medium(),
    "dark": Medium(colours="dark"),
    "paper": Medium(paper=True),
    "forced colours": Medium(forced=True, colours="dark"),
    "phone": Medium(size=PHONE),
}
if LONG:
    MEDIA["forced colours, light"] = Medium(forced=True)
    MEDIA["phone, dark"] = Medium(size=PHONE, colours="dark")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
STRICTER = ["target-size", "color-contrast-enhanced"]
"""Rules that the engine leaves off by itself, and this theme keeps."""

COLOUR_RULES = ["color-contrast", "color-contrast-enhanced", "link-in-text-block"]
"""All that another palette can change."""

EXPLAINED = {
    (
        "th-has-data-cells",
        "table.tide",
    ): "a day heads the rows of its own group, as scope=rowgroup says; the engine follows rows and "
    "columns only",
    (
        "color-contrast",
        ".copy .table",
    ): "a table wider than the screen scrolls in its own box, and the engine does not see through the "
    "box's edge; the same cells are judged on a wide screen",
    (
        "color-contrast",
        ".wide",
    ): "the same, of the desk's wide tables",
    (
        "color-contrast",
        "svg.words",
    ): "the engine does not read what fills the shape under words in a drawing; in every medium test_maps.py computes "
    "their contrast with the plate under them, and that the plate holds them",
}
"""(rule, selector of the elements it could not judge) to the reason why that is no fault. `color-contrast` stands for
the enhanced rule too."""


def judged(page: Page, medium: Medium) -> tuple[list[str], list[str]]:
    """(violations, what the engine could not decide and is not explained), a line for each element."""
    from axe_playwright_python.sync_playwright import Axe

    # Nobody presses or follows a link on paper; and in forced colours the reader's palette, not the theme, owes any contrast beyond AA.
    left = (
        {"target-size", "link-in-text-block"}
        if medium.paper
        else {"color-contrast-enhanced"}
        if medium.forced
        else set()
    )
    every_rule = {"type": "tag", "values": TAGS}
    colours_alone = {"type": "rule", "values": [rule for rule in COLOUR_RULES if rule not in left]}
    palette_alone = medium.size == DESK and (medium.forced or medium.colours == "dark")
    options = {
        "runOnly": colours_alone if palette_alone and not LONG else every_rule,
        "rules": {rule: {"enabled": rule not in left} for rule in {*STRICTER, *left}},
        "resultTypes": ["violations", "incomplete"],
    }
    response = Axe().run(page, options=options).response
    assert response["passes"], "the engine looked at nothing"
    violations = [
        f"{rule['id']}: {node['html'][:200]}: {node['failureSummary'][:300]}"
        for rule in response["violations"]
        for node in rule["nodes"]
    ]
    unsure = [
        f"{rule['id']}: {node['html'][:200]}: {reason(node)}"
        for rule in response["incomplete"]
        for node in rule["nodes"]
        if not is_explained(page, rule["id"], node)
    ]
    return violations, unsure


def reason(node: dict[str, Any]) -> str:
    return "; ".join(check["message"] for check in [*node["any"], *node["all"], *node["none"]])


def is_explained(page: Page, rule: str, node: dict[str, Any]) -> bool:
    inside = "(element, selector) => element.closest(selector) !== null"
    element = page.query_selector(node["target"][0])
    return element is not None and any(
        rule.startswith(name) and element.evaluate(inside, selector) for name, selector in EXPLAINED
    )


@pytest.mark.parametrize("name", MEDIA)
@pytest.mark.parametrize("kind", [kind for kind in EVERY_KIND if kind != LEAD])
def test_nothing_to_object_to(demonstration: Path, opens: Opens, kind: str, name: str) -> None:
    for path in pages_to_see(demonstration, kind):
        page = opens(path, MEDIA[name])
        assert judged(page, MEDIA[name]) == ([], []), f"{path}, {name}"
        page.close()


def test_nothing_to_object_to_where_a_short_address_leads_on(demonstration: Path, opens: Opens) -> None:
    """Such a page leads on at once; it is looked at with its leading taken out."""
    for path in pages_to_see(demonstration, LEAD):
        html = (demonstration / path).read_text("utf-8")
        staying = re.sub('<meta http-equiv="refresh"[^>]*>', "", html)
        assert staying != html
        page = opens("404.html")
        at = opens.address + path.removesuffix("index.html")
        page.route(at, partial(answer, body=staying))
        page.goto(at)
        assert page.url == at
        assert judged(page, Medium()) == ([], []), path
        page.close()


def answer(route: Route, body: str) -> None:
    route.fulfill(body=body, content_type="text/html; charset=utf-8")


@pytest.mark.parametrize(
    ("spoil", "rule"),
    [
        ("document.documentElement.lang = ''", "html-has-lang"),
        ("document.querySelector('.of').style.color = '#bbaa88'", "color-contrast"),
        ("document.querySelector('.lead').style.color = '#77664a'", "color-contrast-enhanced"),
        ("document.querySelectorAll('.ways ul, .ways a').forEach(e => { e.style.cssText = 'display: block; min-height: 0; padding: 0; font: 9px/1 serif'; })", "target-size"),
    ],
)  # fmt: skip
def test_the_engine_sees_what_is_wrong(opens: Opens, spoil: str, rule: str) -> None:
    page = opens("", Medium(size=DESK))
    page.evaluate(f"() => {{ {spoil} }}")
    violations, _ = judged(page, Medium())
    assert any(line.startswith(f"{rule}:") for line in violations)
