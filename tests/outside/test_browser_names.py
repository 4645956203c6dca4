"""Names and roles against a browser's own accessibility tree: Chromium's, asked through its debugging protocol."""

from __future__ import annotations

import itertools
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from sitegen.proof.document import parse
from sitegen.proof.names import Names
from sitegen.proof.semantics import Semantics

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CASES = Path(__file__).parents[3] / "shared" / "act" / "cases.json"
pytestmark = pytest.mark.browser

# Roles whose names the specification and Chromium agree to compute. Chromium names no row by its cells, and its own words stand in
# for films it cannot play.
COMPARED = frozenset(
    {
        "button",
        "checkbox",
        "combobox",
        "figure",
        "group",
        "heading",
        "img",
        "link",
        "listbox",
        "menuitem",
        "navigation",
        "radio",
    }
    | {
        "region",
        "searchbox",
        "slider",
        "spinbutton",
        "switch",
        "tab",
        "table",
        "textbox",
        "graphics-document",
    }
)
# What an element inside another's name says by its tooltip alone is left out: the specification counts it, Chromium does not.
CONTENT = (
    "text", "  ", "<b>bold</b>", "<span> spaced </span>", "<div>block</div>", "<br>", "<img src=x alt=picture>", "<img src=x alt=''>",
    "<i hidden>gone</i>", "<i aria-hidden=true>silent</i>", "<i aria-label=label>x</i>", "<svg><title>drawn</title></svg>",
    "<span style='visibility:hidden'>unseen</span>", "<span style='display:inline-block'>inline block</span>", "<p>paragraph</p>",
)  # fmt: skip
HOLDERS = (
    "<a href=x {}>{}</a>", "<button {}>{}</button>", "<h2 {}>{}</h2>", "<label>{1}<input {0}></label>", "<div role=checkbox {}>{}</div>",
    "<fieldset {}><legend>{}</legend><input></fieldset>", "<section {}>{}</section>", "<nav {}>{}</nav>", "<div role=tab {}>{}</div>",
)  # fmt: skip
ATTRIBUTES = (
    "",
    "title=tip",
    "aria-label=said",
    "aria-label=' '",
    "aria-labelledby='one two'",
    "aria-labelledby=none",
    "aria-labelledby=gone",
)
AROUND = "<p id=one>first <u hidden>not</u></p><p id=two hidden>second <u>too</u></p><p id=none></p>"


def pages() -> list[str]:
    chance = random.Random(20_261_125)
    made = [
        holder.format(attributes, "".join(chance.sample(CONTENT, chance.randint(0, 3))))
        for holder, attributes, _ in itertools.product(HOLDERS, ATTRIBUTES, range(4))
    ]
    whole = [
        f"<!doctype html><html lang=en><head><title>t</title></head><body>{AROUND}{''.join(made[start : start + 40])}</body></html>"
        for start in range(0, len(made), 40)
    ]
    if CASES.is_file():
        published = {case["html"] for case in json.loads(CASES.read_text("utf-8"))}
        whole += sorted(html for html in published if "http-equiv" not in html)  # those lead away
    return whole


def elements_of(node: dict[str, Any]) -> Iterator[dict[str, Any]]:
    if node["nodeType"] == 1:
        yield node
    for child in node.get("children", ()):
        yield from elements_of(child)


def test_names_are_the_browsers(browser: Browser) -> None:
    compared, different = 0, []
    with browser.new_context(java_script_enabled=False, offline=True) as context:
        tab = context.new_page()
        session = context.new_cdp_session(tab)
        session.send("Accessibility.enable")
        session.send("DOM.enable")
        for source in pages():
            tab.set_content(source, wait_until="domcontentloaded")
            seen = list(elements_of(session.send("DOM.getDocument", {"depth": -1})["root"]))
            tree = {
                n.get("backendDOMNodeId"): n for n in session.send("Accessibility.getFullAXTree")["nodes"]
            }
            document = parse(source)
            assert [node["localName"].lower() for node in seen] == [
                element.tag for element in document.elements
            ]
            semantics = Semantics(document)
            names = Names(semantics)
            for element, node in zip(document.elements, seen, strict=True):
                exposed = tree.get(node["backendNodeId"])
                if exposed is None or exposed["ignored"] or semantics.role(element) not in COMPARED:
                    continue
                theirs = " ".join(exposed.get("name", {}).get("value", "").split())
                compared += 1
                ours = names.name(element)
                # Chromium stops at an empty label or legend; the computation goes on to the tooltip.
                if theirs != ours and not (not theirs and ours == element.attrs.get("title")):
                    different.append((source[element.offset : element.offset + 90], theirs, ours))
    assert compared > 300
    assert not different, "\n".join(map(repr, different))
