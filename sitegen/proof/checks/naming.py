"""Names: what a listener hears for each picture and link."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text

PICTURE = Rule("picture-name", "1.1.1", "A")
LINK = Rule("link-name", "2.4.4", "A")


def _check(page: Page) -> Iterator[PageFinding]:
    for picture in page.document.tagged("img"):
        if "alt" not in picture.attrs and not _labelled(picture):
            yield page.fails(
                PICTURE,
                picture,
                "This picture has no alt.",
                'Say what it shows, or alt="" where it only decorates.',
            )
    for link in page.document.tagged("a"):
        if "href" in link.attrs and not _labelled(link) and not _has_words(link):
            yield page.fails(LINK, link, "This link has no name.", "Put words in it that say where it leads.")


def _labelled(element: Element) -> bool:
    return any(
        element.attrs.get(name, "").strip(WHITESPACE) for name in ("aria-label", "aria-labelledby", "title")
    )


def _has_words(element: Element) -> bool:
    for node in element.descendants():
        if isinstance(node, Text):
            if node.data.strip(WHITESPACE):
                return True
        elif node.attrs.get("alt") or _labelled(node):
            return True
    return False


FAMILY = Family((PICTURE, LINK), _check)
