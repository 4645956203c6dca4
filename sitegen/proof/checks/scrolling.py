"""Boxes that scroll by themselves, and whether a keyboard can reach what is below their edge (WCAG 2.2, criterion 2.1.1).

A box of a fixed height whose content may be longer scrolls with a pointer. A keyboard scrolls it where it, or something in it, can have
the focus; some browsers let the box itself have it, others don't. How long the content is nobody can tell from bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text
from sitegen.proof.styles import at_rest

if TYPE_CHECKING:
    from sitegen.proof.contrast.style import Style

SCROLLS = Rule("scroll-by-keyboard", "2.1.1", "A")

_SCROLLING: Final = frozenset({"auto", "scroll"})
# These scroll by the keyboard by themselves.
_FOCUSED: Final = frozenset({"body", "html", "iframe", "select", "textarea"})
_LEAST_PX: Final = 2.0
"""A box no higher than this hides what it holds; it doesn't scroll it."""


def _check(page: Page) -> Iterator[PageFinding]:
    styles = page.semantics.styles
    if styles.is_plain:
        return
    scrolling = {
        node
        for node, facts in styles.notable.items()
        if facts.is_sized
        and any(
            _scrolls(at_rest(node, number))
            for number, scenario in enumerate(styles.scenarios)
            if scenario.media == "screen"
        )
    }
    if not scrolling:
        return
    for element, node in zip(page.document.elements, styles.nodes, strict=True):
        if (
            node in scrolling
            and element.tag not in _FOCUSED
            and not page.semantics.is_focusable(element)
            and _holds_words_alone(page, element)
        ):
            yield page.unsure(
                SCROLLS,
                element,
                f"This {element.tag} scrolls by itself, and nothing in it can have the focus: a keyboard may not reach its end.",
                'Write tabindex="0" and a name on it, or let it be as high as what it holds.',
            )


def _scrolls(style: Style) -> bool:
    if style.value("overflow-y") not in _SCROLLING or style.value("display") in (
        "none",
        "contents",
        "inline",
    ):
        return False
    heights = [style.length(name) for name in ("height", "max-height")]
    return any(height is not None and height > _LEAST_PX for height in heights)


def _holds_words_alone(page: Page, box: Element) -> bool:
    words = False
    for node in box.descendants():
        if isinstance(node, Text):
            words = words or bool(node.data.strip(WHITESPACE))
        elif page.semantics.is_focusable(node):
            return False
    return words


FAMILY = Family((SCROLLS,), _check)
