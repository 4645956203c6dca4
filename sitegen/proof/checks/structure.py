"""The page as a whole: its doctype, its title, one main part, one first heading, headings in order, landmarks, a skip link."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.aria import LANDMARKS
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text, whole_number

DOCTYPE = Rule("doctype")
TITLE = Rule("page-title", "2.4.2", "A", ("2779a5",))
ONE_TITLE = Rule("one-title")
ONE_MAIN = Rule("one-main")
ONE_FIRST_HEADING = Rule("one-first-heading")
HEADING_ORDER = Rule("heading-order")
LANDMARK_NAMES = Rule("landmark-names")
# These three are ways to pass the last one; none is required by itself.
CONTENT_LANDMARK = Rule("content-landmark", act=("b40fd1",))
CONTENT_HEADING = Rule("content-heading", act=("047fe0",))
SKIP_LINK = Rule("skip-link", act=("ye5d6e",))
BYPASS = Rule("bypass", "2.4.1", "A", ("cf77f2",))

_HEADING_LEVELS: Final = {"h1": 1, "h2": 2, "h3": 3, "h4": 4, "h5": 5, "h6": 6}
# What pages of a site commonly repeat.
_REPEATED: Final = frozenset({"banner", "complementary", "contentinfo", "navigation"})


def _check(page: Page) -> Iterator[PageFinding]:
    document = page.document
    if document.doctype is None or document.doctype.lower() != "html":
        yield page.fails(
            DOCTYPE,
            1,
            "The page does not begin with HTML's doctype.",
            "Write <!doctype html> as the first line.",
        )
    if page.is_drawing:
        return
    yield from _titles(page)
    mains = sorted(page.with_role("main", "main"), key=lambda main: main.offset)
    if not mains:
        yield page.fails(
            ONE_MAIN, document.root, "The page has no main part.", "Put its own content in one main element."
        )
    for extra in mains[1:]:
        yield page.fails(
            ONE_MAIN,
            extra,
            f"The page already has a main part, at line {mains[0].line}.",
            "Keep one main element.",
        )
    headings = sorted(page.with_role("heading", *_HEADING_LEVELS), key=lambda heading: heading.offset)
    yield from _headings(page, headings)
    yield from _landmark_names(page)
    yield from _bypass(page, mains, headings)


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


def _level(heading: Element) -> int:
    # WAI-ARIA 1.2 takes a heading without a level as one of level 2.
    return whole_number(heading.attrs.get("aria-level", "").strip(WHITESPACE)) or _HEADING_LEVELS.get(
        heading.tag, 2
    )


def _headings(page: Page, headings: list[Element]) -> Iterator[PageFinding]:
    levels = [(_level(heading), heading) for heading in headings]
    first = [heading for level, heading in levels if level == 1]
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
    for level, heading in levels:
        if before and level > before + 1:
            yield page.fails(
                HEADING_ORDER,
                heading,
                f"A heading of level {level} follows one of level {before}: a level is left out.",
                f"Make it level {before + 1}.",
            )
        before = level


def _landmark_names(page: Page) -> Iterator[PageFinding]:
    """Landmarks of one kind need names that tell them apart (ARIA Authoring Practices, landmark regions)."""
    seen: dict[tuple[str, str], Element] = {}
    for element in page.document.tagged("nav", "aside", "search", "section", "form"):
        role = page.semantics.role(element)
        if role not in LANDMARKS or page.semantics.is_hidden(element):
            continue
        key = role, page.names.name(element).lower()
        if key in seen:
            yield page.fails(
                LANDMARK_NAMES,
                element,
                f"This {element.tag} has the same name as the one at line {seen[key].line}.",
                "Give each a name of its own with aria-label or aria-labelledby.",
            )
        else:
            seen[key] = element


def _is_repeated(page: Page, element: Element) -> bool:
    return any(page.semantics.role(above) in _REPEATED for above in element.ancestors())


def _bypass(page: Page, mains: list[Element], headings: list[Element]) -> Iterator[PageFinding]:
    """Ways past what pages repeat. Which parts are repeated only other pages tell; what is sure from one page is said."""
    document = page.document
    anchors = document.tagged("a")
    begins = mains[0].offset if mains else len(document.source)
    # On most pages a link comes first, and no more need be known.
    if not any("href" in link.attrs and link.offset < begins for link in anchors) and not any(
        element.offset < begins
        and page.semantics.role(element) in _REPEATED
        and not page.semantics.is_hidden(element)
        for element in [*document.tagged("nav", "header", "aside"), *document.having("role")]
    ):
        return
    landmark = bool(mains)
    if not landmark:
        others = [
            element
            for element in [*document.tagged("section", "form", "search"), *document.having("role")]
            if page.semantics.role(element) in LANDMARKS - _REPEATED and not page.semantics.is_hidden(element)
        ]
        judge = page.unsure if others else page.fails
        yield judge(
            CONTENT_LANDMARK,
            document.root,
            "No landmark holds the page's own content.",
            "Put it in a main element.",
        )
    heading = any(not _is_repeated(page, each) and page.semantics.is_visible(each) for each in headings)
    if not heading:
        yield page.fails(
            CONTENT_HEADING,
            document.root,
            "No heading stands outside the parts that pages repeat.",
            "Begin the page's own content with a heading.",
        )
    skip = any("href" in link.attrs and _leads_past(page, link) for link in anchors)
    scripted = bool(document.tagged("script", "button"))
    if not skip:
        judge = page.unsure if scripted else page.fails
        yield judge(
            SKIP_LINK,
            document.root,
            "No link leads past what pages repeat.",
            'Begin the page with a link such as <a href="#content">.',
        )
    if not (landmark or heading or skip):
        judge = page.unsure if scripted else page.fails
        yield judge(
            BYPASS,
            document.root,
            "Nothing lets a keyboard or a listener get past what pages repeat: no main, no heading, no skip link.",
            "Put the page's own content in a main element that begins with a heading.",
        )


def _leads_past(page: Page, link: Element) -> bool:
    written = link.attrs["href"]
    href = written.strip(WHITESPACE) if "#" in written else ""
    if not href.startswith("#"):
        return False
    target = page.document.ids.get(href[1:])
    if target is None or page.semantics.is_hidden(link):
        return False
    # A link to a part that holds the link itself, or that stands before it, leads past nothing.
    return target.offset > link.offset and _something_between(link, target)


def _something_between(link: Element, target: Element) -> bool:
    """Whether anything is passed over: the target is not the next thing after the link."""
    following: Element | Text | None = link
    parent = link.parent
    while parent is not None:
        place = next(index for index, child in enumerate(parent.children) if child is following)
        for sibling in parent.children[place + 1 :]:
            if isinstance(sibling, Element):
                return sibling is not target
            if sibling.data.strip(WHITESPACE):
                return True
        following, parent = parent, parent.parent
    return False


FAMILY = Family(
    (
        DOCTYPE,
        TITLE,
        ONE_TITLE,
        ONE_MAIN,
        ONE_FIRST_HEADING,
        HEADING_ORDER,
        LANDMARK_NAMES,
        CONTENT_LANDMARK,
        CONTENT_HEADING,
        SKIP_LINK,
        BYPASS,
    ),
    _check,
)
