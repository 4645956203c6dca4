"""Landmarks: where they may stand, how many there may be, and what is left outside of all of them.

The ARIA Authoring Practices on landmark regions (https://www.w3.org/WAI/ARIA/apg/practices/landmark-regions/) ask for this;
no success criterion does.
"""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter
from typing import Final

from sitegen.proof.aria import LANDMARKS
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text

PLACE = Rule("landmark-place")
ONCE = Rule("landmark-once")
OUTSIDE = Rule("outside-landmarks")

_OF_THE_PAGE: Final = frozenset({"banner", "contentinfo", "main"})
_MAKERS: Final = ("aside", "footer", "form", "header", "main", "nav", "search", "section")
# What a reader is led to or told of by itself.
_APART: Final = frozenset({"alert", "alertdialog", "dialog", "log", "status"})
_SEEN_WITHOUT_WORDS: Final = frozenset(
    {"audio", "button", "canvas", "iframe", "img", "input", "select", "textarea", "video"}
)
_WITHOUT_PLACE: Final = frozenset({"link", "meta", "noscript", "script", "style", "template"})


def _check(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    found = dict.fromkeys([*document.tagged(*_MAKERS), *document.having("role")])
    landmarks = {
        element: role
        for element in sorted(found, key=attrgetter("offset"))
        if (role := semantics.role(element)) in LANDMARKS and not semantics.is_hidden(element)
    }
    for element, role in landmarks.items():
        if role not in _OF_THE_PAGE:
            continue
        around = next((above for above in element.ancestors() if above in landmarks), None)
        if around is not None:
            yield page.fails(
                PLACE,
                element,
                f"This {role} stands inside another part of the page, the {landmarks[around]} at line {around.line}.",
                f"Put it beside the {landmarks[around]}, or take its role away.",
            )
    for role in ("banner", "contentinfo"):
        several = [element for element, its_role in landmarks.items() if its_role == role]
        for extra in several[1:]:
            yield page.fails(
                ONCE,
                extra,
                f"The page already has a {role}, at line {several[0].line}.",
                "Keep one, and make this a part of it or of the main part.",
            )
    if "main" in landmarks.values():
        yield from _outside(page, landmarks)


def _outside(page: Page, landmarks: dict[Element, str]) -> Iterator[PageFinding]:
    """What a listener who goes from landmark to landmark never meets. Without a main part, that is said already."""
    holders: set[Element] = set()
    for element in landmarks:
        above = element.parent
        while above is not None and above not in holders:
            holders.add(above)
            above = above.parent
    waiting: list[Element] = page.document.tagged("body")[:1]
    while waiting:
        element = waiting.pop()
        if any(isinstance(child, Text) and child.data.strip(WHITESPACE) for child in element.children):
            yield _left_out(page, element)
            continue
        for child in element.children:
            if isinstance(child, Text) or child in landmarks or child.tag in _WITHOUT_PLACE:
                continue
            if child in holders:
                waiting.append(child)
            elif not _stands_apart(page, child) and _is_met(page, child):
                yield _left_out(page, child)


def _left_out(page: Page, element: Element) -> PageFinding:
    return page.fails(
        OUTSIDE,
        element,
        f"This {element.tag} lies outside of the page's parts: header, navigation, main part, footer.",
        "Put it inside one of them.",
    )


def _stands_apart(page: Page, element: Element) -> bool:
    if page.semantics.is_hidden(element) or page.semantics.role(element) in _APART:
        return True
    # A link past all that follows belongs before everything else.
    return element.tag == "a" and element.attrs.get("href", "").startswith("#")


def _is_met(page: Page, element: Element) -> bool:
    for node in (element, *element.descendants()):
        if isinstance(node, Text):
            if (
                node.data.strip(WHITESPACE)
                and node.parent is not None
                and not page.semantics.is_hidden(node.parent)
            ):
                return True
        elif (
            node.tag in _SEEN_WITHOUT_WORDS
            and node.attrs.get("alt") != ""
            and not page.semantics.is_hidden(node)
        ):
            return True
    return False


FAMILY = Family((PLACE, ONCE, OUTSIDE), _check)
