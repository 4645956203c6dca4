"""Things that sound alike: links and frames of one name that lead to different places, labels that are not in the name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from sitegen.proof.aria import NAMED_BY_CONTENT, WIDGETS
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text, parse
from sitegen.proof.semantics import Semantics

SAME_LINKS = Rule("links-alike", "2.4.9", "AAA", ("b20e66",))
SAME_LINKS_HERE = Rule("links-alike-here", "2.4.4", "A", ("fd3a94",))
SAME_FRAMES = Rule("frames-alike", "4.1.2", "A", ("4b1c6c",))
UNREACHABLE_FRAME = Rule("frame-reachable", "2.1.1", "A", ("akn7bn",))
LABEL_IN_NAME = Rule("label-in-name", "2.5.3", "A", ("2ee8b8",))


def _check(page: Page) -> Iterator[PageFinding]:
    yield from _links(page)
    yield from _frames(page)
    yield from _labels(page)


_SCRIPTED: Final = re.compile(r"location(?:\.href)?\s*=\s*(['\"])(.*?)\1")
# WCAG 2.2, "programmatically determined link context": what tells a listener more about a link.
_CONTEXT: Final = frozenset({"article", "aside", "dd", "li", "nav", "p", "section", "td", "th"})


def _target(link: Element) -> str:
    href = link.attrs.get("href")
    if href is None:
        href = link.attrs.get("xlink:href")
    if href is not None:
        return href.strip(WHITESPACE)
    scripted = _SCRIPTED.search(link.attrs.get("onclick", ""))
    return scripted[2] if scripted else link.attrs.get("onclick", "")


def _context(link: Element) -> tuple[Element | None, str]:
    """The innermost of what tells more: links that share it share all that is around it."""
    around = link.parent
    while around is not None and around.tag not in _CONTEXT:
        around = around.parent
    return around, link.attrs.get("aria-describedby", "")


def _links(page: Page) -> Iterator[PageFinding]:
    firsts: dict[str, Element] = {}
    groups: dict[str, list[Element]] = {}
    links = page.with_role("link", "a", "area")
    for link, written in zip(links, page.names.of(links), strict=True):
        name = written.lower()
        if name and (first := firsts.setdefault(name, link)) is not link:
            if name not in groups:
                groups[name] = [first]
            groups[name].append(link)
    # In the order of the first of each name.
    for name in [name for name in firsts if name in groups] if groups else ():
        links = groups[name]
        first = links[0]
        there = _target(first)
        other = next((link for link in links[1:] if _target(link) != there), None)
        if other is None:
            continue
        yield page.unsure(
            SAME_LINKS,
            other,
            f'Links named "{name}", here and at line {first.line}, lead to different places.',
            "Name them apart unless both places serve the same purpose.",
        )
        yield from _alike_in_one_context(page, name, links)


def _alike_in_one_context(page: Page, name: str, links: list[Element]) -> Iterator[PageFinding]:
    by_context: dict[tuple[Element | None, str], Element] = {}
    for link in links:
        first = by_context.setdefault(_context(link), link)
        if _target(first) != _target(link):
            yield page.unsure(
                SAME_LINKS_HERE,
                link,
                f'Two links named "{name}" stand in one context, here and at line {first.line}, and lead to different places.',
                "Name them apart unless both places serve the same purpose.",
            )
            return


def _frames(page: Page) -> Iterator[PageFinding]:
    first: dict[str, Element] = {}
    for frame in page.document.tagged("iframe"):
        if page.semantics.is_hidden(frame):
            continue
        name = page.names.name(frame).lower()
        if name:
            other = first.setdefault(name, frame)
            if any(other.attrs.get(where, "") != frame.attrs.get(where, "") for where in ("src", "srcdoc")):
                yield page.unsure(
                    SAME_FRAMES,
                    frame,
                    f'This frame has the same name as the one at line {other.line}, "{name}", and holds something else.',
                    "Name them apart unless both serve the same purpose.",
                )
        position = frame.attrs.get("tabindex", "").strip(WHITESPACE)
        if position.startswith("-") and position[1:].isdigit() and page.semantics.is_visible(frame):
            yield from _unreachable(page, frame)


def _unreachable(page: Page, frame: Element) -> Iterator[PageFinding]:
    if "srcdoc" in frame.attrs:
        inner = Semantics(parse(frame.attrs["srcdoc"]))
        if not any(inner.takes_tab_focus(element) for element in inner.document.elements):
            return
        judge = page.fails
    elif frame.attrs.get("src", "").strip(WHITESPACE):
        judge = page.unsure
    else:
        return
    yield judge(
        UNREACHABLE_FRAME,
        frame,
        "The keyboard cannot reach what stands in this frame: its tabindex is negative.",
        "Take away tabindex.",
    )


# Speech input: what is read on a control must be part of what it is called.

_NAMED: Final = (NAMED_BY_CONTENT & WIDGETS) - {"gridcell"}
_IN_BRACKETS: Final = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_WORD: Final = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Scripts that write no spaces between words.
_NO_SPACES: Final = re.compile(
    "[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uf900-\ufaff]"
)
_BLOCKS: Final = frozenset(
    {
        "blockquote",
        "br",
        "dd",
        "div",
        "dl",
        "dt",
        "figcaption",
        "figure",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "hr",
        "li",
        "ol",
    }
    | {"p", "pre", "table", "td", "th", "tr", "ul"}
)


def _labels(page: Page) -> Iterator[PageFinding]:
    document = page.document
    labelled = document.having("aria-labelledby")
    for element in [*document.having("aria-label"), *(e for e in labelled if "aria-label" not in e.attrs)]:
        if page.semantics.role(element) not in _NAMED or page.semantics.is_hidden(element):
            continue
        label, name = _visible_text(page, element), page.names.name(element)
        if name and not is_label_in_name(label, name) and not _is_icon_font(page, element):
            yield page.fails(
                LABEL_IN_NAME,
                element,
                f'On this {element.tag} stands "{" ".join(label.split())}", but it is called "{name}".',
                "Begin the name with the words that can be seen.",
            )


def is_label_in_name(label: str, name: str) -> bool:
    """Whether the words of a visible label stand in a name, together and in their order.

    Letters' case, punctuation and what stands in brackets don't count; nor do one-letter labels, used as signs, and words written with or
    without hyphens. A word shortened with a full stop counts as its longer form.
    """
    label, name = (
        _IN_BRACKETS.sub(" ", label.lower()),
        _IN_BRACKETS.sub(" ", name.lower()) + " " + name.lower(),
    )
    if _NO_SPACES.search(label):
        return "".join(_WORD.findall(label)) in "".join(_WORD.findall(name))
    for join in (" ", ""):
        joined = label.replace("-", join)
        wanted = [
            (found[0], joined[found.end() : found.end() + 1] == ".") for found in _WORD.finditer(joined)
        ]
        if not wanted or (len(wanted) == 1 and len(wanted[0][0]) == 1):
            return True
        has = _WORD.findall(name.replace("-", join))
        for start in range(len(has) - len(wanted) + 1):
            if all(
                word == there or (shortened and there.startswith(word))
                for (word, shortened), there in zip(wanted, has[start:], strict=False)
            ):
                return True
    return False


# Letters that a font draws as signs; common practice, no source.
_ICON: Final = re.compile(r"(?:^|[\s_-])(?:icons?|glyphicon|symbols?)(?:$|[\s_-])")


def _visible_text(page: Page, element: Element) -> str:
    parts: list[str] = []
    waiting: list[Element | str] = [element]
    while waiting:
        node = waiting.pop()
        if isinstance(node, str):
            parts.append(node)
            continue
        # What is made visible again inside something invisible is not looked for: no control is written so.
        if node is not element and (
            not page.semantics.is_visible(node) or _ICON.search(node.attrs.get("class", ""))
        ):
            continue
        display = page.semantics.styles.display(node)
        space = " " if (display not in {"inline", "contents"} if display else node.tag in _BLOCKS) else ""
        parts.append(space)
        waiting.append(space)
        waiting.extend(child.data if isinstance(child, Text) else child for child in reversed(node.children))
    return "".join(parts)


def _is_icon_font(page: Page, element: Element) -> bool:
    """Whether its letters are drawn as signs: a font that calls itself icons or symbols."""
    styles = page.semantics.styles
    if styles.is_plain:
        return False
    for each in (
        element,
        *element.ancestors(),
        *(d for d in element.descendants() if isinstance(d, Element)),
    ):
        family = styles.font_family(each)
        if "icon" in family or "symbol" in family or "glyph" in family:
            return True
    return False


FAMILY = Family((SAME_LINKS, SAME_LINKS_HERE, SAME_FRAMES, UNREACHABLE_FRAME, LABEL_IN_NAME), _check)
