"""The page as a whole: its doctype, its title, one main part, one first heading, headings in order."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element

DOCTYPE = Rule("doctype")
TITLE = Rule("page-title", "2.4.2", "A", ("2779a5",))
ONE_TITLE = Rule("one-title")
ONE_MAIN = Rule("one-main")
ONE_FIRST_HEADING = Rule("one-first-heading")
HEADING_ORDER = Rule("heading-order")

HEADING_LEVELS = {"h1": 1, "h2": 2, "h3": 3, "h4": 4, "h5": 5, "h6": 6}


def _check(page: Page) -> Iterator[PageFinding]:
    document = page.document
    if document.doctype is None or document.doctype.lower() != "html":
        yield page.fails(
            DOCTYPE,
            1,
            "The page does not begin with HTML's doctype.",
            "Write <!doctype html> as the first line.",
        )
    yield from _titles(page)
    yield from _mains(page)
    yield from _headings(page)


def _titles(page: Page) -> Iterator[PageFinding]:
    titles = [title for title in page.document.tagged("title") if title.namespace == "html"]
    # document.title is the first title element's text (https://html.spec.whatwg.org/multipage/dom.html#document.title).
    if not titles:
        yield page.fails(
            TITLE, page.document.root, "The page has no title.", "Put a title element in its head."
        )
    elif not titles[0].text().strip(WHITESPACE):
        yield page.fails(TITLE, titles[0], "The page's title is empty.", "Say in it what this page is about.")
    for extra in titles[1:]:
        yield page.fails(ONE_TITLE, extra, "This is a second title; only the first one counts.", "Keep one.")


def _mains(page: Page) -> Iterator[PageFinding]:
    mains = [
        main
        for main in page.document.tagged("main")
        if main.attrs.get("role", "main").strip() in ("main", "")
    ]
    mains += [
        element
        for element in page.document.having("role")
        if element.tag != "main" and element.attrs["role"].strip().lower() == "main"
    ]
    shown = [main for main in mains if "hidden" not in main.attrs]
    if not shown:
        yield page.fails(
            ONE_MAIN,
            page.document.root,
            "The page has no main part.",
            "Put its own content in one main element.",
        )
    for extra in shown[1:]:
        yield page.fails(
            ONE_MAIN,
            extra,
            f"The page already has a main part, at line {shown[0].line}.",
            "Keep one main element.",
        )


def _headings(page: Page) -> Iterator[PageFinding]:
    levels: list[tuple[int, Element]] = []
    for tag, level in HEADING_LEVELS.items():
        levels += [(level, heading) for heading in page.document.tagged(tag) if "role" not in heading.attrs]
    for element in page.document.having("role"):
        if element.attrs["role"].strip(WHITESPACE).lower() == "heading":
            written = element.attrs.get("aria-level", "")
            # ARIA 1.2 gives heading the level 2 where none is written.
            levels.append(
                (int(written) if written.isdecimal() else HEADING_LEVELS.get(element.tag, 2), element)
            )
    levels.sort(key=lambda entry: entry[1].offset)
    first = [element for level, element in levels if level == 1]
    if not first:
        yield page.fails(
            ONE_FIRST_HEADING,
            page.document.root,
            "The page has no h1.",
            "Begin its main part with an h1 that names it.",
        )
    for extra in first[1:]:
        yield page.fails(
            ONE_FIRST_HEADING,
            extra,
            f"The page already has an h1, at line {first[0].line}.",
            "Make this an h2.",
        )
    before = 0
    for level, element in levels:
        if before and level > before + 1:
            yield page.fails(
                HEADING_ORDER,
                element,
                f"A heading of level {level} follows one of level {before}: a level is left out.",
                f"Make it level {before + 1}.",
            )
        before = level


FAMILY = Family((DOCTYPE, TITLE, ONE_TITLE, ONE_MAIN, ONE_FIRST_HEADING, HEADING_ORDER), _check)
