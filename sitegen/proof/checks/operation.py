"""What keeps some readers from working a page at all: keys taken twice, maps only a server can read, text that runs or
blinks, and a page that assistive technology is told to pass over.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import Element

ACCESS_KEY = Rule("access-key-once")
SERVER_MAP = Rule("server-side-map", "2.1.1", "A")
MOVING_TEXT = Rule("moving-text", "2.2.2", "A")
PAGE_HIDDEN = Rule("page-hidden", "4.1.2", "A")


def _check(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    first: dict[str, Element] = {}
    for element in document.having("accesskey"):
        for key in element.attrs["accesskey"].lower().split():
            if key in first and not semantics.is_hidden(element):
                yield page.fails(
                    ACCESS_KEY,
                    element,
                    f'The key "{key}" already leads to line {first[key].line}.',
                    "Leave access keys away, or give each one target.",
                )
            first.setdefault(key, element)
    for picture in document.having("ismap"):
        # https://html.spec.whatwg.org/multipage/embedded-content.html#attr-img-ismap
        in_link = any(above.tag == "a" and "href" in above.attrs for above in picture.ancestors())
        if picture.tag == "img" and in_link and not semantics.is_hidden(picture):
            yield page.fails(
                SERVER_MAP,
                picture,
                "Where this map leads depends on the point that is pressed, which a keyboard cannot choose.",
                "Write the places as links, or as areas of a map element.",
            )
    # Failures F4 and F16 of WCAG's techniques; marquee and blink are obsolete in HTML, too.
    for element in document.tagged("blink", "marquee"):
        if not semantics.is_hidden(element):
            yield page.fails(
                MOVING_TEXT, element, f"Text in a {element.tag} cannot be stopped.", "Write it as plain text."
            )
    for body in document.tagged("body")[:1]:
        if body.attrs.get("aria-hidden", "").strip().lower() == "true":
            yield page.fails(
                PAGE_HIDDEN, body, "aria-hidden takes the whole page away from listeners.", "Remove it."
            )


FAMILY = Family((ACCESS_KEY, SERVER_MAP, MOVING_TEXT, PAGE_HIDDEN), _check)
