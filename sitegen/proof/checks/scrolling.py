"""Boxes that scroll by themselves, and whether a keyboard can reach what is below their edge (WCAG 2.2, criterion 2.1.1).

A box of a fixed height whose content may be longer scrolls with a pointer. A keyboard scrolls it where it, or something in it, can have
the focus; some browsers let the box itself have it, others don't. How long the content is nobody can tell from bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text

SCROLLS = Rule("scroll-by-keyboard", "2.1.1", "A")

# These scroll by the keyboard by themselves.
_FOCUSED: Final = frozenset({"body", "html", "iframe", "select", "textarea"})


def _check(page: Page) -> Iterator[PageFinding]:
    styles = page.semantics.styles
    if styles.is_plain:
        return
    scrolling = {node for node, facts in styles.notable.items() if facts.scrolls}
    if not scrolling:
        return
    for element, _ in styles.with_nodes(scrolling):
        if (
            element.tag not in _FOCUSED
            and not page.semantics.is_focusable(element)
            and _holds_words_alone(page, element)
        ):
            yield page.unsure(
                SCROLLS,
                element,
                f"This {element.tag} scrolls by itself, and nothing in it can have the focus: a keyboard may not reach its end.",
                'Write tabindex="0" and a name on it, or let it be as high as what it holds.',
            )


def _holds_words_alone(page: Page, box: Element) -> bool:
    words = False
    for node in box.descendants():
        if isinstance(node, Text):
            words = words or bool(node.data.strip(WHITESPACE))
        elif page.semantics.is_focusable(node):
            return False
    return words


FAMILY = Family((SCROLLS,), _check)
